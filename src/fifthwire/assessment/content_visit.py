"""The parts of a report that belong to the visit as a whole: header, make-safe order, tools, work, notes, signature."""

from collections.abc import Mapping, Sequence
from typing import Final

from fifthwire.assessment.blocks import Column, Facts, Items, Labelled, Paragraph, Row, Signature, Table
from fifthwire.assessment.content_windings import spec_words
from fifthwire.assessment.figures import counted, day, listed, ohms, percent, plain
from fifthwire.assessment.marks import NOT_CHECKED, mark_of
from fifthwire.assessment.valve_words import sentence
from fifthwire.model.assessment import Assessment, Reason
from fifthwire.model.reasons import CAUTIONS, MAKE_SAFE, say
from fifthwire.model.visit import Accuracy, Meter, Visit
from fifthwire.model.words import word
from fifthwire.physics.conformity import GUARD_BAND_IN_U

FEW: Final = 6
"""Fewer valves than this are always named one by one.  [1]  Our choice."""

CONFIRMED_BY: Final[dict[str, tuple[str, ...]]] = {
    "safe.stop": ("compressors-stopped",),
    "safe.open-all": ("valves-open-for-service",),
    "safe.lock-out": ("locked-out", "proved-dead"),
    "safe.dc-bus": ("bus-measured",),
    "safe.refit": ("refitted",),
    "safe.cancel-service-state": ("service-state-cancelled",),
}
"""The confirmations of a visit file that together say a step is done; the other steps are not confirmed."""


def header(visit: Visit, assessment: Assessment) -> tuple[Labelled, ...]:
    """Who, when, where and with what program."""
    of, system = visit.header, visit.system
    lines = [
        ("Site", of.site),
        ("System", of.system),
        ("Date", day(of.date)),
        ("Reason for the visit", word(of.reason)),
        ("Technician", of.technician or "not noted"),
        ("Refrigerant", system.refrigerant),
        ("Installed", None if system.installed is None else str(system.installed)),
        ("All valves open for service", _service_state(visit)),
        ("Program", f"Fifthwire {assessment.program}"),
        ("Visit", of.id),
    ]
    return tuple(Labelled(label=label, text=text) for label, text in lines if text)


def _service_state(visit: Visit) -> str:
    is_open, minutes = visit.system.service_state, visit.system.service_state_minutes
    if is_open is None:
        return "not noted"
    given = "" if minutes is None else f", given {plain(minutes)}\u202fmin"
    return f"{'yes' if is_open else 'no'}{given}"


def make_safe(visit: Visit) -> tuple[Items | Paragraph, ...]:
    """The order of the work, and who confirmed which step."""
    steps = tuple(f"{say(CAUTIONS, code)}{_confirmed(visit, CONFIRMED_BY.get(code, ()))}" for code in MAKE_SAFE)
    return (
        Items(label="In this order", texts=steps, tone="steps"),
        Paragraph(text="Local codes and licensed practice come first. The program advises; the technician decides."),
    )


def _confirmed(visit: Visit, needed: tuple[str, ...]) -> str:
    if not needed:
        return ""
    given = {one.what: one for one in visit.confirmations if not one.is_void}
    if not set(needed) <= set(given):
        return " (Not confirmed.)"
    said = [part for what in needed for part in (given[what].by, given[what].value) if part]
    return f" ({', '.join(dict.fromkeys(('Confirmed', *said)))}.)"


def not_checked(visit: Visit, assessment: Assessment, units: str) -> tuple[Table, ...]:
    """What was not looked at, valves with the same words together; why, where a note about the valve says it."""
    by_text = _valves_by_sentence([(valve.id, valve.not_checked) for valve in assessment.valves], units)
    untouched = [valve.id for valve in assessment.valves if mark_of(valve) is NOT_CHECKED]
    why = {
        valve_id: f"{valve_id} ({' '.join(said).rstrip('.')})"
        for valve_id in untouched
        if (said := [note.text for note in visit.notes if note.about == valve_id and not note.is_void])
    }
    if not by_text:
        return ()
    return (_grouped("What was not checked, and why", ("Not checked", "Valves"), by_text, assessment, why),)


def doubts(assessment: Assessment, units: str) -> tuple[Items | Table, ...]:
    """What contradicts itself or makes readings doubtful."""
    warnings = tuple(dict.fromkeys(sentence(one, units) for one in assessment.warnings))
    by_text = _valves_by_sentence([(valve.id, valve.doubts) for valve in assessment.valves], units)
    blocks: list[Items | Table] = [Items(label="The visit as a whole", texts=warnings)] if warnings else []
    if by_text:
        blocks.append(_grouped("Doubts about valves", ("Doubt", "Valves"), by_text, assessment, {}))
    return tuple(blocks)


def _valves_by_sentence(said_of: Sequence[tuple[str, Sequence[Reason]]], units: str) -> dict[str, list[str]]:
    by_text: dict[str, list[str]] = {}
    for valve_id, said in said_of:
        for text in dict.fromkeys(sentence(one, units) for one in said):
            by_text.setdefault(text, []).append(valve_id)
    return by_text


