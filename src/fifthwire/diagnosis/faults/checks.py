"""The checks the trade has, and which of them is worth most for its minutes and its risk.

What a check is worth is what it is expected to settle of *what is to be done*: causes that the same work cures count as
one. It is worked out exactly, one step ahead, over the outcomes of the look in the likelihood table.
"""

from collections.abc import Mapping
from math import log2
from typing import Final

from fifthwire.diagnosis.faults.case import Case
from fifthwire.diagnosis.faults.likelihoods import CAUSES, OUTCOMES
from fifthwire.model.assessment import NextCheck
from fifthwire.model.record import record

WORTH_BITS: Final = 0.005
"""A check expected to settle less than this is not worth its walk.  [bit]  Judgement."""

CURED_BY: Final = {
    "sound": "nothing",
    "winding": "head",
    "head-jammed": "head",
    "head-cracked": "head",
    "head-unseated": "seat",
    "body-stuck-open": "body",
    "body-stuck-closed": "body",
    "leaks-when-shut": "body",
    "plug-or-harness": "plug",
    "board-output": "board",
    "sensor": "sensor",
    "wrong-head": "label",
    "refrigerant-side": "system",
}
"""Cause -> what cures it."""


@record(kw_only=False)
class Check:
    """A look the trade has. All minutes are judgement."""

    code: str
    question: str
    """Lines of the likelihood table that are its outcomes."""
    minutes: float
    is_system_stopped: bool
    heads: tuple[str, ...]
    risk: str = ""
    risk_minutes: float = 0.0
    """What the risk is worth in minutes."""
    shows_movement: bool = False
    tools: str = ""


COIL: Final = ("clip-on", "solenoid")
MOTOR: Final = ("bolt-on",)
ANY: Final = ("clip-on", "bolt-on", "solenoid")

CATALOGUE: Final = (
    Check("look-at-seat", "seated", 1, False, ("clip-on",), tools="a torch"),
    Check("look-underneath", "rust", 5, True, ("clip-on",), "twists-pipe", 3, tools="a torch, penetrating oil"),
    Check("look-for-cracks", "cracks", 2, False, MOTOR, tools="a torch"),
    Check("look-at-plug", "connector", 2, True, ANY, tools="a torch"),
    Check("stem-in-service-state", "stem", 4, True, MOTOR, "body-left-open", 2, True, "a screwdriver, a ruler"),
    Check("feel-under-command", "felt.motor", 5, False, MOTOR, "starves-or-floods", 2, True, "a service command"),
    Check("feel-under-command", "felt.coil", 5, False, ("clip-on",), "starves-or-floods", 2, tools="a service command"),
    Check("hand-magnet", "hand-magnet", 8, True, COIL, "loses-position", 2, True, "a manual opening magnet"),
    Check("test-after-cleaning", "after-cleaning", 10, False, ("clip-on",), "", 0, True, "cloth, service command"),
    Check("pulses-at-board", "board", 10, False, ("clip-on", "bolt-on"), "live-parts", 10, tools="a rated meter"),
    Check("swap-plugs", "plug-swap", 12, True, ANY, "wrong-plug", 4, tools="labels for both plugs"),
    Check("measure-through-harness", "harness", 6, True, ANY, tools="the meter"),
    Check("test-insulation", "insulation", 4, True, ANY, "into-board", 2, tools="an insulation tester"),
    Check("good-head", "good-head", 20, True, ("clip-on", "bolt-on"), "body-left-open", 4, True, "a good head"),
    Check("own-head-again", "own-head-after-good", 8, True, ("clip-on", "bolt-on"), "", 0, True, "its own head"),
    Check("step-test", "step-test", 15, False, ("clip-on", "bolt-on"), "starves-or-floods", 2, True, "the controller"),
    Check("shut-off-test", "proof.shut-off", 15, False, ANY, "starves-or-floods", 2, True, "a thermometer"),
    Check("measure-windings", "windings", 8, True, ANY, "twists-pipe", 0, tools="the meter"),
    Check("strainer-drop", "strainer-drop", 8, False, ANY, tools="a thermometer with two clamps"),
    Check("compare-sensors", "sensor-compare", 15, True, ANY, tools="a thermometer"),
    Check(
        "check-charge-and-air", "charge-and-air", 60, False, ANY, "circuit-opened", 10, tools="scales, leak detector"
    ),
)
"""All checks that have outcomes in the likelihood table."""

ONLY_RUNNING: Final = ("windings", "strainer-drop", "sensor-compare", "charge-and-air")
"""Looks that are weighed against others only where the running system was read."""
FROM_THE_CONTROLLER: Final = ("step-test", "shut-off-test", "check-charge-and-air")
"""Checks for which nobody has to reach the valve."""
REACH_MIN: Final = 10.0
STOP_MIN: Final = 10.0
"""Reaching a valve that nobody stands at yet, and stopping a system that runs.  [min]  Judgement."""
SHORT_FROM: Final = 0.3
"""A valve that passes too little at least so probably has its strainer looked at.  [1]  Judgement."""

