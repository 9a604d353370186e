"""The history of a valve's windings as a drawing: a dot a reading with its bar, the band behind, work as ticks."""

from collections.abc import Callable, Sequence
from datetime import date
from math import exp, floor, log, log10
from typing import Final

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing import box, dot, lettering, line, polyline
from fifthwire.assessment.figures import counted, day, ohms, plain, temperature
from fifthwire.assessment.history.series import HeadSeries, Spot, ValveHistory, WindingSeries
from fifthwire.model import history_words as words
from fifthwire.model.record import record

WIDTHS: Final = (356, 690)
"""Of a phone, of a desk and of paper.  [px]  Our choice."""
_LEFT, _RIGHT = 40.0, 16.0
_PLOT: Final = 210.0
_LEGEND_ROW: Final = 18.0
_DODGE: Final = 6.0
"""Between the windings of one day, so that their bars do not cover each other.  [px]"""
_EDGE: Final = 18.0
_LETTER: Final = 6.6


@record
class _Scale:
    """From days and ohms to the paper. [px]"""

    x: Callable[[date], float]
    y: Callable[[float], float]
    low: float
    high: float
    step: float
    top: float
    base: float
    width: float


def history_picture(history: ValveHistory, *, width: float = WIDTHS[-1], title: str = "") -> Picture:
    """A chart of all windings of all heads.

    Parameters
    ----------
    history : ValveHistory
        With at least one reading.
    width : float
        Of the drawing. [px]
    title : str
        Its name, with the valve's.
    """
    legend, legend_high = _legend(history, width)
    scale = _scale(history, width, legend_high + 30.0)
    strokes = [legend, _band(history, scale), _axes(history, scale)]
    for head in history.heads:
        strokes += [_drift_lines(head, scale), _windings(head, scale)]
    marks, below = _events(history, scale)
    strokes += [_head_changes(history, scale), marks]
    caption = f"Each winding at {temperature(history.at_c)}, in Ω, with its standard uncertainty"
    return Picture(
        svg="".join(strokes),
        width=round(width),
        height=round(below + 6),
        caption=caption,
        title=title or caption,
        description=_described(history),
    )


def _scale(history: ValveHistory, width: float, top: float) -> _Scale:
    spots = [spot for head in history.heads for winding in head.windings for spot in winding.spots]
    days = [spot.day for spot in spots] + [event.day for event in history.events]
    first, last = min(days), max(days)
    span = max((last - first).days, 1)
    left, right = _LEFT + _EDGE, width - _RIGHT - _EDGE
    ends = [spot.ohm + side * (spot.u_ohm or 0.0) for spot in spots if spot.ohm is not None for side in (-1.0, 1.0)]
    ends += list(history.band_ohm or ())
    low, high = (min(ends), max(ends)) if ends else (0.0, 100.0)
    margin = max(0.08 * (high - low), 0.005 * abs(high), 1e-6)
    low, high, base = low - margin, high + margin, top + _PLOT
    middle = (left + right) / 2 if first == last else None

    def x(on: date) -> float:
        return middle if middle is not None else left + (on - first).days / span * (right - left)

    def y(ohm: float) -> float:
        return base - (ohm - low) / (high - low) * _PLOT

    return _Scale(x=x, y=y, low=low, high=high, step=_step(high - low), top=top, base=base, width=width)


def _step(span: float) -> float:
    rough = span / 5.0
    size = 10.0 ** floor(log10(rough))
    return next(factor * size for factor in (1.0, 2.0, 5.0, 10.0) if factor * size >= rough)


