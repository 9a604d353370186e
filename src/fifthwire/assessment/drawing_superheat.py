"""What each unit's coil holds: a bar a unit from 0, its target as a tick, the middle half of all soft behind."""

from collections.abc import Callable, Sequence
from math import ceil, floor
from typing import Final

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing import box, lettering, line, shortened
from fifthwire.assessment.figures import FIGURE_SPACE, number, on_the_point
from fifthwire.model.record import record

WIDTH: Final = 360
ROWS_A_PICTURE: Final = 48
"""More rows than this do not fit beside other things on a page.  [1]  Our choice."""
_LEFT, _RIGHT = 76.0, 306.0
_TOP = 26.0
_ROW, _NARROW_ROW, _MANY = 17.0, 13.0, 24
"""Height of a row, that of one of many, and how many that is.  [px], [1]"""
_LONGEST_NAME: Final = 9


@record
class UnitBar:
    """One unit; figures in the unit of the chart."""

    name: str
    held: float | None
    u: float | None
    target: float | None
    stands_apart: bool
    """Away from its target or the others by more than its readings explain: its bar is filled."""
    instead: str = ""
    """What is printed where nothing is held: "off", "not read"."""


@record
class HeldScale:
    """What a chart of units measures with."""

    low: float
    high: float
    unit: str
    band: tuple[float, float] | None
    """The middle half of the units."""


def held_scale(bars: Sequence[UnitBar], unit: str, band: tuple[float, float] | None) -> HeldScale:
    """A scale from 0, or from below it where something reads less, that holds every bar and target.

    Parameters
    ----------
    bars : sequence of UnitBar
        All of them, also where they are drawn in parts.
    unit : str
        "K" or "°F".
    band : tuple of float or None
        The middle half of the units.
    """
    ends = [0.0, *(band or ())]
    for bar in bars:
        ends += [] if bar.target is None else [bar.target]
        ends += [] if bar.held is None else [bar.held, bar.held + (bar.u or 0.0)]
    step = _step(max(ends) - min(ends))
    low = floor(min(ends) / step) * step if min(ends) < -0.2 * step else 0.0
    return HeldScale(low=low, high=max(ceil(max(ends) / step) * step, step), unit=unit, band=band)


def held_picture(bars: Sequence[UnitBar], scale: HeldScale, *, caption: str, title: str) -> Picture:
    """A chart of units.

    Parameters
    ----------
    bars : sequence of UnitBar
        As the units hang.
    scale : HeldScale
        The same for all parts of a chart.
    caption, title : str
        What is printed over it, and its name.

    Returns
    -------
    Picture
        A row a unit.
    """
    height = _NARROW_ROW if len(bars) > _MANY else _ROW
    base = _TOP + height * len(bars) + 4
    per = (_RIGHT - _LEFT) / (scale.high - scale.low)

    def x(value: float) -> float:
        return _LEFT + (value - scale.low) * per

    strokes = []
    if scale.band is not None:
        left, right = x(scale.band[0]), x(scale.band[1])
        strokes.append(box(left, _TOP - 2, max(right - left, 1.5), base - _TOP + 2, "d-soft"))
    figures = on_the_point([bar.instead if bar.held is None else number(bar.held, 1) for bar in bars])
    for row, (bar, figure) in enumerate(zip(bars, figures, strict=True)):
        y = _TOP + height * (row + 0.5)
        strokes.append(lettering(_LEFT - 8, y + 4, shortened(bar.name, _LONGEST_NAME), "d-number", "end"))
        strokes.append(_bar(bar, x(0.0), x, y))
        shown = figure if bar.held is not None else bar.instead
        strokes.append(lettering(_RIGHT + 8, y + 4, shown, "d-number" if bar.held is not None else "d-quiet"))
    strokes += [line(x(0.0), _TOP - 2, x(0.0), base, "d-ink"), _axis(scale, x, base)]
    return Picture(
        svg="".join(strokes),
        width=WIDTH,
        height=int(base + 24),
        caption=caption,
        title=title,
        description=_described(bars, scale.unit),
    )


def _bar(bar: UnitBar, zero: float, x: Callable[[float], float], y: float) -> str:
    strokes = ""
    if bar.held is not None:
        left, right = sorted((zero, x(bar.held)))
        strokes = box(left, y - 4, max(right - left, 1.0), 8, "d-full" if bar.stands_apart else "d-ring")
        if bar.u is not None:
            start, end = max(x(bar.held - bar.u), _LEFT), x(bar.held + bar.u)
            strokes += line(x(bar.held), y, end, y) + line(end, y - 3, end, y + 3)
            strokes += "" if bar.stands_apart else line(start, y - 3, start, y + 3, "d-thin")
    if bar.target is not None:
        strokes += line(x(bar.target), y - 6, x(bar.target), y + 6, "d-here")
    return strokes


def _step(span: float) -> float:
    return next((one for one in (1.0, 2.0, 5.0, 10.0, 20.0, 50.0) if span / one <= 6.0), 100.0)


def _axis(scale: HeldScale, x: Callable[[float], float], base: float) -> str:
    step = _step(scale.high - scale.low)
    strokes = [line(_LEFT, base, _RIGHT, base, "d-thin")]
    for k in range(round((scale.high - scale.low) / step) + 1):
        tick = scale.low + k * step
        strokes += [line(x(tick), base, x(tick), base + 4, "d-thin")]
        strokes += [lettering(x(tick), base + 17, number(tick, 0), "d-number", "middle")]
    strokes.append(lettering(_RIGHT + 16, base + 17, scale.unit, "d-quiet"))
    return "".join(strokes)


def _described(bars: Sequence[UnitBar], unit: str) -> str:
    said = [
        f"{bar.name}: {bar.instead if bar.held is None else f'{number(bar.held, 1)} {unit}'}"
        + (f", target {number(bar.target, 1)}" if bar.target is not None and bar.held is not None else "")
        for bar in bars
    ]
    return f"{'; '.join(said)}.".replace(FIGURE_SPACE, "")
