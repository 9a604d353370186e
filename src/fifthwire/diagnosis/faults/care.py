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
    codes = set(_of_action(action, case.head))
    if check is not None:
        codes |= set(BY_CHECK.get(check.check, HEAD_OFF if check.is_system_stopped else ()))
    if "hold-body" in codes:
        codes |= _of_head(case.head)
    if "coil-off" in codes and case.never_removed:
        codes.add("never-removed")
    if action == "replace-body" and "body-stuck-closed" in case.causes:
        codes.add("strainer")
    return tuple(code for code in CAUTION_ORDER if code in codes)


def cautions_of_action(action: str, head: str | None) -> tuple[str, ...]:
    """Codes of the cautions of an action by itself, where nothing is known of the visit that asks for it.

    Parameters
    ----------
    action : str
        What is to be done.
    head : str or None
        clip-on or bolt-on; None where it is not known: then what holds for either is said.

    Returns
    -------
    tuple of str
        In the order of the work.

    Examples
    --------
    >>> cautions_of_action("check-board", "clip-on"), cautions_of_action("keep", None)
    (('live-board',), ())
    """
    codes = _of_action(action, head)
    if "hold-body" in codes:
        codes |= _of_head(head) if head is not None else {"motor-off", "coil-off"}
    return tuple(code for code in CAUTION_ORDER if code in codes)


def _of_action(action: str, head: str | None) -> set[str]:
    codes = set(BY_ACTION.get(action, ()))
    if action == "clean" and head != "bolt-on":
        codes |= {"clean-can", "leak-check"}
    return codes


def _of_head(head: str | None) -> set[str]:
    return {"motor-off"} if head == "bolt-on" else {"coil-off"}