def _grouped(
    caption: str,
    labels: tuple[str, str],
    by_text: Mapping[str, Sequence[str]],
    assessment: Assessment,
    why: Mapping[str, str],
) -> Table:
    every = [valve.id for valve in assessment.valves]
    rows, told = [], set[str]()
    for text, ids in sorted(by_text.items(), key=lambda one: len(one[1])):
        names = [why.get(one, one) if one not in told else one for one in ids]
        told.update(ids)
        rows.append(Row(cells=(text, _valves(ids, names, every))))
    columns = (Column(label=labels[0], share=1.2), Column(label=labels[1], share=2.0))
    return Table(caption=caption, columns=columns, rows=tuple(rows))


def _valves(ids: Sequence[str], names: Sequence[str], every: Sequence[str]) -> str:
    """The valves by name; where nearly all are meant, those that are not."""
    others = [one for one in every if one not in ids]
    if len(ids) < FEW or len(others) > len(ids) / 2:
        return ", ".join(names)
    return f"all {len(every)} but {listed(others, most=len(others))}" if others else f"all {len(every)} valves"


def meters_and_specs(visit: Visit, units: str) -> tuple[Facts | Paragraph, ...]:
    """The meters of the day, and what the manuals say that heads should measure."""
    facts = [Labelled(label=f"Meter {name}", text=meter_words(meter)) for name, meter in visit.meters.items()]
    facts += [Labelled(label="Spec", text=spec_words(name, spec, units)) for name, spec in visit.specs.items()]
    said = (
        "The figure after ± is one standard uncertainty. Pass and fail keep a guard band of "
        f"{GUARD_BAND_IN_U:g} of it off every limit, so that at most one such verdict in twenty is wrong; "
        "between them nothing is proven. Sure means 95 % and more, probable 70 % and more."
    )
    return (*((Facts(facts=tuple(facts)),) if facts else ()), Paragraph(text=said, tone="quiet"))


def meter_words(meter: Meter) -> str:
    """A meter in one line."""
    said = [f"serial {meter.serial}"] if meter.serial else []
    if meter.ranges:
        said += [
            f"to {ohms(one.to_ohm, decimals=0) if one.to_ohm is not None else 'the end'}: {_accuracy(one.accuracy)}"
            for one in meter.ranges
        ]
    else:
        said.append(_accuracy(meter.accuracy))
    if meter.leads_ohm is not None:
        said.append(f"leads {plain(meter.leads_ohm)}\u202fΩ, taken off")
    if meter.check_resistor_ohm is not None:
        known, shown = meter.check_resistor_ohm
        said.append(f"a known {plain(known)}\u202fΩ read {plain(shown)}\u202fΩ on this visit")
    said.append("date of calibration not noted" if meter.calibrated is None else f"calibrated {day(meter.calibrated)}")
    return ", ".join(said)


def _accuracy(accuracy: Accuracy | None) -> str:
    if accuracy is None:
        return "accuracy not noted"
    return f"± ({percent(accuracy.of_reading_frac)} of reading + {plain(accuracy.digits)} digits)"


def work_done(visit: Visit) -> tuple[Table, ...]:
    """What was done on the visit and what showed that it works."""
    rows = [(one.valve, capital_word(one.done), one.part or "", one.is_void) for one in visit.work]
    rows += [(one.valve, f"Proof: {word(one.kind)}", word(one.result), one.is_void) for one in visit.proofs]
    if not rows:
        return ()
    return (
        Table(
            caption="Work done and proofs",
            columns=(Column(label="Valve"), Column(label="Done"), Column(label="Part, or what came of it")),
            rows=tuple(Row(cells=(valve, done, part), is_struck=is_struck) for valve, done, part, is_struck in rows),
        ),
    )


def capital_word(key: str) -> str:
    """A key in words, with a capital."""
    text = word(key)
    return text[:1].upper() + text[1:]


def notes(visit: Visit, told: Sequence[str]) -> tuple[Paragraph, ...]:
    """Remarks that are not told elsewhere, and the pictures that lie beside the file."""
    said = [
        Paragraph(text=f"{one.about}: {one.text}" if one.about else one.text, tone="struck" if one.is_void else "plain")
        for one in visit.notes
        if one.about not in told
    ]
    said += [
        Paragraph(text=f"Valve {one.id}: struck out, not assessed.", tone="struck")
        for one in visit.valves
        if one.is_void
    ]
    shown = [one.about or "the visit" for one in visit.photographs if not one.is_void]
    if shown:
        about = ", ".join(dict.fromkeys(shown))
        said.append(
            Paragraph(text=f"{counted(len(shown), 'photograph')} beside the visit file: {about}.", tone="quiet")
        )
    return tuple(said)


def signature(visit: Visit) -> Signature:
    """Where the technician signs, and who received it."""
    return Signature(
        statement='Measured and looked at as written above. What stands under "not checked" was not.',
        fields=(
            Labelled(label="Technician", text=visit.header.technician or ""),
            Labelled(label="Signature", text=""),
            Labelled(label="Date", text=""),
            Labelled(label="Received for the customer", text=""),
        ),
    )
