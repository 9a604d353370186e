"""A branch unit whose valves serve all units behind it: short verticals from the mains, and two pipes that go on."""

from typing import Final

from fifthwire.assessment.drawing import dot, line
from fifthwire.assessment.stave.pieces import Drop, Enclosure, Heights, Piece
from fifthwire.assessment.stave.symbols import HALF_VALVE, coil_across
from fifthwire.assessment.stave.valves import Pen, lane_width, valve_in_lane
from fifthwire.model.kept.places import UnitPlace, ValveRow
from fifthwire.model.record import record

_FIRST: Final = 24.0
_BYPASS_FIRST: Final = 38.0
_BARE_LANE: Final = 20.0
_GAS_JOIN, _LIQUID_JOIN, _FLOOR = 66.0, 78.0, 90.0
"""Below the valves.  [px]"""


@record
class Trunk:
    """What of a branch unit is shared by the units behind it."""

    unit: UnitPlace
    bypass: tuple[ValveRow, ...]
    liquid: tuple[ValveRow, ...]
    gas: tuple[tuple[str, tuple[ValveRow, ...]], ...]
    """A main with its valves, each; empty where every port has its own."""
    has_liquid: bool
    """Whether liquid goes on from here; False where every port has its own valve for it."""


def branch_piece(pen: Pen, trunk: Trunk, at: Heights) -> Piece:
    """A branch unit's shared part.

    Parameters
    ----------
    pen : Pen
        To draw with.
    trunk : Trunk
        Its valves by what they do.
    at : Heights
        Of the drawing.
    """
    strokes, drops = [], []
    x = _FIRST
    for row in trunk.bypass:
        x = _BYPASS_FIRST if x == _FIRST else x + 16.0
        bypass, pipes = _bypass(pen, row, x, at)
        strokes.append(bypass)
        drops += pipes
        x += lane_width(row)
    if trunk.has_liquid:
        drawn, pipes, liquid_x, x = _lanes(pen, (("liquid", trunk.liquid),), x, at.valve_y + _LIQUID_JOIN, at)
        strokes.append(drawn)
        drops += pipes
    if trunk.gas:
        drawn, pipes, gas_x, x = _lanes(pen, trunk.gas, x, at.valve_y + _GAS_JOIN, at)
        strokes.append(drawn)
        drops += pipes
        strokes.append(line(gas_x, at.valve_y + _GAS_JOIN, x, at.valve_y + _GAS_JOIN, "d-cycle"))
        drops.append(_riser(f"{trunk.unit.name}/gas", x, at.valve_y + _GAS_JOIN))
        x += 12.0
    if trunk.has_liquid:
        strokes.append(line(liquid_x, at.valve_y + _LIQUID_JOIN, x, at.valve_y + _LIQUID_JOIN))
        drops.append(_riser(f"{trunk.unit.name}/liquid", x, at.valve_y + _LIQUID_JOIN))
        x += 12.0
    return Piece(
        width=x + 10,
        bottom=at.valve_y + _FLOOR + 18,
        svg="".join(strokes),
        drops=tuple(drops),
        name=trunk.unit.name,
        enclosure=Enclosure(trunk.unit.name, at.end + 12, at.valve_y + _FLOOR),
    )


def _riser(rail: str, x: float, to_y: float) -> Drop:
    return Drop(rail=rail, x=x, to_y=to_y, is_source=True)


def _lanes(
    pen: Pen, mains: tuple[tuple[str, tuple[ValveRow, ...]], ...], x: float, join_y: float, at: Heights
) -> tuple[str, list[Drop], float, float]:
    """Verticals side by side that end in one pipe: strokes, drops, where it begins, and where there is room."""
    strokes, drops, start = [], [], x
    for main, rows in mains:
        for row in rows:
            drops.append(Drop(rail=main, x=x, to_y=at.valve_y - HALF_VALVE))
            ink = "d-ink" if main == "liquid" else "d-cycle"
            strokes += [line(x, at.valve_y + HALF_VALVE, x, join_y, ink), valve_in_lane(pen, row, x, at.valve_y)]
            strokes.append(dot(x, join_y, 2.6) if x > start else "")
            x += lane_width(row)
        if not rows:
            drops.append(Drop(rail=main, x=x, to_y=join_y))
            x += _BARE_LANE
    return "".join(strokes), drops, start, x


def _bypass(pen: Pen, row: ValveRow, x: float, at: Heights) -> tuple[str, list[Drop]]:
    """Liquid let down through the subcooling valve, through the subcooler and back to the suction main."""
    low, back = at.valve_y + _GAS_JOIN, x - 28.0
    strokes = (
        line(x, at.valve_y + HALF_VALVE, x, low) + coil_across(back, x, low) + valve_in_lane(pen, row, x, at.valve_y)
    )
    gas = at.rails[-2].key
    drops = [Drop(rail=gas, x=back, to_y=low), Drop(rail="liquid", x=x, to_y=at.valve_y - HALF_VALVE)]
    return strokes, drops
