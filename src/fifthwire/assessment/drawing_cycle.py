"""The pressure-enthalpy diagram: the lines of saturation, the cycle in ink, and what cannot be known dashed."""

from collections.abc import Callable, Sequence
from math import ceil, floor, log10
from typing import Final, TypeAlias

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing import dot, lettering, line, polyline
from fifthwire.assessment.figures import temperature
from fifthwire.diagnosis.running.cycle import Cycle, CyclePoint
from fifthwire.model.units import convert

WIDTH: Final = 360
HEIGHT: Final = 300
_LEFT, _RIGHT, _TOP, _BASE = 48.0, 348.0, 24.0, 256.0
_ROOM_BELOW, _ROOM_ABOVE = 1.75, 1.6
"""How far the diagram reaches below the lower and above the higher pressure.  [1]  Our choice."""
_MARGIN_KJ_KG: Final = 18.0
_TICKS_KPA: Final = (50, 100, 200, 500, 1000, 2000, 5000, 10000)
_TICKS_PSIA: Final = (10, 20, 50, 100, 200, 500, 1000)
NUMBERS: Final = {"suction": "1", "discharge": "2", "liquid": "3", "inlet": "4"}

_To: TypeAlias = Callable[[float], float]


def cycle_picture(
    cycle: Cycle,
    evaporating_c: float,
    condensing_c: float,
    *,
    caption: str,
    title: str,
    units: str = "si",
    origin: str | None = None,
) -> Picture:
    """A pressure-enthalpy diagram.

    Parameters
    ----------
    cycle : Cycle
        As worked out from the readings.
    evaporating_c, condensing_c : float
        Dew temperatures of the two pressures.  [°C]
    caption, title : str
        What is printed over it; the same with the outdoor unit's name.
    units : str
        "si": kPa and °C, or "us": psia and °F; enthalpy stays in kJ/kg.
    origin : str or None
        Where the corners come from, for who cannot see the drawing; None: from readings, or not, one by one.

    Returns
    -------
    Picture
        Corners numbered as in the table under it.
    """
    suction, discharge, _, _ = cycle.points
    low, high = suction.kpa_abs / _ROOM_BELOW, discharge.kpa_abs * _ROOM_ABOVE
    left, right = _span(cycle, low, high)

    def x(enthalpy: float) -> float:
        return _LEFT + (enthalpy - left) / (right - left) * (_RIGHT - _LEFT)

    def y(kpa: float) -> float:
        return _BASE - log10(kpa / low) / log10(high / low) * (_BASE - _TOP)

    strokes = [_frame(), _enthalpies(left, right, x), _pressures(low, high, y, units)]
    for saturation in (cycle.liquid_line, cycle.vapour_line):
        inside = [(x(h), y(kpa)) for h, kpa in saturation if low <= kpa <= high and left <= h <= right]
        strokes += [polyline(inside, "d-thin")] if len(inside) > 1 else []
    strokes += _legs(cycle.points, x, y)
    strokes += _lettered(cycle, evaporating_c, condensing_c, x, y, units)
    return Picture(
        svg="".join(strokes),
        width=WIDTH,
        height=HEIGHT,
        caption=caption,
        title=title,
        description=_described(cycle, evaporating_c, condensing_c, units, origin),
    )


def _span(cycle: Cycle, low: float, high: float) -> tuple[float, float]:
    ends = [one.enthalpy_kj_kg for one in cycle.points]
    ends += [h for line_of in (cycle.liquid_line, cycle.vapour_line) for h, kpa in line_of if low <= kpa <= high]
    return min(ends) - _MARGIN_KJ_KG, max(ends) + _MARGIN_KJ_KG


def _frame() -> str:
    return line(_LEFT, _TOP, _LEFT, _BASE, "d-thin") + line(_LEFT, _BASE, _RIGHT, _BASE, "d-thin")


