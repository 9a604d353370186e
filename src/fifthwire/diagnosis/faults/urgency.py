"""How soon, and what until then: by the leading cause and by what the valve does. All of it is judgement.

A stuck-open valve can send liquid to the compressor, a stuck-closed one starves what it feeds; which of the two hurts
depends on the role.
"""

from typing import Final

from fifthwire.diagnosis.faults.action import bad_looks
from fifthwire.diagnosis.faults.case import Case
from fifthwire.model.words import PROBABLE_AT

FLOODS_TO_SUCTION: Final = ("subcooler-bypass", "injection", "branch-subcooler")
"""Roles whose valve, standing open, sends liquid straight to the suction side."""

NOW: Final = {
    "body-stuck-open": ("indoor", "main", *FLOODS_TO_SUCTION),
    "body-stuck-closed": ("injection",),
    "head-jammed": ("injection",),
}
"""Cause -> roles for which it cannot wait; all else is planned."""

MEANWHILE: Final = {
    # cause               role -> what until it is repaired; a role that is not named: none
    "body-stuck-open": {
        "indoor": "branch-isolated",
        "main": "limit-load",
        "subcooler-bypass": "system-off",
        "injection": "system-off",
        "hot-gas-bypass": "limit-load",
        "branch-liquid": "branch-isolated",
        "branch-hot-gas": "branch-isolated",
        "branch-suction": "branch-isolated",
        "branch-subcooler": "branch-isolated",
    },
    "body-stuck-closed": {
        "indoor": "unit-off",
        "main": "limit-load",
        "subcooler-bypass": "limit-load",
        "injection": "limit-load",
        "receiver": "limit-load",
        "branch-liquid": "branch-isolated",
        "branch-hot-gas": "branch-isolated",
        "branch-suction": "branch-isolated",
    },
    "head-jammed": {"indoor": "unit-off", "main": "limit-load", "injection": "limit-load"},
    "winding": {"indoor": "unit-off"},
    "leaks-when-shut": {
        "indoor": "branch-isolated",
        "subcooler-bypass": "limit-load",
        "injection": "limit-load",
    },
    "board-output": {"indoor": "unit-off"},
    "plug-or-harness": {},
}
"""What keeps the fault from doing harm until it is repaired."""

UNKNOWN_WHERE: Final = 0.5
"""A stuck body that is open at least this often as it is shut is treated as open: the worse of the two.  [1]"""

WET: Final = frozenset({"connector.wet", "insulation.suspect", "insulation.fault"})
"""Facts that say that moisture is in."""
STILL: Final = frozenset(
    {
        "stem.out",
        "felt.motor.rocking",
        "felt.motor.nothing",
        "own-head-after-good.stuck",
        "own-head.stuck",
        "after-cleaning.stuck",
    }
)
"""Facts that say that a head does not work."""


def stands_wide(case: Case) -> bool:
    """Whether the running system shows it standing more open than it is told, whatever the cause."""
    return case.behaviours.get("wide", 0.0) >= PROBABLE_AT


def urgency_of(case: Case, action: str) -> str:
    """Now, planned or none.

    Parameters
    ----------
    case : Case
        The valve.
    action : str
        What is to be done.
    """
    if action in ("keep", "watch"):
        return "none"
    if action == "reseat":
        return "now"  # a minute's work while one stands beside it
    if action == "check-more" and case.leading == "sound" and not bad_looks(case):
        return "none"
    if action == "replace-head" and "cracks.yes" in case.weighing:
        return "now" if case.weighing & (WET | STILL) else "planned"
    if case.is_running_seen and stands_wide(case) and case.role in NOW["body-stuck-open"]:
        return "now"
    if action.startswith("replace-") and case.role in NOW.get(case.leading, ()):
        return "now"
    return "planned"


def meanwhile_of(case: Case, action: str) -> str:
    """What to do until the action is taken; none where the cause is not at least probable."""
    if action in ("keep", "watch", "clean", "reseat"):
        return "none"
    if action == "check-more" and case.windings.finding.verdict == "undecided":
        return "none"  # one more reading settles it
    if case.is_running_seen and stands_wide(case):
        return MEANWHILE["body-stuck-open"].get(case.role, "none")
    is_stuck = case.probability("body-stuck-open", "body-stuck-closed") >= PROBABLE_AT
    if is_stuck and case.probability("body-stuck-open") >= UNKNOWN_WHERE * case.probability("body-stuck-closed"):
        return MEANWHILE["body-stuck-open"].get(case.role, "none")
    if case.causes[case.leading] < PROBABLE_AT and not is_stuck:
        return "none"
    return MEANWHILE.get(case.leading, {}).get(case.role, "none")
