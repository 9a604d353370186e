"""What was not looked at on a valve, and why where that is known."""

from fifthwire.diagnosis.faults.case import Case
from fifthwire.model.assessment import Reason
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit

MOVEMENT_SEEN = frozenset(
    {
        "stem",
        "felt.motor",
        "good-head",
        "own-head",
        "own-head-after-good",
        "after-cleaning",
        "hand-magnet",
        "proof.stem-travel",
        "proof.step-response",
        "proof.shut-off",
        "step-test",
        "held",
    }
)
"""Looks that show whether something moves."""
INSPECTED = frozenset({"rust", "cracks", "seated", "pitted", "connector"})


def not_checked(visit: Visit, valve: Valve, case: Case) -> tuple[Reason, ...]:
    """What was not looked at: left out means not looked at, which is not fine.

    Parameters
    ----------
    visit : Visit
        Holds the specs.
    valve : Valve
        As written.
    case : Case
        With its facts.
    """
    looks = {fact.code.rpartition(".")[0] for fact in case.facts}
    read = case.windings
    codes = []
    if read.is_plug_on:
        codes.append("not-checked.plug-on")
    elif read.is_of_head_taken_off:
        codes.append("not-checked.new-head")
    elif read.finding.verdict == "not-measured":
        codes.append("not-checked.windings")
    if read.readings:
        codes += ["not-checked.temperature"] if valve.head_temperature_c is None else []
        codes += ["not-checked.spec"] if visit.specs.get(valve.spec or "") is None else []
    codes += [] if looks & INSPECTED else ["not-checked.inspection"]
    codes += [] if looks & MOVEMENT_SEEN else ["not-checked.movement"]
    seen = {fact.code for fact in case.facts if fact.weighs}
    if case.head == "bolt-on" and looks & MOVEMENT_SEEN and not seen & {"stem.back", "stem.out"}:
        codes.append("not-checked.stem")
    codes += [] if looks & {"board", "supply"} else ["not-checked.board"]
    return tuple(Reason(code=code) for code in codes)
