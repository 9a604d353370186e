"""What to do: the first rule that holds. A decision that costs money needs a proof; below it stands `check-more`."""

from typing import Final

from fifthwire.diagnosis.faults.case import Case
from fifthwire.diagnosis.faults.likelihoods import ROWS
from fifthwire.diagnosis.faults.proof import BODY_CURES, must_replace_body, must_replace_head
from fifthwire.diagnosis.faults.running_table import VALVE_ROWS

ACT_AT: Final = 0.5
"""Cleaning, seating, mending a plug, measuring a board cost little: more likely than not will do.  [1]  Judgement."""

COIL_ONLY_LOOKS: Final = frozenset({"rust.none", "rust.light", "rust.heavy"})
"""On a bolt-on motor these say next to nothing, for or against."""
UNCLEAR: Final = frozenset({"stem.between", "stem.contradiction", "harness.head-end-doubtful"})
"""Looks that have to be taken again before a valve is left as it is."""
DIRTY_PLUG: Final = frozenset({"connector.wet", "connector.corroded"})
RUSTY: Final = frozenset({"rust.light", "rust.heavy"})

SEEN_BY_EYE: Final = frozenset({"cracks.yes", "pitted.yes"})
"""What condemns a part whatever the meter is worth."""


def action_of(case: Case) -> str:
    """The action for one valve.

    Parameters
    ----------
    case : Case
        With the posterior of its causes.

    Returns
    -------
    str
        A key of the assessment's actions.
    """
    if case.windings.doubtful_meter and not case.weighing & SEEN_BY_EYE:
        return "check-more"
    if must_replace_head(case):
        return "replace-head"
    if must_replace_body(case):
        return "replace-body"
    if is_hunting(case) and case.leading == "sound":
        return "watch"
    if may_keep(case):
        return "keep"
    return _small_work(case) or "check-more"


def is_hunting(case: Case) -> bool:
    """Whether a log found the valve opening and closing without rest: that points at no one part."""
    return any(fact.code == "log.hunting" for fact in case.facts)


def may_keep(case: Case) -> bool:
    """Good windings, `sound` leading, one more look that finds nothing wrong, and none that finds something wrong."""
    read = case.windings
    if read.finding.verdict != "sound" or not read.counts or case.leading != "sound":
        return False
    return bool(good_looks(case)) and not bad_looks(case)


def good_looks(case: Case) -> frozenset[str]:
    """Looks at this head or body that find nothing wrong."""
    return _marked(case, "+")


def bad_looks(case: Case) -> frozenset[str]:
    """Looks that find something wrong, or that have to be taken again."""
    running = {code for code in case.weighing if code in VALVE_ROWS and VALVE_ROWS[code].mark == "!"}
    return _marked(case, "!") | running | (UNCLEAR & {fact.code for fact in case.facts})


def _marked(case: Case, mark: str) -> frozenset[str]:
    left_out = COIL_ONLY_LOOKS if case.head == "bolt-on" else frozenset()
    return frozenset(code for code in case.weighing - left_out if code in ROWS and ROWS[code].mark == mark)


def _small_work(case: Case) -> str | None:
    """Cleaning, seating, plug, board: what costs minutes and is reversible."""
    leading, facts = case.leading, case.weighing
    is_coil = case.head != "bolt-on"
    if is_coil and facts & RUSTY and leading in ("sound", "head-unseated", *BODY_CURES):
        return "clean"
    if is_coil and "seated.no" in facts and leading in ("sound", "head-unseated"):
        return "reseat"
    if leading == "head-unseated" and case.causes[leading] >= ACT_AT and not case.state.is_cleaned:
        return "clean" if case.state.is_reseated or "own-head-after-good.stuck" in facts else "reseat"
    if leading == "plug-or-harness" and case.causes[leading] >= ACT_AT and not case.windings.is_all_open:
        return "repair-plug-or-harness"
    if facts & DIRTY_PLUG and leading in ("sound", "plug-or-harness"):
        return "clean"
    if leading == "board-output" and case.causes[leading] >= ACT_AT:
        return "check-board"
    return _not_the_valve(case)


def _not_the_valve(case: Case) -> str | None:
    """Sensor or refrigerant side; where the whole system is short of it, no valve is looked at first."""
    if case.leading == "refrigerant-side" and (case.is_system_at_fault or case.causes[case.leading] >= ACT_AT):
        return "check-refrigerant-side"
    return "check-sensor" if case.leading == "sensor" and case.causes[case.leading] >= ACT_AT else None
