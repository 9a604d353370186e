"""A report, built once from a visit and its assessment: the page in HTML and the print in PDF both lay this out.

The order is that of the questions: what is wrong, how sure, why, what next; then what was not checked, with what it
was measured, and who signs.
"""

from collections.abc import Iterable
from typing import Final

from fifthwire.assessment.blocks import Block, Column, Labelled, Legend, Paragraph, Report, Row, Section, Table
from fifthwire.assessment.consequences import consequence_of
from fifthwire.assessment.content_compressor import HEADING, compressor_section
from fifthwire.assessment.content_running import HEADING as RUNNING_HEADING
from fifthwire.assessment.content_running import running_section
from fifthwire.assessment.content_sheet import (
    EMPTY,
    capital,
    looked_at,
    needs_a_sheet,
    valve_row,
    valve_sheet,
    windings_line,
)
from fifthwire.assessment.content_visit import (
    doubts,
    header,
    make_safe,
    meters_and_specs,
    not_checked,
    notes,
    signature,
    work_done,
)
from fifthwire.assessment.content_windings import head_row, read_words
from fifthwire.assessment.drawing_heads import heads_picture
from fifthwire.assessment.figures import day
from fifthwire.assessment.marks import GOOD, MARKS, NOT_CHECKED, mark_of
from fifthwire.assessment.running_states import running_states
from fifthwire.assessment.summary import three_lines
from fifthwire.model.assessment import Assessment, ValveAssessment
from fifthwire.model.reasons import CHECKS, say
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit

HEADS_A_PICTURE: Final = 60
"""More rows than this are hard to follow, and do not fit a page beside other things.  [1]  Our choice."""

HEAD_EXPLAINED = (
    "A head drives a valve: a coil (clip-on: twists off a sealed body) or a motor (bolt-on: screwed on, with a stem)."
)


def report_content(visit: Visit, assessment: Assessment, *, units: str = "si") -> Report:
    """Everything a report says, ready to be laid out.

    Parameters
    ----------
    visit : Visit
        As it was written.
    assessment : Assessment
        What was made of it; may hold fewer valves than the visit.
    units : str
        "si", or "us" for °F and letter paper; ohms stay.

    Returns
    -------
    Report
        Sections without anything to say are left out.
    """
    of = visit.header
    pairs = _with_records(visit, assessment)
    return Report(
        title=f"{of.site}, {of.system}: expansion valves, {day(of.date)}",
        language="en",
        site=of.site,
        system=of.system,
        date=day(of.date),
        date_iso=of.date.isoformat(),
        technician=of.technician or "",
        program=assessment.program,
        paper="us-letter" if units == "us" else "a4",
        header=header(visit, assessment),
        short=tuple(Labelled(label=label, text=text) for label, text in three_lines(visit, assessment).labelled()),
        sections=tuple(_sections(visit, assessment, pairs, units)),
    )


def _with_records(visit: Visit, assessment: Assessment) -> list[tuple[Valve, ValveAssessment]]:
    """Each valve as assessed beside what was written of it, worst first, else in the order of the file."""
    records = {record.id: record for record in visit.valves if not record.is_void}
    pairs = [(records[valve.id], valve) for valve in assessment.valves]
    return sorted(pairs, key=lambda pair: (MARKS.index(mark_of(pair[1])), pair[1].urgency != "now"))


def _sections(
    visit: Visit, assessment: Assessment, pairs: list[tuple[Valve, ValveAssessment]], units: str
) -> Iterable[Section]:
    sheets = [pair for pair in pairs if needs_a_sheet(pair[1])]
    anchors = {valve.id: f"valve-{number}" for number, (_, valve) in enumerate(sheets, start=1)}
    plans: list[tuple[str, str, tuple[Block, ...]]] = [
        ("compressor", HEADING, compressor_section(assessment, units)),
        ("valves", "Valves", _valve_table(pairs, anchors, units)),
        ("make-safe", "Before the first head comes off", make_safe(visit)),
        ("sheets", "Valves that need a word", _sheets(visit, sheets, anchors, units)),
        ("running", RUNNING_HEADING, running_section(visit, running_states(visit), units)),
        ("open-questions", "Windings good, not yet proven", _open_questions(visit, pairs, units)),
        ("good", "Good valves", _good(visit, pairs, units)),
        ("not-checked", "What was not checked, and why", not_checked(visit, assessment, units)),
        ("doubts", "Doubts and warnings", doubts(assessment, units)),
        ("work", "Work done and proofs", work_done(visit)),
        (
            "notes",
            "Notes",
            notes(visit, [*anchors, *(valve.id for _, valve in pairs if mark_of(valve) is NOT_CHECKED)]),
        ),
        ("measured-with", "Measured with, and against", meters_and_specs(visit, units)),
        ("signature", "Signature", (signature(visit),)),
    ]
    return (Section(anchor=anchor, heading=heading, blocks=blocks) for anchor, heading, blocks in plans if blocks)