def shape_strokes(shape: str, x: float, y: float) -> str:
    """The dot of a winding."""
    if shape == "square":
        return box(x - 3.5, y - 3.5, 7, 7, "d-ring")
    if shape == "triangle":
        corners = f"M{x:.1f} {y - 4.6:.1f}L{x - 4.4:.1f} {y + 3.4:.1f}L{x + 4.4:.1f} {y + 3.4:.1f}Z"
        return f'<path class="d-ring" d="{corners}"/>'
    if shape == "diamond":
        corners = f"M{x:.1f} {y - 5:.1f}L{x + 5:.1f} {y:.1f}L{x:.1f} {y + 5:.1f}L{x - 5:.1f} {y:.1f}Z"
        return f'<path class="d-full" d="{corners}"/>'
    if shape == "cross":
        return line(x - 3.6, y - 3.6, x + 3.6, y + 3.6, "d-cycle") + line(x - 3.6, y + 3.6, x + 3.6, y - 3.6, "d-cycle")
    if shape == "plus":
        return line(x - 4.6, y, x + 4.6, y, "d-cycle") + line(x, y - 4.6, x, y + 4.6, "d-cycle")
    return dot(x, y, 4, "d-ring")


def _legend(history: ValveHistory, width: float) -> tuple[str, float]:
    """Shapes with the names of their windings, on as many rows as they need."""
    names = {winding.name: winding.shape for head in history.heads for winding in head.windings}
    strokes, x, y = "", _LEFT, 12.0
    for name, shape in names.items():
        wide = 26.0 + 7.4 * len(name)
        if x + wide > width and x > _LEFT:
            x, y = _LEFT, y + _LEGEND_ROW
        strokes += shape_strokes(shape, x + 5, y) + lettering(x + 15, y + 4, name, "d-number")
        x += wide
    return strokes, y


def _band(history: ValveHistory, scale: _Scale) -> str:
    if history.band_ohm is None:
        return ""
    low, high = history.band_ohm
    wide = scale.width - _LEFT - _RIGHT
    soft = box(_LEFT, scale.y(high), wide, scale.y(low) - scale.y(high), "d-soft")
    said = f"should read {plain(round(low, 1))} to {plain(round(high, 1))} Ω"
    return soft + lettering(scale.width - _RIGHT - 5, scale.y(low) - 5, said, "d-quiet", "end")


