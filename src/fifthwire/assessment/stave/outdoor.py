"""An outdoor unit: coils behind their main valves, four-way valve, compressors, subcooler, and what goes past them.

Inside stand four rails: liquid, the coils' gas, suction and discharge. A compressor hangs between suction and
discharge, a coil between liquid and its gas, a bypass between liquid and suction.
"""

from collections.abc import Sequence
from typing import Final

from fifthwire.assessment.drawing import box, dot, lettering, line, polyline, shortened
from fifthwire.assessment.stave.pieces import Drop, Heights, Piece
from fifthwire.assessment.stave.symbols import (
    COMPRESSOR,
    FOUR_WAY,
    HALF_VALVE,
    arrow,
    coil_down,
    compressor,
    exchanger,
    falling_pipe,
    four_way,
    vessel,
)
from fifthwire.assessment.stave.valves import Pen, lane_width, valve_in_lane
from fifthwire.model.kept.places import UnitPlace, ValveRow
from fifthwire.model.record import record

_FIRST: Final = 26.0
_COIL_GAS_X: Final = 9.0
_FOUR_WAY_X: Final = 40.0


@record
class OutdoorValves:
    """The valves of an outdoor unit by what they do."""

    main: tuple[ValveRow, ...] = ()
    injection: tuple[ValveRow, ...] = ()
    bypass: tuple[ValveRow, ...] = ()
    receiver: tuple[ValveRow, ...] = ()
    hot_gas: tuple[ValveRow, ...] = ()


@record
class _Levels:
    """Heights inside the unit. [px]"""

    liquid: float
    valve: float
    coil_gas: float
    suction: float
    low_valve: float
    """Of the valves beside the compressors."""
    machine: float
    discharge: float


@record
class _Places:
    """Where the lanes stand. [px]"""

    coils: tuple[float, ...]
    gas: tuple[float, ...]
    """Pipes to the gas main; to hot gas and suction where there are three mains."""
    compressors: tuple[float, ...]
    injection: tuple[float, ...]
    receiver: tuple[float, ...]
    hot_gas: tuple[float, ...]
    exchanger: float | None
    """Left edge of the subcooler."""
    bypass: tuple[float, ...]
    riser: float
    """Pipe to the liquid main."""
    width: float


def outdoor_piece(
    pen: Pen, unit: UnitPlace, valves: OutdoorValves, at: Heights, *, n_compressors: int = 1, mode: str | None = None
) -> Piece:
    """An outdoor unit.

    Parameters
    ----------
    pen : Pen
        To draw with.
    unit : UnitPlace
        The unit.
    valves : OutdoorValves
        Its valves.
    at : Heights
        Of the drawing.
    n_compressors : int
        How many it has. [1]
    mode : str or None
        How the system runs; None: no arrows.
    """
    levels, places = _levels(at), _places(valves, at, n_compressors)
    strokes = [
        _coils(pen, valves.main, places, levels),
        _machines(places, levels, at, is_running=mode not in (None, "off")),
        _liquid_rail(valves, places, levels),
        _past_the_coils(pen, valves, places, levels),
        _hot_gas(pen, valves.hot_gas, places, levels),
    ]
    bottom = levels.discharge + 12
    frame = box(0.5, at.main_end + 19, places.width - 1, bottom - at.main_end - 19, "d-unit", 4)
    name = lettering(4, bottom + 16, shortened(unit.name, 24), "d-name")
    return Piece(
        width=places.width + 6,
        bottom=bottom + 20,
        svg=frame + "".join(strokes) + name,
        drops=_drops(places, levels, at),
        name=unit.name,
    )


def _levels(at: Heights) -> _Levels:
    liquid = at.main_end + 42.0
    valve = liquid + 26.0
    coil_gas = valve + 88.0
    suction = coil_gas + 16.0
    return _Levels(
        liquid=liquid,
        valve=valve,
        coil_gas=coil_gas,
        suction=suction,
        low_valve=suction + 26.0,
        machine=suction + 56.0,
        discharge=suction + 92.0,
    )