def _valve_table(pairs: list[tuple[Valve, ValveAssessment]], anchors: dict[str, str], units: str) -> tuple[Block, ...]:
    if not pairs:
        return (Paragraph(text="The visit lists no valves."),)
    columns = (
        Column(label="State", share=1.3),
        Column(label="Valve", share=1.7),
        Column(label="Cause", share=2.4),
        Column(label="Do", share=2.1),
        Column(label="When", share=0.9),
        Column(label="Meanwhile", share=1.2),
    )
    used = {mark_of(valve).key for _, valve in pairs}
    legend = tuple(Labelled(label=one.key, text=f"{one.word}: {one.meaning}") for one in MARKS if one.key in used)
    rows = tuple(valve_row(valve, record, anchors.get(valve.id, ""), units) for record, valve in pairs)
    return (
        Table(caption="The valves of this visit, worst first", columns=columns, rows=rows),
        Legend(marks=legend),
        Paragraph(text=HEAD_EXPLAINED, tone="quiet"),
    )


def _sheets(
    visit: Visit, pairs: list[tuple[Valve, ValveAssessment]], anchors: dict[str, str], units: str
) -> tuple[Block, ...]:
    """The sheets, and once what is assumed where they say what happens if a valve is left."""
    sheets = tuple(valve_sheet(visit, record, valve, anchors[valve.id], units) for record, valve in pairs)
    left = [found for record, valve in pairs if (found := consequence_of(visit, record, valve)) is not None]
    return (*sheets, *((Paragraph(text=left[0].assumed, tone="quiet"),) if left else ()))


def _open_questions(visit: Visit, pairs: list[tuple[Valve, ValveAssessment]], units: str) -> tuple[Block, ...]:
    """A line each for valves of which the windings are good and the rest is not shown."""
    rows = []
    for record, valve in pairs:
        if mark_of(valve) is GOOD or needs_a_sheet(valve) or valve.winding.verdict != "sound":
            continue
        check = valve.next_check
        rows.append(
            Row(
                cells=(
                    valve.id,
                    *windings_line(visit, record, valve, units),
                    say(CHECKS, check.check, check.values) if check else EMPTY,
                )
            )
        )
    columns = (
        Column(label="Valve", share=1.3),
        Column(label="Windings, in Ω", is_figure=True, share=2.6),
        Column(label="At", share=0.6),
        Column(label="Spec", share=0.7),
        Column(label="Check next", share=2.2),
    )
    caption = "Valves whose windings are good and whose movement is not shown"
    return (Table(caption=caption, columns=columns, rows=tuple(rows)),) if rows else ()


def _good(visit: Visit, pairs: list[tuple[Valve, ValveAssessment]], units: str) -> tuple[Block, ...]:
    rows = []
    for record, valve in pairs:
        if mark_of(valve) is GOOD:
            rows.append(Row(cells=(valve.id, *windings_line(visit, record, valve, units), capital(looked_at(record)))))
    columns = (
        Column(label="Valve", share=1.3),
        Column(label="Windings, in Ω", is_figure=True, share=2.8),
        Column(label="At", share=0.6),
        Column(label="Spec", share=0.8),
        Column(label="Also looked at", share=1.5),
    )
    if not rows:
        return ()
    table = Table(caption="What the good valves measured", columns=columns, rows=tuple(rows), is_compact=True)
    return (table, *_good_heads(visit, pairs), _good_readings(visit, pairs))


def _good_heads(visit: Visit, pairs: list[tuple[Valve, ValveAssessment]]) -> tuple[Block, ...]:
    """A small drawing a head, many to a picture."""
    good = [head_row(visit, record, valve) for record, valve in pairs if mark_of(valve) is GOOD]
    heads = [one for one in good if one is not None]
    parts = [heads[start : start + HEADS_A_PICTURE] for start in range(0, len(heads), HEADS_A_PICTURE)]
    caption = "Windings of the good valves against what each should read at its temperature"
    return tuple(
        heads_picture(part, caption if len(parts) == 1 else f"{caption}: {part[0].name} to {part[-1].name}")
        for part in parts
    )


def _good_readings(visit: Visit, pairs: list[tuple[Valve, ValveAssessment]]) -> Block:
    """Every reading of the good valves, as the meter showed it."""
    read = [(valve.id, read_words(visit, record)) for record, valve in pairs if mark_of(valve) is GOOD]
    told = " · ".join(f"{name}: {words}" for name, words in read if words)
    return Paragraph(text=f"Read at them, pins and reading in Ω: {told}.", tone="quiet")
