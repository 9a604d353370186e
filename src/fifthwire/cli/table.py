"""The table of valves: one line a valve, or a short block a valve where the screen is too narrow for the line."""

from typing import Final

from fifthwire.assessment.marks import GOOD, NOT_CHECKED, mark_of
from fifthwire.assessment.valve_words import action_words, cause_words, sentence
from fifthwire.cli.terminal import Terminal
from fifthwire.model.assessment import ValveAssessment
from fifthwire.model.reasons import CHECKS, say
from fifthwire.model.valve import Valve
from fifthwire.workflow.visits import AssessedVisit

PLAIN_SIGNS: Final = {
    "bad": "[#]",
    "probable": "[/]",
    "not-proven": "(-)",
    "not-checked": "( )",
    "not-reached": "(/)",
    "good": "(o)",
}
"""The marks on a screen that prints only ASCII; the word stands beside each."""

NARROWEST_REASON: Final = 40
"""A reason in a column narrower than this is harder to read than one on its own line."""
GAP: Final = "  "


def valve_table(assessed: AssessedVisit, screen: Terminal) -> list[str]:
    """The lines of the table: mark, label, verdict, action, cause and how sure, first reason.

    Parameters
    ----------
    assessed : AssessedVisit
        The visit and what was made of it.
    screen : Terminal
        Where it is shown.
    """
    records = {record.id: record for record in assessed.visit.valves}
    rows = [(valve, _cells(valve, records.get(valve.id), screen)) for valve in assessed.assessment.valves]
    widths = [max((len(cells[column]) for _, cells in rows), default=0) for column in range(5)]
    fixed = sum(widths) + len(GAP) * len(widths)
    if screen.width is None or screen.width - fixed >= NARROWEST_REASON:
        return [line for valve, cells in rows for line in _long(valve, cells, widths, screen)]
    return [line for valve, cells in rows for line in _block(valve, cells, widths, screen)]


def why_and_next(valve: ValveAssessment) -> str:
    """The sentence that weighs most, then the next check where one is asked for; empty where there is neither.

    A valve that may stay as it is was first of all measured, and one whose windings prove nothing is open for that:
    what the windings read comes before what else was seen.
    """
    by_windings = valve.action == "keep" or valve.winding.verdict == "undecided"
    first = sorted(valve.reasons, key=lambda one: not (by_windings and one.code.startswith("winding.")))[:1]
    said = [sentence(one) for one in first]
    if valve.action == "check-more" and valve.next_check is not None:
        said.append("Next: " + say(CHECKS, valve.next_check.check, valve.next_check.values))
    return " ".join(said)


def action_and_urgency(valve: ValveAssessment, record: Valve | None) -> str:
    """What to do, and how soon where that is now."""
    return action_words(valve, record) + (", now" if valve.urgency == "now" else "")


def _cells(valve: ValveAssessment, record: Valve | None, screen: Terminal) -> list[str]:
    mark = mark_of(valve)
    sign = PLAIN_SIGNS[mark.key] if screen.is_plain else mark.sign
    action = "" if mark is NOT_CHECKED and valve.action == "check-more" else action_and_urgency(valve, record)
    return [screen.printable(text) for text in (sign, valve.id, mark.word, action, cause_words(valve, record))]


def _long(valve: ValveAssessment, cells: list[str], widths: list[int], screen: Terminal) -> list[str]:
    start = GAP.join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True) if width) + GAP
    reason = why_and_next(valve)
    if screen.width is None or len(start) + len(reason) <= screen.width:
        return [_bold_verdict(start + reason, cells, screen).rstrip()]
    room = Terminal(stream=screen.stream, width=screen.width - len(start), is_plain=screen.is_plain, is_bold=False)
    first, *rest = room.wrapped(reason)
    return [_bold_verdict(start + first, cells, screen), *(" " * len(start) + line for line in rest)]


def _block(valve: ValveAssessment, cells: list[str], widths: list[int], screen: Terminal) -> list[str]:
    sign, label, verdict, action, cause = cells
    start = GAP.join((sign.ljust(widths[0]), label.ljust(widths[1]), verdict.ljust(widths[2]), action))
    reason = why_and_next(valve)
    more = ". ".join(part for part in (cause, reason) if part)
    if not more or mark_of(valve) is GOOD:
        return [_bold_verdict(start.rstrip(), cells, screen)]
    indent = " " * (widths[0] + len(GAP))
    return [_bold_verdict(start.rstrip(), cells, screen), *screen.wrapped(more[0].upper() + more[1:], indent=indent)]


def _bold_verdict(line: str, cells: list[str], screen: Terminal) -> str:
    """The line with its mark and label in bold where something is wrong: weight, never colour."""
    head = line[: line.find(cells[1]) + len(cells[1])]
    return screen.bold(head) + line[len(head) :] if cells[4] else line