def _places(valves: OutdoorValves, at: Heights, n_compressors: int) -> _Places:
    coils = _coil_places(valves.main)
    after_coils = coils[-1] + (lane_width(valves.main[-1]) if valves.main else 24.0)
    gas = (after_coils, after_coils + 12) if at.is_heat_recovery else (after_coils,)
    compressors, injection, x = [], [], gas[-1] + 25
    for k in range(max(n_compressors, 1, len(valves.injection))):
        compressors.append(x)
        if k < len(valves.injection):
            injection.append(x + 30)
            x += 30 + lane_width(valves.injection[k])
        x += 16 if k < len(valves.injection) else 44
    hot_gas = _side_by_side(valves.hot_gas, x + 2)
    free = max([gas[-1] + 8, *[x + 10 for x in injection]])
    receiver = _side_by_side(valves.receiver, free + 18)
    if receiver:
        free = receiver[-1] + lane_width(valves.receiver[-1])
    bypass = _side_by_side(valves.bypass, free + 54)
    riser = bypass[0] if bypass else max(free + 10, compressors[-1] + 20)
    lanes = [(valves.bypass, bypass), (valves.hot_gas, hot_gas), (valves.injection, injection)]
    ends = [x + lane_width(row) for rows, xs in lanes for row, x in zip(rows, xs, strict=True)]
    return _Places(
        coils=coils,
        gas=gas,
        compressors=tuple(compressors),
        injection=tuple(injection),
        receiver=receiver,
        hot_gas=hot_gas,
        exchanger=free if bypass else None,
        bypass=bypass,
        riser=riser,
        width=max(riser + 18, compressors[-1] + 24, *ends, 0.0),
    )


def _coil_places(main: Sequence[ValveRow]) -> tuple[float, ...]:
    return _side_by_side(main, _FIRST) or (_FIRST,)


def _side_by_side(rows: Sequence[ValveRow], x: float) -> tuple[float, ...]:
    places = []
    for row in rows:
        places.append(x)
        x += lane_width(row)
    return tuple(places)


def _coils(pen: Pen, main: Sequence[ValveRow], at: _Places, levels: _Levels) -> str:
    """Each main valve with the coil behind it; the coils' gas goes down to the four-way valve."""
    strokes = []
    for k, x in enumerate(at.coils):
        if main:
            strokes.append(line(x, levels.liquid, x, levels.valve - HALF_VALVE))
            strokes.append(line(x, levels.valve + HALF_VALVE, x, levels.valve + 52))
            strokes.append(valve_in_lane(pen, main[k], x, levels.valve))
        else:
            strokes.append(line(x, levels.liquid, x, levels.valve + 52))
        strokes.append(coil_down(x, levels.valve + 52, levels.coil_gas))
        strokes.append(dot(x, levels.coil_gas, 2.2))
    port = _FOUR_WAY_X - FOUR_WAY
    strokes.append(
        polyline(
            [
                (at.coils[-1], levels.coil_gas),
                (_COIL_GAS_X, levels.coil_gas),
                (_COIL_GAS_X, levels.machine),
                (port, levels.machine),
            ],
            "d-cycle",
        )
    )
    return "".join(strokes)


def _machines(places: _Places, levels: _Levels, at: Heights, *, is_running: bool) -> str:
    """Four-way valve and compressors between suction and discharge."""
    x, y = _FOUR_WAY_X, levels.machine
    ends = [x, *places.compressors, *places.hot_gas]
    last = max(ends)
    suction_end = max([last, *places.receiver, *_exits(places)])
    strokes = [
        line(x, levels.suction, suction_end, levels.suction, "d-cycle"),
        line(x, levels.discharge, last, levels.discharge, "d-cycle"),
        line(x, levels.suction, x, y - FOUR_WAY, "d-cycle"),
        line(x, y + FOUR_WAY, x, levels.discharge, "d-cycle"),
        four_way(x, y),
    ]
    if at.is_heat_recovery:  # its fourth port is shut off
        strokes += [line(x + FOUR_WAY, y, x + FOUR_WAY + 7, y), line(x + FOUR_WAY + 7, y - 4, x + FOUR_WAY + 7, y + 4)]
    else:
        strokes.append(line(x + FOUR_WAY, y, places.gas[0], y, "d-cycle"))
    for k, at_x in enumerate(places.compressors):
        strokes += [line(at_x, levels.suction, at_x, levels.discharge, "d-cycle"), compressor(at_x, y)]
        strokes.append(arrow(at_x, levels.discharge - 10, "down") if is_running else "")
        if k < len(places.compressors) - 1:
            strokes.append(dot(at_x, levels.suction, 2.2) + dot(at_x, levels.discharge, 2.2))
    return "".join(strokes)