TO_SERVICE_STATE_MIN: Final = 15.0
"""Driving all valves open, waiting and confirming, where that is not done yet.  [min]  Judgement."""
OLD_COIL_RISK_MIN: Final = 15.0
"""What a twisted pipe is worth when a coil has not been off for years.  [min]  Judgement."""


def entropy_bits(causes: Mapping[str, float]) -> float:
    """How much is open of what is to be done.  [bit]"""
    groups: dict[str, float] = {}
    for cause, probability in causes.items():
        groups[CURED_BY[cause]] = groups.get(CURED_BY[cause], 0.0) + probability
    return -sum(p * log2(p) for p in groups.values() if p > 0.0)


def gain_bits(causes: Mapping[str, float], question: str) -> float:
    """What a look is expected to settle of what is to be done: exact over its outcomes.

    Parameters
    ----------
    causes : mapping
        Cause -> probability now. [1]
    question : str
        A look of the likelihood table.

    Returns
    -------
    float
        Never below 0 but for rounding. [bit]
    """
    after = 0.0
    for row in OUTCOMES[question]:
        joint = {
            cause: p * (1.0 if (one := row.likelihood[CAUSES.index(cause)]) is None else one)
            for cause, p in causes.items()
        }
        whole = sum(joint.values())
        if whole > 0.0:
            after += whole * entropy_bits({cause: weight / whole for cause, weight in joint.items()})
    return entropy_bits(causes) - after


def best_check(case: Case, *, movement_only: bool = False, among: tuple[str, ...] = ()) -> NextCheck | None:
    """The check that settles most for its minutes and its risk.

    Parameters
    ----------
    case : Case
        What was looked at already is not proposed again.
    movement_only : bool
        Only looks that show movement.
    among : tuple of str
        Only these checks, or the checks for these looks; empty: all.

    Returns
    -------
    NextCheck or None
        None where nothing is worth doing.
    """
    offered = [check for check in CATALOGUE if _is_open_to(case, check) and (check.shows_movement or not movement_only)]
    offered = [check for check in offered if not among or check.code in among or check.question in among]
    rated = [(gain_bits(case.causes, check.question), check) for check in offered]
    worth = [(gain / _cost_min(case, check), gain, check) for gain, check in rated if gain >= WORTH_BITS]
    if not worth:
        return None
    _, gain, check = max(worth, key=lambda one: one[0])  # the first listed where two are worth the same
    risk = check.risk
    if risk == "body-left-open" and case.head != "bolt-on":
        risk = "loses-position"
    return NextCheck(
        check=check.code,
        minutes=check.minutes + _preparation_min(case, check),
        is_system_stopped=check.is_system_stopped,
        risk="" if risk == "twists-pipe" and not case.is_old else risk,
        gain_bits=gain,
    )


def _is_open_to(case: Case, check: Check) -> bool:
    kind = "solenoid" if case.kind == "solenoid" else case.head
    if kind not in check.heads or any(row.code in case.weighing for row in OUTCOMES[check.question]):
        return False
    if check.question in ONLY_RUNNING and not case.is_running_seen:
        return False
    if check.question == "step-test" and {"proof.step-response.passed", "proof.step-response.failed"} & case.weighing:
        return False
    if check.question == "windings":
        return case.windings.finding.verdict == "not-measured" and not case.windings.is_plug_on
    if check.question == "strainer-drop":
        return case.behaviours.get("narrow", 0.0) + case.behaviours.get("starved", 0.0) >= SHORT_FROM
    if check.question == "own-head-after-good":
        return "good-head.moves" in case.weighing and not case.state.has_new_head
    if check.question == "after-cleaning":
        return bool({fact.code for fact in case.facts} & {"rust.light", "rust.heavy", "work.cleaned"})
    if check.question == "harness":
        return case.windings.counts and case.windings.at_head_plug
    return True


def _preparation_min(case: Case, check: Check) -> float:
    return 0.0 if check.question != "stem" or case.service_state_holds else TO_SERVICE_STATE_MIN


def _cost_min(case: Case, check: Check) -> float:
    risk = check.risk_minutes
    if case.is_running_seen and case.windings.finding.verdict == "not-measured":
        risk += 0.0 if check.code in FROM_THE_CONTROLLER else REACH_MIN
        risk += STOP_MIN if check.is_system_stopped else 0.0
    if check.risk == "twists-pipe":
        risk += (OLD_COIL_RISK_MIN if case.is_old else 0.0) - check.risk_minutes
    return check.minutes + _preparation_min(case, check) + risk
