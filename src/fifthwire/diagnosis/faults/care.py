"""Which cautions belong to the work on one valve: those of the steps it takes, in the order of the work."""

from typing import Final

from fifthwire.diagnosis.faults.case import Case
from fifthwire.model.assessment import NextCheck
from fifthwire.model.cautions import CAUTION_ORDER

HEAD_OFF: Final = ("head-off", "dc-bus", "plug-live", "hold-body")
"""Whenever a head or its plug comes off."""

BY_ACTION: Final = {
    "replace-head": HEAD_OFF,
    "replace-body": (*HEAD_OFF, "circuit", "brazing"),
    "repair-plug-or-harness": ("head-off", "dc-bus", "plug-live"),
    "clean": HEAD_OFF,
    "reseat": ("head-off", "dc-bus", "hold-body"),
    "check-board": ("live-board",),
}
"""Action -> cautions."""

BY_CHECK: Final = {
    "pulses-at-board": ("live-board",),
    "test-insulation": (*HEAD_OFF, "insulation-test"),
    "dry-and-test-insulation": (*HEAD_OFF, "insulation-test"),
    "hand-magnet": (*HEAD_OFF, "position-lost"),
    "swap-plugs": ("head-off", "dc-bus", "plug-live"),
    "strainer-first": ("strainer",),
}
"""Check -> cautions; any other check for which the system is stopped takes the head or its plug off."""


def cautions_of(case: Case, action: str, check: NextCheck | None) -> tuple[str, ...]:
    """Codes of the cautions of one valve.

    Parameters
    ----------
    case : Case
        The kind of head decides which belong to it.
    action : str
        What is to be done.
    check : NextCheck or None
        What is to be checked next.

    Returns
    -------
    tuple of str
        In the order of the work.
    """
    codes = set(BY_ACTION.get(action, ()))
    if check is not None:
        codes |= set(BY_CHECK.get(check.check, HEAD_OFF if check.is_system_stopped else ()))
    if "hold-body" in codes:
        codes |= _of_head(case)
    if action == "clean":
        codes |= {"clean-can", "leak-check"} if case.head != "bolt-on" else set()
    if action == "replace-body" and "body-stuck-closed" in case.causes:
        codes.add("strainer")
    return tuple(code for code in CAUTION_ORDER if code in codes)


def _of_head(case: Case) -> set[str]:
    if case.head == "bolt-on":
        return {"motor-off"}
    return {"coil-off", "never-removed"} if case.never_removed else {"coil-off"}
