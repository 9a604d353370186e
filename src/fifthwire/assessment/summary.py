"""The three plain lines: what is wrong, what happens if it is left and by when, what we need you to decide.

They are for the person who pays: no figures, no codes, every valve by its label. The page, the print and the command
line show the same lines.
"""

from collections.abc import Mapping, Sequence
from typing import Final

from fifthwire.assessment.figures import counted, listed
from fifthwire.assessment.marks import BAD, GOOD, MARKS, NOT_CHECKED, NOT_PROVEN, NOT_REACHED, PROBABLE, Mark, mark_of
from fifthwire.assessment.valve_words import fault_words, leading_fault, of_head
from fifthwire.model.assessment import Assessment, ValveAssessment
from fifthwire.model.record import record
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit
from fifthwire.model.words import PROBABLE_AT, head_word, how_sure, word

WRONG_LABEL: Final = "What is wrong"
LEFT_LABEL: Final = "If it is left"
DECIDE_LABEL: Final = "What we need you to decide"

IF_LEFT: Final[dict[str, str]] = {
    "main": "the outdoor coil is fed wrongly, and in heating liquid can reach the compressor",
    "subcooler-bypass": "stuck open it sends liquid to the compressor, stuck shut it starves the far units",
    "injection": "the compressor is cooled too little or gets liquid",
    "hot-gas-bypass": "capacity is lost and the compressor runs hot",
    "receiver": "the charge collects in the wrong place and capacity falls",
    "indoor": "rooms are not held, and a valve stuck open lets liquid reach the compressor",
    "branch-liquid": "the units of that branch starve or flood",
    "branch-hot-gas": "the units of that branch do not heat",
    "branch-suction": "the units of that branch do not cool",
    "branch-subcooler": "stuck open it sends liquid to the compressor, stuck shut it starves the branch",
}
"""What a valve that does not follow does to the system, by its role.  Common practice, no published source."""

BY_CAUSE: Final[dict[str, str]] = {
    "head-cracked": "moisture gets into the housing and seizes the gears",
    "leaks-when-shut": "refrigerant passes while the unit is off and can reach the compressor as liquid",
    "refrigerant-side": "the system runs short or overfull, and the compressor wears",
    "wrong-head": "nothing is known yet: the label and the manual page have to be read again",
    "sensor": "the controller steers by a wrong temperature",
}
"""Where the cause says more than the role.  Common practice, no published source."""

_REPLACE: Final = ("replace-head", "replace-body")
MOST_EFFECTS: Final = 2
"""Consequences that a plain line can carry; the rest stands on the sheets.  [1]  Our choice."""
BODY: Final = "body"
_REPAIR: Final = ("clean", "reseat", "repair-plug-or-harness")


@record
class ThreeLines:
    """What a customer reads first."""

    wrong: str
    if_left: str
    decide: str

    def labelled(self) -> tuple[tuple[str, str], ...]:
        """The lines with their labels, in order."""
        return ((WRONG_LABEL, self.wrong), (LEFT_LABEL, self.if_left), (DECIDE_LABEL, self.decide))


def three_lines(visit: Visit, assessment: Assessment) -> ThreeLines:
    """The three plain lines of a visit.

    Parameters
    ----------
    visit : Visit
        As it was written.
    assessment : Assessment
        What was made of it.

    Returns
    -------
    ThreeLines
        Each of one or a few short sentences.
    """
    records = {record.id: record for record in visit.valves}
    by_mark: dict[Mark, list[ValveAssessment]] = {mark: [] for mark in MARKS}
    for valve in assessment.valves:
        by_mark[mark_of(valve)].append(valve)
    return ThreeLines(
        wrong=_wrong(assessment, by_mark, records),
        if_left=_if_left(by_mark[BAD] + by_mark[PROBABLE], by_mark, records),
        decide=_decide(assessment, by_mark, records),
    )


def _wrong(
    assessment: Assessment, by_mark: Mapping[Mark, Sequence[ValveAssessment]], records: Mapping[str, Valve]
) -> str:
    bad, probable = by_mark[BAD], by_mark[PROBABLE]
    total = counted(len(assessment.valves), "valve")
    said = [line for line in (_liquid(assessment), _system(assessment)) if line]
    rest = [f"{len(by_mark[mark])} {mark.word}" for mark in (NOT_PROVEN, NOT_CHECKED, NOT_REACHED) if by_mark[mark]]
    rest += [f"{len(by_mark[GOOD])} good"] if by_mark[GOOD] else []
    others = ", ".join(rest)
    if not bad and not probable:
        return " ".join([*said, f"No fault is shown on {total}{': ' if rest else ''}{others}."])
    if bad:
        said.append(f"{len(bad)} of {total} {_is(bad)} bad: {_named(bad, records)}.")
    if probable:
        of = "" if bad else f" of {total}"
        said.append(f"{len(probable)}{of} {_is(probable)} probably bad: {_named(probable, records)}.")
    return " ".join([*said, f"The others: {others}."] if rest else said)