def _exits(places: _Places) -> list[float]:
    return [] if places.exchanger is None else [places.exchanger + 8]


def _liquid_rail(valves: OutdoorValves, places: _Places, levels: _Levels) -> str:
    strokes = line(_FIRST, levels.liquid, places.riser, levels.liquid)
    for x in [*places.coils[1:], *places.injection, *places.receiver]:
        strokes += dot(x, levels.liquid, 2.2)
    if places.receiver:
        strokes += vessel(places.receiver[0], levels.liquid)
    if places.exchanger is not None:
        strokes += exchanger(places.exchanger, places.exchanger + 32, levels.liquid)
        strokes += dot(places.riser, levels.liquid, 2.2)
    return strokes


def _past_the_coils(pen: Pen, valves: OutdoorValves, places: _Places, levels: _Levels) -> str:
    """Injection into the compressors, the receiver's gas and the subcooler's vapour back to suction."""
    strokes, below = [], levels.valve + HALF_VALVE
    for k, (x, row) in enumerate(zip(places.injection, valves.injection, strict=True)):
        strokes.append(falling_pipe(x, levels.liquid, levels.low_valve - HALF_VALVE, [levels.suction]))
        port = places.compressors[k] + COMPRESSOR
        strokes.append(polyline([(x, levels.low_valve + HALF_VALVE), (x, levels.machine), (port, levels.machine)]))
        strokes.append(valve_in_lane(pen, row, x, levels.low_valve))
    for x, row in zip(places.receiver, valves.receiver, strict=True):
        strokes += [line(x, levels.liquid + 8, x, levels.valve - HALF_VALVE), valve_in_lane(pen, row, x, levels.valve)]
        strokes.append(line(x, below, x, levels.suction) + dot(x, levels.suction, 2.2))
    if places.exchanger is not None:
        strokes.append(_subcooler(pen, valves.bypass, places, places.exchanger, levels))
    return "".join(strokes)


def _subcooler(pen: Pen, rows: Sequence[ValveRow], places: _Places, left: float, levels: _Levels) -> str:
    under, shelf = levels.liquid + 16, levels.valve + 58
    strokes = []
    for x, row in zip(places.bypass, rows, strict=True):
        strokes += [line(x, levels.liquid, x, levels.valve - HALF_VALVE), valve_in_lane(pen, row, x, levels.valve)]
        strokes.append(line(x, levels.valve + HALF_VALVE, x, shelf))
    if len(places.bypass) > 1:
        strokes.append(line(places.bypass[0], levels.liquid, places.bypass[-1], levels.liquid))
    strokes.append(polyline([(places.bypass[-1], shelf), (left + 25, shelf), (left + 25, under)]))
    strokes.append(line(left + 8, under, left + 8, levels.suction) + dot(left + 8, levels.suction, 2.2))
    return "".join(strokes)


def _hot_gas(pen: Pen, rows: Sequence[ValveRow], places: _Places, levels: _Levels) -> str:
    """Past the compressor, from discharge to suction."""
    strokes = []
    for x, row in zip(places.hot_gas, rows, strict=True):
        y = levels.low_valve
        strokes.append(line(x, levels.suction, x, y - HALF_VALVE) + line(x, y + HALF_VALVE, x, levels.discharge))
        strokes.append(valve_in_lane(pen, row, x, y))
    return "".join(strokes)


def _drops(places: _Places, levels: _Levels, at: Heights) -> tuple[Drop, ...]:
    liquid = Drop(rail="liquid", x=places.riser, to_y=levels.liquid, is_source=True)
    if not at.is_heat_recovery:
        inside = (levels.liquid, levels.suction)
        return Drop(rail="gas", x=places.gas[0], to_y=levels.machine, also_crossed=inside, is_source=True), liquid
    inside = (levels.liquid, levels.suction)
    return (
        Drop(rail="hot", x=places.gas[0], to_y=levels.discharge, also_crossed=inside, is_source=True),
        Drop(rail="suction", x=places.gas[1], to_y=levels.suction, also_crossed=inside[:1], is_source=True),
        liquid,
    )
