"""The state of a valve as a mark: a shape and a word, the same on paper, on screens and at the terminal."""

from typing import Final

from fifthwire.model.assessment import ValveAssessment
from fifthwire.model.record import record
from fifthwire.model.words import PROBABLE_AT, SURE_AT


@record(kw_only=False)
class Mark:
    """A state of a valve."""

    key: str
    """Names the drawing."""
    word: str
    sign: str
    """One character for a terminal."""
    meaning: str
    """For the legend."""


BAD: Final = Mark("bad", "bad", "■", "a sure fault")
PROBABLE: Final = Mark("probable", "probable", "◧", "a probable fault")
NOT_PROVEN: Final = Mark("not-proven", "not proven", "⊖", "neither good nor bad is shown yet")
NOT_CHECKED: Final = Mark("not-checked", "not checked", "◌", "not measured, not looked at")
NOT_REACHED: Final = Mark("not-reached", "not reached", "⦸", "not accessible on this visit")
GOOD: Final = Mark("good", "good", "○", "measured and looked at, nothing wrong found")

MARKS: Final = (BAD, PROBABLE, NOT_PROVEN, NOT_CHECKED, NOT_REACHED, GOOD)
"""Worst first: the order of the table of valves."""

_NOT_OF_THE_VALVE: Final = ("wrong-head", "refrigerant-side")
"""Sure or not, these do not say that the valve is bad: the label is read again, the charge looked at."""
_SAYS_NOTHING: Final = ("not-checked.", "winding.not-measured", "winding.plug-on")


def mark_of(valve: ValveAssessment) -> Mark:
    """The mark of a valve.

    Sure and probable follow the probability of the leading cause; a head that is to be replaced is a sure fault
    even where two causes that the same part cures share it.

    Parameters
    ----------
    valve : ValveAssessment
        As assessed.

    Returns
    -------
    Mark
        Good only where the valve is to be left as it is, or watched. Never "not reached": a visit file has no key
        that says so.
    """
    leading = valve.causes[0] if valve.causes else None
    if leading is not None and leading.cause not in ("sound", "other"):
        if leading.cause in _NOT_OF_THE_VALVE:
            return NOT_PROVEN
        if leading.probability >= SURE_AT or valve.action.startswith("replace-"):
            return BAD
        if leading.probability >= PROBABLE_AT:
            return PROBABLE
        return NOT_PROVEN
    if valve.action == "keep" or (valve.action == "watch" and valve.winding.verdict == "sound"):
        return GOOD
    return NOT_CHECKED if was_left_alone(valve) else NOT_PROVEN


def was_left_alone(valve: ValveAssessment) -> bool:
    """Whether nothing at all was measured or looked at."""
    told = [reason.code for reason in (*valve.facts, *valve.reasons)]
    return valve.winding.verdict == "not-measured" and not [code for code in told if not code.startswith(_SAYS_NOTHING)]
