"""The windings of a head against the band they should read at the head's own temperature."""

from collections.abc import Callable, Sequence
from math import floor, log10
from typing import Final, TypeAlias

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing import box, lettering, line, shortened
from fifthwire.assessment.drawing_marks import reading_mark
from fifthwire.assessment.figures import FIGURE_SPACE, on_the_point, plain
from fifthwire.model.record import record

WIDTH: Final = 360
_LEFT, _RIGHT = 44.0, 288.0  # the scale; names to its left, figures to its right
_TOP, _ROW = 22.0, 24.0
_LETTER: Final = 6.6
"""Width of a letter at most, on the average of a line. [px]"""

_Along: TypeAlias = Callable[[float], float]


@record
class WindingBar:
    """One winding, at the head's temperature."""

    name: str
    ohm: float | None
    half_width_ohm: float
    """Of the bar: the guard band. [Ω]"""
    figure: str
    """The value as the table prints it, without unit; "open" or "not read" where there is none."""
    zone: str
    """Against the spec: "pass", "fail", "not-proven"; empty where nothing can be said."""


@record
class Band:
    """Where a good winding reads, at the head's temperature. [Ω]"""

    low_ohm: float
    high_ohm: float
    words: str
    """What it stands for: "56 to 68 Ω at 31 °C"."""


def winding_picture(bars: Sequence[WindingBar], band: Band | None, caption: str, title: str) -> Picture:
    """A chart of a head's windings.

    Parameters
    ----------
    bars : sequence of WindingBar
        In order of the table under it.
    band : Band or None
        None where the file holds no spec of the head.
    caption, title : str
        What is printed over it; the same with the valve's name.

    Returns
    -------
    Picture
        A row a winding; its bar lies inside the band where it passes.
    """
    low, high, step = _scale(bars, band)
    per_ohm = (_RIGHT - _LEFT) / (high - low)
    base = _TOP + _ROW * len(bars)

    def x(ohm: float) -> float:
        return _LEFT + (ohm - low) * per_ohm

    strokes = [] if band is None else [_band(x(band.low_ohm), x(band.high_ohm), base, band)]
    figures = on_the_point([bar.figure for bar in bars])
    for row, (bar, figure) in enumerate(zip(bars, figures, strict=True)):
        y = _TOP + _ROW * (row + 0.5)
        strokes += [lettering(_LEFT - 8, y + 4, shortened(bar.name, 6), "d-number", "end"), _bar(bar, x, y)]
        strokes.append(lettering(_RIGHT + 10, y + 4, figure.strip() if bar.ohm is None else figure, "d-number"))
    strokes.append(_axis(low, high, step, x, base))
    return Picture(
        svg="".join(strokes),
        width=WIDTH,
        height=int(base + 24),
        caption=caption,
        title=title,
        description=_described(bars, band),
    )


def _scale(bars: Sequence[WindingBar], band: Band | None) -> tuple[float, float, float]:
    ends = [bar.ohm + side * bar.half_width_ohm for bar in bars if bar.ohm is not None for side in (-1.0, 1.0)]
    ends += [] if band is None else [band.low_ohm, band.high_ohm]
    low, high = (min(ends), max(ends)) if ends else (0.0, 100.0)
    margin = max((high - low) * 0.12, abs(high) * 0.01, 1e-6)
    low, high = low - margin, high + margin
    if 0.0 <= low + margin < 0.35 * high:
        low = 0.0
    return low, high, _tick_step(high - low)


def _tick_step(span: float) -> float:
    rough = span / 4.0
    magnitude = 10.0 ** floor(log10(rough))
    return next(factor * magnitude for factor in (1.0, 2.0, 5.0, 10.0) if factor * magnitude >= rough)


def _band(left: float, right: float, base: float, band: Band) -> str:
    words = f"should read {band.words}"
    half = _LETTER * len(words) / 2
    middle = min(max((left + right) / 2, half), WIDTH - half)
    soft = box(left, _TOP - 2, right - left, base - _TOP + 2, "d-soft")
    return soft + lettering(middle, _TOP - 7, words, "d-quiet", "middle")


def _bar(bar: WindingBar, x: _Along, y: float) -> str:
    if bar.ohm is None:
        return line(_LEFT, y, _RIGHT, y, "d-broken") if bar.figure == "open" else ""
    left, right = x(bar.ohm - bar.half_width_ohm), x(bar.ohm + bar.half_width_ohm)
    ends = "".join(line(end, y - 4, end, y + 4) for end in (left, right))
    return line(left, y, right, y) + ends + reading_mark(x(bar.ohm), y, bar.zone)


def _axis(low: float, high: float, step: float, x: _Along, base: float) -> str:
    strokes = [line(_LEFT, base, _RIGHT, base, "d-thin")]
    tick = -floor(-low / step) * step
    while tick <= high + 1e-9 * step:
        strokes += [line(x(tick), base, x(tick), base + 4, "d-thin")]
        strokes += [lettering(x(tick), base + 16, plain(round(tick, 6)), "d-number", "middle")]
        tick += step
    strokes.append(lettering(_RIGHT + 10, base + 16, "Ω", "d-quiet"))
    return "".join(strokes)


def _described(bars: Sequence[WindingBar], band: Band | None) -> str:
    should = "No spec to compare with." if band is None else f"A good winding reads {band.words}."
    words = {"pass": "pass", "fail": "fail", "not-proven": "not proven", "": ""}
    said = [f"{bar.name}: {bar.figure}{' Ω' if bar.ohm is not None else ''} {words[bar.zone]}".strip() for bar in bars]
    return f"{should} {'; '.join(said)}.".replace(FIGURE_SPACE, "")
