"""A valve's sheet in a report: what is wrong, how sure, why, what next; and the one line of a valve that needs none."""

from fifthwire.assessment.blocks import Facts, Items, Labelled, Paragraph, Row, Sheet
from fifthwire.assessment.content_windings import (
    guard_words,
    ohms_shown,
    shared_decimals,
    spec_words,
    winding_blocks,
    winding_zone,
)
from fifthwire.assessment.figures import counted, difference, listed, number, temperature
from fifthwire.assessment.marks import BAD, GOOD, PROBABLE, mark_of
from fifthwire.assessment.measured import judged_state, spec_c, spec_of
from fifthwire.assessment.valve_words import (
    action_words,
    cause_words,
    meanwhile_words,
    place_words,
    sentence,
    urgency_words,
)
from fifthwire.model.assessment import ValveAssessment
from fifthwire.model.reasons import CAUTIONS, CHECKS, RISKS, say
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit
from fifthwire.model.words import word

EMPTY = "–"


def needs_a_sheet(valve: ValveAssessment) -> bool:
    """Whether a valve needs more than a line: a fault, or readings that do not say what they should.

    Parameters
    ----------
    valve : ValveAssessment
        As assessed.
    """
    if mark_of(valve) is GOOD:
        return False
    is_open_question = valve.winding.verdict in ("faulty", "undecided")
    return mark_of(valve) in (BAD, PROBABLE) or is_open_question or valve.action not in ("keep", "watch", "check-more")


def valve_row(valve: ValveAssessment, record: Valve, anchor: str) -> Row:
    """A valve's line in the table of valves: mark, label, cause, action, urgency, meanwhile."""
    mark = mark_of(valve)
    cells = (
        mark.word,
        valve.id,
        capital(cause_words(valve, record) or _open_question(valve)) or EMPTY,
        capital(action_words(valve, record)),
        urgency_words(valve) or EMPTY,
        meanwhile_words(valve) or EMPTY,
    )
    return Row(cells=cells, mark=mark.key, anchor=anchor)


def _open_question(valve: ValveAssessment) -> str:
    """What keeps a valve from being called good."""
    if mark_of(valve) is GOOD:
        return ""
    of_windings = {"sound": "windings good, the rest not shown", "not-measured": "windings not measured"}
    return of_windings.get(valve.winding.verdict, "windings not proven")


def valve_sheet(visit: Visit, record: Valve, valve: ValveAssessment, anchor: str, units: str) -> Sheet:
    """The sheet of one valve.

    Parameters
    ----------
    visit : Visit
        Holds the spec, the meter, the work and the notes.
    record : Valve
        As written.
    valve : ValveAssessment
        As assessed.
    anchor : str
        Of its heading.
    units : str
        "si" or "us".
    """
    mark = mark_of(valve)
    return Sheet(
        anchor=anchor,
        heading=valve.id,
        mark=mark.key,
        mark_word=mark.word,
        place=place_words(record),
        pictures=winding_blocks(visit, record, valve, units),
        words=(
            *_verdict(record, valve),
            *_why(valve),
            *_what_to_do(record, valve),
            *_next(valve),
            Facts(facts=_facts(visit, record, valve, units)),
            *_remarks(visit, valve),
        ),
    )


def _verdict(record: Valve, valve: ValveAssessment) -> tuple[Paragraph, ...]:
    cause = cause_words(valve, record)
    said = [f"{capital(cause)}." if cause else f"{capital(word(valve.winding.verdict))} by its windings."]
    if valve.meanwhile != "none":
        said.append(f"Until it is done: {meanwhile_words(valve)}.")
    return (Paragraph(text=" ".join(said), tone="lead"),)


def _why(valve: ValveAssessment) -> tuple[Items, ...]:
    return (Items(label="Why", texts=tuple(sentence(one) for one in valve.reasons)),) if valve.reasons else ()


def _what_to_do(record: Valve, valve: ValveAssessment) -> tuple[Items, ...]:
    when = f" ({urgency_words(valve)})" if valve.urgency != "none" else ""
    steps = [f"{capital(action_words(valve, record))}{when}.", *_part(record, valve)]
    cautions = tuple(say(CAUTIONS, code) for code in valve.cautions)
    boxed = (Items(label="Before you touch it", texts=cautions, tone="caution"),) if cautions else ()
    return (*boxed, Items(label="Do", texts=tuple(steps)))


def _part(record: Valve, valve: ValveAssessment) -> list[str]:
    if valve.action not in ("replace-head", "replace-body"):
        return []
    if record.part_label:
        return [f"Part: as the label reads, {record.part_label}."]
    return ["Part: read the label on the old one first; it was not noted."]


