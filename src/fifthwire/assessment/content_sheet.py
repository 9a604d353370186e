"""A valve's sheet in a report: what is wrong, how sure, why, what next; and the one line of a valve that needs none."""

from fifthwire.assessment.blocks import Facts, Items, Labelled, Paragraph, Row, Sheet
from fifthwire.assessment.conditions import head_temperature, spec_law
from fifthwire.assessment.conformity import conformity_of
from fifthwire.assessment.consequences import consequence_of
from fifthwire.assessment.content_windings import (
    ZONE_WORDS,
    guard_words,
    shared_decimals,
    spec_of,
    spec_words,
    winding_blocks,
)
from fifthwire.assessment.figures import NO_BREAK_SPACE, counted, difference, number, temperature
from fifthwire.assessment.marks import BAD, GOOD, PROBABLE, mark_of
from fifthwire.assessment.measured import meter_words_of, state_words
from fifthwire.assessment.valve_words import (
    action_words,
    cause_words,
    meanwhile_words,
    place_words,
    sentence,
    urgency_words,
)
from fifthwire.assessment.windings import judged_measurement
from fifthwire.model.assessment import ValveAssessment
from fifthwire.model.reasons import CAUTIONS, CHECKS, RISKS, say
from fifthwire.model.valve import Measurement, Valve
from fifthwire.model.visit import Visit
from fifthwire.model.words import word

EMPTY = "–"
IF_LEFT = "If it is left (simulated)"


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


def valve_row(valve: ValveAssessment, record: Valve, anchor: str, units: str) -> Row:
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
    doubt = " ".join(sentence(one, units) for one in valve.doubts)
    return Row(cells=cells, mark=mark.key, anchor=anchor, doubt=doubt)


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
    facts = _facts(visit, record, valve, units)
    with_words, with_pictures = ((), (facts,)) if valve.winding.verdict == "sound" else ((facts,), ())
    return Sheet(
        anchor=anchor,
        heading=valve.id,
        mark=mark.key,
        mark_word=mark.word,
        place=place_words(record),
        pictures=(*winding_blocks(visit, record, valve, units), *with_pictures),
        words=(
            *_verdict(record, valve),
            *_why(valve, units),
            *_what_to_do(record, valve),
            *_next(valve),
            *_if_left(visit, record, valve),
            *with_words,
            *_remarks(visit, valve, units),
        ),
    )


def _verdict(record: Valve, valve: ValveAssessment) -> tuple[Paragraph, ...]:
    cause = cause_words(valve, record)
    said = [f"{capital(cause)}." if cause else f"{capital(word(valve.winding.verdict))} by its windings."]
    if valve.meanwhile != "none":
        said.append(f"Until it is done: {meanwhile_words(valve)}.")
    return (Paragraph(text=" ".join(said), tone="lead"),)


def _why(valve: ValveAssessment, units: str) -> tuple[Items, ...]:
    texts = tuple(sentence(one, units) for one in valve.reasons)
    return (Items(label="Why", texts=texts),) if texts else ()


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


def _if_left(visit: Visit, record: Valve, valve: ValveAssessment) -> tuple[Items, ...]:
    """What the sentence rests on stands once, under the sheets."""
    found = consequence_of(visit, record, valve)
    return () if found is None else (Items(label=IF_LEFT, texts=(found.sentence,)),)


def _facts(visit: Visit, record: Valve, valve: ValveAssessment, units: str) -> Facts:
    chosen = None if record.plug_off is False else judged_measurement(record)
    spec = spec_of(visit, record)
    facts = []
    if spec is not None and record.spec is not None:
        facts.append(Labelled(label="Spec", text=spec_words(record.spec, spec, units)))
        guard = guard_words(valve, spec, units)
        facts += [Labelled(label="Pass or fail", text=guard)] if guard else []
    elif chosen is not None:
        facts.append(Labelled(label="Spec", text="none given; the windings are compared with one another only"))
    if chosen is not None:
        read = f"{state_words(chosen)}, with the meter {meter_words_of(visit, record, chosen)}"
        facts.append(Labelled(label="Read", text=read))
        facts.append(Labelled(label="Head", text=_head_temperature(record, chosen, units)))
    if valve.winding.common:
        facts.append(Labelled(label="Common", text=_common(record, valve)))
    if record.insulation is not None:
        facts.append(Labelled(label="Insulation", text=_insulation(record)))
    return Facts(facts=tuple(facts))


def _head_temperature(record: Valve, chosen: Measurement, units: str) -> str:
    head = head_temperature(record, chosen)
    if head.centre_c is None:
        low, high = temperature(head.low_c, units), temperature(head.high_c, units)
        return f"temperature not taken: anywhere from {low} to {high}"
    how = f" ({word(record.head_temperature_from)})" if record.head_temperature_from else ""
    return f"{temperature(head.centre_c, units)}, within {difference(2.0 * head.sd_k, units)}{how}"


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
    return f"{over}{measured.mohm:g}\u202fMΩ to the metal of the head{with_what}"


def _remarks(visit: Visit, valve: ValveAssessment, units: str) -> tuple[Paragraph, ...]:
    doubts = [Paragraph(text=f"Doubt: {sentence(one, units)}") for one in valve.doubts]
    notes = [
        Paragraph(text=f"Note: {one.text}", tone="struck" if one.is_void else "plain")
        for one in visit.notes
        if one.about == valve.id
    ]
    return (*doubts, *notes)


def windings_line(visit: Visit, record: Valve, valve: ValveAssessment, units: str) -> tuple[str, str, str]:
    """The windings of a valve in one line, at which temperature, and what comes of them against the spec.

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
        ("61.9  62.1  62.0 ± 0.5", "20 °C", "pass").
    """
    windings = [one for one in valve.winding.windings if one.ohm is not None]
    if not windings:
        return EMPTY, EMPTY, EMPTY
    spec = spec_of(visit, record)
    law, against = spec_law(spec), conformity_of(valve, spec)
    values: list[tuple[float, float | None]] = [(one.ohm or 0.0, one.u_ohm) for one in windings]
    where = "as read"
    if law is not None and len(against) == len(windings):
        where = temperature(law.at_c, units)
        values = [(one.ohm_at_spec, one.u_ohm) for one in against]
    decimals = shared_decimals([u for _, u in values])
    known = [u for _, u in values if u is not None]
    spread = f" ±{NO_BREAK_SPACE}{number(max(known), decimals)}" if known else ""
    shown = f"{'  '.join(number(ohm, decimals) for ohm, _ in values)}{spread}"
    return shown, where, _worst({one.zone for one in against})


def _worst(zones: set[str]) -> str:
    return next((ZONE_WORDS[zone] for zone in ("fail", "not-proven", "pass") if zone in zones), EMPTY)


def looked_at(record: Valve) -> str:
    """What was looked at beside the windings, in a few words."""
    parts = (("inspection", record.inspection), ("movement", record.movement), ("board's output", record.board))
    return ", ".join(name for name, part in parts if part is not None) or "windings only"


def capital(text: str) -> str:
    """A sentence begins with a capital, whatever it begins with."""
    return text[:1].upper() + text[1:]
