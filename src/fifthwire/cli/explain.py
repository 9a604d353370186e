"""`fifthwire assess --explain VALVE`: every fact and how far it moved the odds, and each reading in turn."""

from collections.abc import Iterator
from math import exp, isinf

from fifthwire.assessment.figures import counted, temperature
from fifthwire.assessment.marks import mark_of
from fifthwire.assessment.valve_words import (
    action_words,
    cause_words,
    meanwhile_words,
    place_words,
    sentence,
    urgency_words,
)
from fifthwire.cli.running import running_of_valve
from fifthwire.cli.terminal import Terminal
from fifthwire.model.assessment import CauseProbability, NextCheck, Reason, ValveAssessment
from fifthwire.model.reasons import CAUTIONS, CHECKS, RISKS, say
from fifthwire.model.valve import PairReading, Valve
from fifthwire.model.words import word
from fifthwire.workflow.explaining import ReadingStep, readings_in_turn
from fifthwire.workflow.visits import AssessedVisit

NARROWEST_COLUMN = 40
"""The last column of a row is continued under itself where it has so much room."""
TELLS_NEXT_TO_NOTHING = 0.02
"""A reading expected to tell less is asked for only where a winding was never read.  [bit]"""

SMALLEST_SHOWN = 0.0005
"""Causes below this are summed up in one line: a page of noughts explains nothing."""


def explanation(assessed: AssessedVisit, label: str, screen: Terminal, *, units: str = "si") -> list[str]:
    """The lines that explain the verdict of one valve.

    Parameters
    ----------
    assessed : AssessedVisit
        The visit and its assessment.
    label : str
        Of the valve.
    screen : Terminal
        Where they are shown.
    units : str
        "si" or "us".
    """
    record = next(valve for valve in assessed.visit.valves if valve.id == label)
    valve = next(valve for valve in assessed.assessment.valves if valve.id == label)
    steps = readings_in_turn(assessed, label)
    parts = (
        _verdict(valve, record, units),
        _causes("Causes", valve.causes),
        _facts(valve),
        _running(assessed, record, units),
        _causes("Of the windings", valve.winding.causes),
        _commons(valve),
        _in_turn(valve, steps),
        _windings(valve, record, assessed, units),
        _next(valve),
        _listed("Doubtful", valve.doubts),
        _listed("Not checked", valve.not_checked),
        [("", "Cautions"), *(("  ", say(CAUTIONS, code)) for code in valve.cautions)] if valve.cautions else [],
    )
    lines: list[str] = []
    for part in parts:
        if part:
            lines += [""] if lines else []
            lines += [line for indent, text in part for line in _fitted(indent, text, screen)]
    return lines


Lines = list[tuple[str, str]]
"""Each with its indent."""


def _fitted(indent: str, text: str, screen: Terminal) -> list[str]:
    """The text in lines that fit; the last column of a row of a table is continued under itself."""
    if screen.width is None or len(indent) + len(text) <= screen.width:
        return [indent + text]
    start, gap, last = text.rpartition("   ")
    room = screen.width - len(indent + start + gap)
    if not gap or room < NARROWEST_COLUMN:
        return screen.wrapped(text, indent=indent)
    column = Terminal(stream=screen.stream, width=room, is_plain=screen.is_plain, is_bold=False)
    first, *rest = column.wrapped(last)
    return [indent + start + gap + first, *(" " * len(indent + start + gap) + line for line in rest)]


def _verdict(valve: ValveAssessment, record: Valve, units: str) -> Lines:
    cause = cause_words(valve, record)
    said = [f"{mark_of(valve).word.capitalize()}.", f"{cause[0].upper()}{cause[1:]}." if cause else ""]
    does = [action_words(valve, record), urgency_words(valve), meanwhile_words(valve)]
    lines = [("", f"{valve.id}: {place_words(record)}"), ("", " ".join(part for part in said if part))]
    lines.append(("", f"To do: {', '.join(part for part in does if part)}."))
    if record.head_temperature_c is not None:
        lines.append(("", f"Head temperature: {temperature(record.head_temperature_c, units, 1)}."))
    return lines


def _causes(title: str, causes: tuple[CauseProbability, ...]) -> Lines:
    if not causes:
        return []
    shown = [cause for cause in causes if cause.probability >= SMALLEST_SHOWN]
    width = max(len(_named(cause)) for cause in shown)
    lines = [("", title)]
    lines += [("  ", f"{_named(cause).ljust(width)}   {cause.probability:8.2%}") for cause in shown]
    if len(shown) < len(causes):
        rest = sum(cause.probability for cause in causes) - sum(cause.probability for cause in shown)
        lines.append(("  ", f"{'all others together'.ljust(width)}   {rest:8.2%}"))
    return lines


def _named(cause: CauseProbability) -> str:
    return word(cause.cause) + (f" ({', '.join(cause.wires)})" if cause.wires else "")