def _next(valve: ValveAssessment) -> tuple[Items, ...]:
    check = valve.next_check
    if check is None:
        return ()
    said = [say(CHECKS, check.check, check.values)]
    about = [f"about {counted(round(check.minutes), 'minute')}"] if check.minutes else []
    about += ["with the system stopped"] if check.is_system_stopped else []
    if about:
        said.append(f"{capital(', '.join(about))}.")
    if check.risk:
        said.append(say(RISKS, check.risk))
    return (Items(label="Check next", texts=tuple(said)),)


def _facts(visit: Visit, record: Valve, valve: ValveAssessment, units: str) -> tuple[Labelled, ...]:
    state, spec = judged_state(record), spec_of(visit, record)
    facts = []
    if spec is not None and record.spec is not None:
        facts.append(Labelled(label="Spec", text=spec_words(record.spec, spec, units)))
        guard = guard_words(valve, spec, units)
        facts += [Labelled(label="Pass or fail", text=guard)] if guard else []
    elif state is not None:
        facts.append(Labelled(label="Spec", text="none given; the windings are compared with one another only"))
    if state is not None:
        facts.append(Labelled(label="Read", text=f"{state.words}, with {state.meter_name or 'a meter not named'}"))
        facts.append(Labelled(label="Head", text=_head_temperature(record, state.head_c, units)))
    if valve.winding.common:
        facts.append(Labelled(label="Common", text=_common(record, valve)))
    if record.insulation is not None:
        facts.append(Labelled(label="Insulation", text=_insulation(record)))
    return tuple(facts)


def _head_temperature(record: Valve, head_c: float | None, units: str) -> str:
    if head_c is None:
        return f"temperature not taken: anywhere from {temperature(-15.0, units)} to {temperature(75.0, units)}"
    within = record.head_temperature_within_k
    how = f" ({word(record.head_temperature_from)})" if record.head_temperature_from else ""
    spread = f", within {difference(within, units)}" if within is not None else ""
    return f"{temperature(head_c, units)}{spread}{how}"


def _common(record: Valve, valve: ValveAssessment) -> str:
    wires = " and ".join(valve.winding.common[0].wires)
    if record.common:
        return f"{' and '.join(record.common)}, as stated"
    sure = "sure" if valve.winding.common[0].probability >= 0.95 else "not proven"
    return f"{wires} ({sure}, from the readings)"


def _insulation(record: Valve) -> str:
    measured = record.insulation
    if measured is None:
        return EMPTY
    over = "over " if measured.is_at_least else ""
    with_what = f", tested with {record.insulation_test}" if record.insulation_test else ""
    return f"{over}{measured.mohm:g}\u2009MΩ to the metal of the head{with_what}"


def _remarks(visit: Visit, valve: ValveAssessment) -> tuple[Paragraph, ...]:
    doubts = [Paragraph(text=f"Doubt: {sentence(one)}") for one in valve.doubts]
    notes = [
        Paragraph(text=f"Note: {one.text}", tone="struck" if one.is_void else "plain")
        for one in visit.notes
        if one.about == valve.id
    ]
    return (*doubts, *notes)


def windings_line(visit: Visit, record: Valve, valve: ValveAssessment, units: str) -> tuple[str, str]:
    """The windings of a valve in one line, and what comes of them against the spec.

    Parameters
    ----------
    visit : Visit
        Holds the spec.
    record : Valve
        As written.
    valve : ValveAssessment
        As assessed.
    units : str
        "si" or "us".

    Returns
    -------
    tuple of str
        ("61.9  62.1  62.0 ± 0.5 Ω at 20 °C", "pass").
    """
    spec = spec_of(visit, record)
    windings = [one for one in valve.winding.windings if one.ohm is not None]
    if not windings:
        return EMPTY, EMPTY
    at_spec = [one for one in windings if one.ohm_at_spec is not None]
    if spec is not None and len(at_spec) == len(windings):
        where = f" at {temperature(spec_c(spec), units)}"
        values = [(one.ohm_at_spec or 0.0, one.u_ohm_at_spec) for one in windings]
    else:
        where = ""
        values = [(one.ohm or 0.0, one.u_ohm) for one in windings]
    decimals = shared_decimals([u for _, u in values])
    known = [u for _, u in values if u is not None]
    shown = "  ".join(number(ohm, decimals) for ohm, _ in values)
    zones = {winding_zone(one, spec) for one in windings}
    return ohms_shown(shown, number(max(known), decimals) if known else None) + where, _worst(zones)


def _worst(zones: set[str]) -> str:
    for zone, words in (("fail", "fail"), ("not-proven", "not proven"), ("", EMPTY), ("pass", "pass")):
        if zone in zones:
            return words
    return EMPTY


def looked_at(record: Valve) -> str:
    """What was looked at beside the windings, in a few words."""
    parts = (("inspected", record.inspection), ("movement", record.movement), ("board's output", record.board))
    return listed([name for name, part in parts if part is not None], most=3) or "windings only"


def capital(text: str) -> str:
    """A sentence begins with a capital, whatever it begins with."""
    return text[:1].upper() + text[1:]