def _axes(history: ValveHistory, scale: _Scale) -> str:
    strokes = [
        line(_LEFT, scale.base, scale.width - _RIGHT, scale.base, "d-thin"),
        lettering(_LEFT - 6, scale.top - 8, "Ω", "d-quiet", "end"),
    ]
    tick = -floor(-scale.low / scale.step) * scale.step
    while tick <= scale.high:
        strokes.append(line(_LEFT - 4, scale.y(tick), _LEFT, scale.y(tick), "d-thin"))
        strokes.append(lettering(_LEFT - 7, scale.y(tick) + 4, plain(round(tick, 6)), "d-number", "end"))
        tick += scale.step
    days = [on for head in history.heads for on in head.days]
    first, last = min(days), max(days)
    years = [date(year, 1, 1) for year in range(first.year + 1, last.year + 1)]
    if len(years) < 2:
        ends = [(first, "start"), (last, "end")] if last > first else [(first, "middle")]
        return "".join(strokes) + "".join(_day_tick(scale, on, day(on), anchor) for on, anchor in ends)
    every = -(-len(years) // max(int((scale.width - 60) / 52), 1))
    return "".join(strokes) + "".join(_day_tick(scale, on, str(on.year), "middle") for on in years[::every])


def _day_tick(scale: _Scale, on: date, text: str, anchor: str) -> str:
    x = scale.x(on)
    return line(x, scale.base, x, scale.base + 5, "d-thin") + lettering(x, scale.base + 18, text, "d-number", anchor)


def _windings(head: HeadSeries, scale: _Scale) -> str:
    """Bars first, so that every dot stands on top."""
    bars, dots = [], []
    for at, winding in enumerate(head.windings):
        shift = _DODGE * (at - (len(head.windings) - 1) / 2)
        for spot in winding.spots:
            x = scale.x(spot.day) + shift
            if spot.ohm is not None:
                bars.append(_bar(spot, x, scale))
                dots.append(shape_strokes(winding.shape, x, scale.y(spot.ohm)))
            elif spot.is_open:
                dots.append(_open(winding, x, scale))
    return "".join((*bars, *dots))


def _bar(spot: Spot, x: float, scale: _Scale) -> str:
    if spot.ohm is None or spot.u_ohm is None:
        return ""
    return line(x, scale.y(spot.ohm - spot.u_ohm), x, scale.y(spot.ohm + spot.u_ohm), "d-ink")


def _open(winding: WindingSeries, x: float, scale: _Scale) -> str:
    """A broken line from below to over the scale."""
    top = scale.top - 16
    return line(x, scale.top + 26, x, scale.top - 2, "d-broken") + lettering(
        x, top + 8, f"{winding.name} {words.OPEN}", "d-small", "middle"
    )


def _drift_lines(head: HeadSeries, scale: _Scale) -> str:
    """The line of a winding that is called out, through the middle of its readings."""
    strokes = ""
    for drift in head.drift.called:
        spots = [
            spot
            for winding in head.windings
            if drift.winding in (winding.name, None)
            for spot in winding.spots
            if spot.ohm is not None
        ]
        days = [spot.day.toordinal() for spot in spots]
        middle = sum(days) / len(days)
        level = sum(log(spot.ohm or 1.0) for spot in spots) / len(spots)
        ends = [date.fromordinal(min(days)), date.fromordinal(max(days))]
        at = [exp(level + drift.per_year_frac * (on.toordinal() - middle) / 365.25) for on in ends]
        strokes += polyline([(scale.x(on), scale.y(ohm)) for on, ohm in zip(ends, at, strict=True)], "d-broken")
    return strokes


def _head_changes(history: ValveHistory, scale: _Scale) -> str:
    strokes = ""
    for before, head in zip(history.heads, history.heads[1:], strict=False):
        x = _changed_at(before, head, scale)
        strokes += line(x, scale.top - 4, x, scale.base, "d-dash")
        strokes += lettering(x + 4, scale.top + 6, words.NEW_HEAD, "d-small")
    return strokes


def _changed_at(before: HeadSeries, head: HeadSeries, scale: _Scale) -> float:
    """On the day it was fitted, if that lies between the readings; else half way."""
    since, last, first = head.head.since if head.head else None, before.days[-1], head.days[0]
    if since is not None and last <= since <= first:
        return scale.x(since)
    return (scale.x(last) + scale.x(first)) / 2


def _events(history: ValveHistory, scale: _Scale) -> tuple[str, float]:
    """Work as ticks under the axis, each with its word on the first row where it has room."""
    rows: list[float] = []
    strokes, below = "", scale.base + 22
    for event in sorted(history.events, key=lambda one: one.day):
        wide = _LETTER * len(event.word)
        x = scale.x(event.day)
        left = min(max(x - wide / 2, 2.0), scale.width - wide - 2.0)
        row = next((at for at, end in enumerate(rows) if left > end + 6), len(rows))
        rows[row : row + 1] = [left + wide]
        y = scale.base + 38 + 15 * row
        strokes += line(x, scale.base - 8, x, scale.base + 6, "d-cycle") + lettering(left, y, event.word, "d-small")
        below = max(below, y)
    return strokes, below


def _described(history: ValveHistory) -> str:
    said: list[str] = []
    for head in history.heads:
        windings: Sequence[WindingSeries] = head.windings
        days = head.days
        said.append(f"{counted(len(windings), 'winding')} read on {counted(len(days), 'day')}")
        for winding in windings:
            last = winding.spots[-1]
            value = words.OPEN if last.is_open else ohms(last.ohm, last.u_ohm) if last.ohm is not None else "no value"
            said.append(f"{winding.name}: {value} on {day(last.day)}")
    return "; ".join(said) + "."
