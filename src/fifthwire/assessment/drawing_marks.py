"""The marks: open ring, half-filled square, filled square, ring with a bar, dashed ring, dashed ring with a slash."""

from typing import Final

from fifthwire.assessment.drawing import box, dot, line

SIZE: Final = 16
"""Side of the square that a mark is drawn in."""

_DASHED_RING: Final = '<circle class="d-dash" cx="8" cy="8" r="6"/>'

_STROKES: Final[dict[str, str]] = {
    "good": '<circle class="d-ink" cx="8" cy="8" r="6"/>',
    "probable": box(2.5, 2.5, 11, 11, "d-ink") + box(2.5, 2.5, 5.5, 11, "d-full"),
    "bad": box(2, 2, 12, 12, "d-bad"),
    "not-proven": '<circle class="d-ink" cx="8" cy="8" r="6"/>' + line(2, 8, 14, 8),
    "not-checked": _DASHED_RING,
    "not-reached": _DASHED_RING + line(3, 13, 13, 3),
}


def mark_strokes(key: str) -> str:
    """What stands inside the `svg` element of a mark.

    Parameters
    ----------
    key : str
        Of one of `marks.MARKS`.
    """
    return _STROKES[key]


def reading_mark(x: float, y: float, zone: str) -> str:
    """A winding's value in a chart, in the language of the marks: pass, fail, not proven, or nothing to compare with.

    Parameters
    ----------
    x, y : float
        Its middle.
    zone : str
        "pass", "fail", "not-proven", or empty.
    """
    if zone == "pass":
        return dot(x, y, 4, "d-ring")
    if zone == "fail":
        return box(x - 4, y - 4, 8, 8, "d-bad")
    if zone == "not-proven":
        return dot(x, y, 4, "d-ring") + line(x, y - 4, x, y + 4)
    return dot(x, y, 3.5)