def _facts(valve: ValveAssessment) -> Lines:
    facts = valve.facts or valve.reasons
    if not facts:
        return [("", "Nothing was measured or looked at.")]
    leading = word(valve.causes[0].cause) if valve.causes else "the leading cause"
    rows: Iterator[tuple[str, str]] = (("  ", f"{_factor(fact.log_odds):>10}   {sentence(fact)}") for fact in facts)
    return [("", f"Every fact, and how far it moved the odds of: {leading}"), *rows]


def _running(assessed: AssessedVisit, record: Valve, units: str) -> Lines:
    told = running_of_valve(assessed, record, units=units)
    return [("", "While it ran"), *(("  ", text) for text in told)] if told else []


def _factor(log_odds: float | None) -> str:
    """How far odds moved, as a factor a person can follow.

    >>> _factor(9.2), _factor(-0.7), _factor(0.001), _factor(None)
    ('x 9900', '/ 2.0', 'no change', '')
    """
    if log_odds is None:
        return ""
    if isinf(log_odds):
        return "excluded" if log_odds < 0.0 else "decided"
    if abs(log_odds) < 0.005:
        return "no change"
    factor = exp(min(abs(log_odds), 30.0))
    shown = f"{factor:.1f}" if factor < 100.0 else f"{round(factor, 2 - len(str(int(factor)))):.0f}"
    return f"{'x' if log_odds > 0.0 else '/'} {shown if factor < 1e6 else 'over 1000000'}"


def _commons(valve: ValveAssessment) -> Lines:
    commons = [of for of in valve.winding.common if of.probability >= SMALLEST_SHOWN]
    rows = [("  ", f"{' and '.join(of.wires):<12}   {of.probability:8.2%}") for of in commons]
    return [("", "Common wire"), *rows] if commons else []


def _in_turn(valve: ValveAssessment, steps: tuple[ReadingStep, ...]) -> Lines:
    if not steps:
        return []
    leading = _named(valve.winding.causes[0])
    rows = []
    for step in steps:
        leads = step.finding.causes[0] if step.finding.causes else None
        shows = f"{step.reading.wire_a} to {step.reading.wire_b}: {_ohm(step.reading)}"
        then = f"{_named(leads)} {leads.probability:.1%}" if leads else "no verdict"
        rows.append((shows, _factor(step.log_odds), f"{step.leading_probability:.2%}", then))
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    lines = [("", f"Each reading in turn: how far it moved the odds of {leading}, where they stand then, what leads")]
    for shows, moved, stands, then in rows:
        lines.append(
            ("  ", f"{shows.ljust(widths[0])}   {moved.rjust(widths[1])}   {stands.rjust(widths[2])}   {then}")
        )
    return lines


def _ohm(reading: PairReading) -> str:
    return "open" if reading.ohm is None else f"{reading.ohm:g} Ω"


def _windings(valve: ValveAssessment, record: Valve, assessed: AssessedVisit, units: str) -> Lines:
    if not valve.winding.windings:
        return []
    spec = assessed.visit.specs.get(record.spec or "")
    at = f", and at {temperature(spec.at_c if spec.at_c is not None else 20.0, units)}" if spec else ""
    lines = [("", f"Each winding at the head's temperature{at}")]
    for winding in valve.winding.windings:
        now, then = _estimate(winding.ohm, winding.u_ohm), _estimate(winding.ohm_at_spec, winding.u_ohm_at_spec)
        lines.append(("  ", f"{' to '.join(winding.wires):<12}   {now:<20}   {then}".rstrip()))
    return lines


def _estimate(ohm: float | None, u_ohm: float | None) -> str:
    if ohm is None:
        return "-"
    return f"{ohm:.2f} ± {u_ohm:.2f} Ω" if u_ohm is not None else f"{ohm:.2f} Ω"


def _next(valve: ValveAssessment) -> Lines:
    lines: Lines = []
    following = valve.winding.next_reading
    if following is not None:
        touch = f"Next reading: touch {following.wires[0]} and {following.wires[1]}"
        lines.append(("", f"{touch} ({following.gain_bits:.2f} bit)."))
        if following.gain_bits < TELLS_NEXT_TO_NOTHING:
            lines.append(("  ", "Expected to change nothing; but no head is called good with a winding never read."))
    if valve.next_check is not None:
        lines += _check(valve.next_check)
    return lines


def _check(check: NextCheck) -> Lines:
    stops = "the system stopped" if check.is_system_stopped else "the system may run"
    about = counted(round(check.minutes), "minute")
    lines = [("", f"Next check: {say(CHECKS, check.check, check.values)} About {about}, {stops}.")]
    if check.risk:
        lines.append(("  ", say(RISKS, check.risk)))
    return lines


def _listed(title: str, reasons: tuple[Reason, ...]) -> Lines:
    return [("", title), *(("  ", sentence(reason)) for reason in reasons)] if reasons else []
