"""Many heads in one drawing: a row a head, its windings against the band each should read, on one scale of shares."""

from collections.abc import Sequence
from typing import Final

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing import box, lettering, line, shortened
from fifthwire.assessment.drawing_marks import reading_mark
from fifthwire.model.record import record

WIDTH: Final = 600
_LEFT, _RIGHT = 165.0, 580.0
_TOP, _ROW = 26.0, 11.0
_HALF_SCALE_FRAC: Final = 0.20
"""The scale ends this far from what a head should read; a winding beyond stands at its end.  [1]  Our choice."""


@record
class HeadRow:
    """One head: its windings and its band, as shares of what it should read at its own temperature."""

    name: str
    off_fracs: tuple[float, ...]
    """Each winding over the middle of the band, less one.  [1]"""
    zones: tuple[str, ...]
    """Of each winding: "pass", "fail", "not-proven" or empty."""
    half_band_frac: float | None
    """None where no spec says what it should read.  [1]"""


def heads_picture(rows: Sequence[HeadRow], caption: str) -> Picture:
    """A chart of many heads.

    Parameters
    ----------
    rows : sequence of HeadRow
        In the order of the table beside it.
    caption : str
        What is printed over it.

    Returns
    -------
    Picture
        A row a head.
    """
    base = _TOP + _ROW * len(rows)
    strokes = [line(_x(0.0), _TOP - 4, _x(0.0), base, "d-thin")]
    for index, row in enumerate(rows):
        strokes.append(_head(row, _TOP + _ROW * (index + 0.5)))
    for share in (-0.2, -0.1, 0.0, 0.1, 0.2):
        words = "as it should" if share == 0.0 else f"{share * 100:+.0f} %".replace("-", "−")
        strokes.append(lettering(_x(share), _TOP - 9, words, "d-quiet", "middle"))
    n_out = sum("pass" not in row.zones for row in rows if row.half_band_frac is not None)
    return Picture(
        svg="".join(strokes),
        width=WIDTH,
        height=int(base + 8),
        caption=caption,
        title=caption,
        description=f"{len(rows)} heads, a row each. {n_out} of them have no winding inside its band.",
    )


def _x(share: float) -> float:
    within = min(max(share, -_HALF_SCALE_FRAC), _HALF_SCALE_FRAC)
    return _LEFT + (within + _HALF_SCALE_FRAC) / (2.0 * _HALF_SCALE_FRAC) * (_RIGHT - _LEFT)


def _head(row: HeadRow, y: float) -> str:
    strokes = [lettering(_LEFT - 12, y + 3.5, shortened(row.name, 24), "d-small", "end")]
    if row.half_band_frac is not None:
        left, right = _x(-row.half_band_frac), _x(row.half_band_frac)
        strokes.append(box(left, y - 4, right - left, 8, "d-soft"))
    strokes += [reading_mark(_x(off), y, zone) for off, zone in zip(row.off_fracs, row.zones, strict=True)]
    return "".join(strokes)
