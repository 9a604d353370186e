"""The plug picture: pins in order, pairs read carrying their ohms, an open as a broken line, the two pins to touch."""

from collections.abc import Sequence
from typing import Final

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing import box, dot, lettering, line, polyline, shortened
from fifthwire.model.record import record

WIDTH: Final = 360
_LEFT: Final = 34.0
_SPAN: Final = 230.0
_WIDEST_PITCH: Final = 56.0
_BODY_TOP, _BODY_HEIGHT = 38.0, 34.0
_LEVEL: Final = 21.0
_PIN: Final = 20.0


@record(kw_only=False)
class PairRead:
    """A pair of pins with what the meter showed."""

    wire_a: str
    wire_b: str
    figure: str
    """Ohms without unit, or "open"."""


def plug_picture(
    pins: Sequence[str], pairs: Sequence[PairRead], touch: tuple[str, str] | None, caption: str, title: str
) -> Picture:
    """A head's connector, with what was read at it and what to touch next.

    Parameters
    ----------
    pins : sequence of str
        Wire names in order.
    pairs : sequence of PairRead
        A repeat stands as a pair of its own.
    touch : tuple of str or None
        The next two pins; None where nothing is left to settle.
    caption, title : str
        What is printed over it; the same with the valve's name.

    Returns
    -------
    Picture
        Lines under the plug, each spanning its two pins.
    """
    places = _places(pins)
    levels = _levels(pairs, places)
    bottom = _BODY_TOP + _BODY_HEIGHT + 16 + _LEVEL * (max(levels, default=-1) + 1)
    strokes = [_guides(pairs, levels, places), _body(places)]
    strokes += [_pin(name, x, is_here=touch is not None and name in touch) for name, x in places.items()]
    strokes += [_pair(pair, places, level) for pair, level in zip(pairs, levels, strict=True)]
    if touch is not None and touch[0] in places and touch[1] in places:
        strokes.append(_to_touch(places[touch[0]], places[touch[1]], touch))
    return Picture(
        svg="".join(strokes),
        width=WIDTH,
        height=int(bottom + 6),
        caption=caption,
        title=title,
        description=_described(pairs, touch),
    )


def _places(pins: Sequence[str]) -> dict[str, float]:
    pitch = min(_WIDEST_PITCH, _SPAN / max(len(pins) - 1, 1))
    return {name: _LEFT + pitch * place for place, name in enumerate(pins)}


def _levels(pairs: Sequence[PairRead], places: dict[str, float]) -> list[int]:
    """Lines that do not overlap share a level."""
    taken: list[list[tuple[float, float]]] = []
    levels = []
    for pair in pairs:
        left, right = sorted((places[pair.wire_a], places[pair.wire_b]))
        level = next(
            (at for at, spans in enumerate(taken) if all(right < low or left > high for low, high in spans)), len(taken)
        )
        if level == len(taken):
            taken.append([])
        taken[level].append((left, right))
        levels.append(level)
    return levels


def _guides(pairs: Sequence[PairRead], levels: Sequence[int], places: dict[str, float]) -> str:
    """From each pin down to the last line that touches it."""
    lowest: dict[str, int] = {}
    for pair, level in zip(pairs, levels, strict=True):
        for wire in (pair.wire_a, pair.wire_b):
            lowest[wire] = max(level, lowest.get(wire, 0))
    start = _BODY_TOP + _BODY_HEIGHT
    return "".join(
        line(places[wire], start, places[wire], _height_of(level), "d-thin") for wire, level in lowest.items()
    )


def _height_of(level: int) -> float:
    return _BODY_TOP + _BODY_HEIGHT + 18 + _LEVEL * (level + 0.5)


def _body(places: dict[str, float]) -> str:
    left, right = min(places.values()) - 24, max(places.values()) + 24
    middle = (left + right) / 2
    latch = polyline(
        [(middle - 20, _BODY_TOP), (middle - 16, _BODY_TOP - 8), (middle + 16, _BODY_TOP - 8), (middle + 20, _BODY_TOP)]
    )
    word = lettering(right + 8, _BODY_TOP + 2, "latch side", "d-quiet")
    return box(left, _BODY_TOP, right - left, _BODY_HEIGHT, "d-ring", 5) + latch + word


def _pin(name: str, x: float, *, is_here: bool) -> str:
    middle = _BODY_TOP + _BODY_HEIGHT / 2
    shape = box(x - _PIN / 2, middle - _PIN / 2, _PIN, _PIN, "d-accent" if is_here else "d-ring", 2)
    if len(name) <= 2:
        return shape + lettering(x, middle + 4, name, "d-on-accent" if is_here else "d-number", "middle")
    return shape + lettering(x, _BODY_TOP + _BODY_HEIGHT + 11, shortened(name, 6), "d-small", "middle")


def _pair(pair: PairRead, places: dict[str, float], level: int) -> str:
    left, right = sorted((places[pair.wire_a], places[pair.wire_b]))
    y = _height_of(level)
    width = 7.3 * len(pair.figure) + 5
    middle = (left + right) / 2
    return (
        line(left, y, right, y, "d-broken" if pair.figure == "open" else "d-ink")
        + dot(left, y, 2.6)
        + dot(right, y, 2.6)
        + box(middle - width / 2, y - 7, width, 14, "d-paper")
        + lettering(middle, y + 4, pair.figure, "d-number", "middle")
    )


def _to_touch(x_a: float, x_b: float, touch: tuple[str, str]) -> str:
    top = _BODY_TOP + (_BODY_HEIGHT - _PIN) / 2
    left, right = min(x_a, x_b), max(x_a, x_b)
    words = f"touch {shortened(touch[0], 8)} and {shortened(touch[1], 8)}"
    return polyline([(left, top), (left, 18), (right, 18), (right, top)], "d-here") + lettering(
        (left + right) / 2, 12, words, "d-text", "middle"
    )


def _described(pairs: Sequence[PairRead], touch: tuple[str, str] | None) -> str:
    read = [f"{pair.wire_a} to {pair.wire_b}: {pair.figure}{'' if pair.figure == 'open' else ' Ω'}" for pair in pairs]
    said = f"Read: {'; '.join(read)}." if read else "Nothing read yet."
    return said if touch is None else f"{said} Touch {touch[0]} and {touch[1]} next."