def _enthalpies(left: float, right: float, x: _To) -> str:
    step = 50.0 if right - left <= 320.0 else 100.0
    strokes = []
    tick = ceil(left / step) * step
    while tick <= floor(right / step) * step:
        strokes += [line(x(tick), _BASE, x(tick), _BASE + 4, "d-thin")]
        strokes += [lettering(x(tick), _BASE + 17, f"{tick:.0f}", "d-number", "middle")]
        tick += step
    strokes.append(lettering(_RIGHT, _BASE + 34, "enthalpy, kJ/kg", "d-quiet", "end"))
    return "".join(strokes)


def _pressures(low: float, high: float, y: _To, units: str) -> str:
    to_kpa = convert(1.0, "psia", "kPa") if units == "us" else 1.0
    strokes = [lettering(2, _TOP - 10, "psia" if units == "us" else "kPa absolute", "d-quiet")]
    for tick in _TICKS_PSIA if units == "us" else _TICKS_KPA:
        kpa = tick * to_kpa
        if low <= kpa <= high:
            strokes += [line(_LEFT - 4, y(kpa), _LEFT, y(kpa), "d-thin")]
            strokes += [lettering(_LEFT - 7, y(kpa) + 4, str(tick), "d-number", "end")]
    return "".join(strokes)


def _legs(points: Sequence[CyclePoint], x: _To, y: _To) -> list[str]:
    """The four sides, then the corners on top of them: filled where read, rings where taken in place of a reading."""
    strokes = []
    for start, end in zip(points, [*points[1:], points[0]], strict=True):
        ink = "d-cycle" if start.is_read and end.is_read else "d-broken"
        strokes.append(line(x(start.enthalpy_kj_kg), y(start.kpa_abs), x(end.enthalpy_kj_kg), y(end.kpa_abs), ink))
    for one in points:
        here, at = x(one.enthalpy_kj_kg), y(one.kpa_abs)
        if one.u_enthalpy_kj_kg is not None:
            left, right = x(one.enthalpy_kj_kg - one.u_enthalpy_kj_kg), x(one.enthalpy_kj_kg + one.u_enthalpy_kj_kg)
            strokes += [line(end, at - 7, end, at + 7) for end in (left, right)]
        strokes.append(dot(here, at, 4.0, "d-full" if one.is_read else "d-ring"))
    return strokes


_BESIDE: Final = {"suction": (9, 17, "start"), "discharge": (9, -7, "start"), "liquid": (-9, -7, "end"),
                  "inlet": (-9, 17, "end")}  # fmt: skip
"""Where the number of a corner stands: outside of the cycle."""


def _lettered(cycle: Cycle, evaporating_c: float, condensing_c: float, x: _To, y: _To, units: str) -> list[str]:
    suction, discharge, liquid, _ = cycle.points
    strokes = []
    for one in cycle.points:
        dx, dy, anchor = _BESIDE[one.name]
        strokes.append(
            lettering(x(one.enthalpy_kj_kg) + dx, y(one.kpa_abs) + dy, NUMBERS[one.name], "d-number", anchor)
        )
    middle = x((liquid.enthalpy_kj_kg + suction.enthalpy_kj_kg) / 2.0)
    strokes.append(lettering(middle, y(discharge.kpa_abs) - 9, _condenses(condensing_c, units), "d-text", "middle"))
    strokes.append(lettering(middle, y(suction.kpa_abs) + 17, _boils(evaporating_c, units), "d-text", "middle"))
    return strokes


def _condenses(c: float, units: str) -> str:
    return f"condenses at {temperature(c, units, 1)}"


def _boils(c: float, units: str) -> str:
    return f"boils at {temperature(c, units, 1)}"


def _described(cycle: Cycle, evaporating_c: float, condensing_c: float, units: str, origin: str | None) -> str:
    taken = [NUMBERS[one.name] for one in cycle.points if not one.is_read]
    said = f"The refrigerant {_boils(evaporating_c, units)} and {_condenses(condensing_c, units)}."
    if origin is not None:
        return f"{said} {origin}"
    if not taken:
        return f"{said} All four corners are from readings."
    return f"{said} Dashed, not from readings of their own: {', '.join(taken)}."