def _liquid(assessment: Assessment) -> str:
    """Compressors that liquid likely reaches: what stops a system, whichever valve it is."""
    wet = [str(one["id"]) for one in assessment.compressors if one["floodback"] == "likely"]
    return f"Liquid refrigerant likely reaches compressor{'s' if len(wet) > 1 else ''} {listed(wet)}." if wet else ""


def _system(assessment: Assessment) -> str:
    leading = assessment.system_causes[0] if assessment.system_causes else None
    if leading is None or leading.cause == "fine" or leading.probability < PROBABLE_AT:
        return ""
    return f"The system as a whole: {word(leading.cause)} ({how_sure(leading.probability)})."


def _named(valves: Sequence[ValveAssessment], records: Mapping[str, Valve]) -> str:
    return listed([f"{one.id} ({of_head(fault_words(one), records.get(one.id))})" for one in valves])


def _is(valves: Sequence[object]) -> str:
    return "is" if len(valves) == 1 else "are"


def _if_left(
    faulty: Sequence[ValveAssessment],
    by_mark: Mapping[Mark, Sequence[ValveAssessment]],
    records: Mapping[str, Valve],
) -> str:
    if not faulty:
        open_questions = len(by_mark[NOT_PROVEN]) + len(by_mark[NOT_CHECKED]) + len(by_mark[NOT_REACHED])
        if not open_questions:
            return "Nothing is known that gets worse."
        return f"Nothing is shown to get worse; {counted(open_questions, 'valve')} may hide a fault until looked at."
    by_effect: dict[str, list[str]] = {}
    for valve in sorted(faulty, key=lambda one: one.urgency != "now"):
        by_effect.setdefault(_effect(valve, records), []).append(valve.id)
    said = [f"{listed(ids, most=3)}: {effect}." for effect, ids in list(by_effect.items())[:MOST_EFFECTS]]
    if len(by_effect) > len(said):
        said.append("The other faults are told below.")
    return " ".join([*said, _by_when(faulty), *_until_then(faulty)])


def _effect(valve: ValveAssessment, records: Mapping[str, Valve]) -> str:
    fault = leading_fault(valve)
    if fault is not None and fault.cause in BY_CAUSE:
        return BY_CAUSE[fault.cause]
    record = records.get(valve.id)
    return IF_LEFT["indoor" if record is None else record.role]


def _by_when(faulty: Sequence[ValveAssessment]) -> str:
    now = [one.id for one in faulty if one.urgency == "now"]
    if not now:
        return "By when: the next planned visit."
    if len(now) == len(faulty):
        return "By when: now."
    return f"By when: now for {listed(now)}; the next planned visit for the rest."


def _until_then(faulty: Sequence[ValveAssessment]) -> list[str]:
    by_measure: dict[str, list[str]] = {}
    for valve in faulty:
        if valve.meanwhile != "none":
            by_measure.setdefault(word(valve.meanwhile), []).append(valve.id)
    if not by_measure:
        return []
    return [f"Until then: {'; '.join(f'{measure} ({listed(ids)})' for measure, ids in by_measure.items())}."]


def _decide(
    assessment: Assessment, by_mark: Mapping[Mark, Sequence[ValveAssessment]], records: Mapping[str, Valve]
) -> str:
    said = []
    replace = [one for one in assessment.valves if one.action in _REPLACE]
    if replace:
        said.append(_parts(replace, records))
    repair = [one.id for one in assessment.valves if one.action in _REPAIR]
    if repair:
        said.append(f"Agree to the work on {listed(repair)}: no new part is needed to begin.")
    check = [one for one in assessment.valves if one.action.startswith("check-")]
    if check:
        said.append(f"{_time_to_check(check)} before anything is decided on them.")
    return " ".join(said) if said else "Nothing now."


def _parts(replace: Sequence[ValveAssessment], records: Mapping[str, Valve]) -> str:
    by_part: dict[str, list[str]] = {}
    for valve in replace:
        head = head_word(records[valve.id].head) if valve.id in records else "head"
        by_part.setdefault(head if valve.action == "replace-head" else BODY, []).append(valve.id)
    parts = [
        f"{counted(len(ids), part, 'bodies' if part == BODY else '')} ({listed(ids)})" for part, ids in by_part.items()
    ]
    now = [one.id for one in replace if one.urgency == "now"]
    return f"Agree to new parts: {listed(parts)}.{f' Now: {listed(now)}.' if now else ''}"


def _time_to_check(valves: Sequence[ValveAssessment]) -> str:
    checks = [one.next_check for one in valves if one.next_check is not None]
    minutes = sum(check.minutes for check in checks)
    stopped = any(check.is_system_stopped for check in checks)
    part = ", the system stopped for part of it" if stopped else ""
    about = f" (about {counted(round(minutes), 'minute')}{part})" if minutes else ""
    return f"Give us time to check {counted(len(valves), 'valve')} more{about}"
