"""An indoor unit: liquid through its valve into its coil, vapour back up; over it, where a branch unit has valves for
each of its ports, those of its port."""

from typing import Final

from fifthwire.assessment.drawing import dot, lettering, line, polyline, shortened
from fifthwire.assessment.stave.pieces import Drop, Enclosure, Heights, Piece
from fifthwire.assessment.stave.symbols import HALF_VALVE, coil_across
from fifthwire.assessment.stave.valves import LINE, Area, Pen, lane_width, linked, state_ink, state_words, valve_in_lane
from fifthwire.model.kept.places import UnitPlace, ValveRow
from fifthwire.model.record import record

SLOT: Final = 78.0
_LIQUID, _GAS = 24.0, 64.0
_MORE: Final = 44.0
"""Between the valves of a unit that has several.  [px]"""
_TO_COIL: Final = 40.0
_LETTERS: Final = 12


@record
class Port:
    """What a branch unit has for one of its indoor units, and where that unit's pipes come from."""

    branch: str
    gas_rails: tuple[str, ...]
    """One, or hot gas and suction where its valves choose between them."""
    liquid_rail: str
    gas_valves: tuple[ValveRow | None, ...] = ()
    """One a gas rail; None where the rail has no valve."""
    liquid_valve: ValveRow | None = None

    @property
    def has_valves(self) -> bool:
        """Whether any valve is its own."""
        return self.liquid_valve is not None or any(self.gas_valves)


def indoor_piece(pen: Pen, unit: UnitPlace, valves: tuple[ValveRow, ...], port: Port, at: Heights) -> Piece:
    """An indoor unit.

    Parameters
    ----------
    pen : Pen
        To draw with.
    unit : UnitPlace
        The unit.
    valves : tuple of ValveRow
        Its own, usually one.
    port : Port
        Where its pipes come from.
    at : Heights
        Of the drawing.
    """
    extra = _MORE * max(len(valves) - 1, 0)
    gas_x = _GAS + extra
    coil_y = at.unit_valve_y + _TO_COIL
    gas = _gas_side(pen, port, gas_x, coil_y, at)
    own = _own_valves(pen, unit, valves, at) if valves else ""
    upper = valve_in_lane(pen, port.liquid_valve, _LIQUID, at.valve_y) if port.liquid_valve is not None else ""
    body = _liquid_pipe(port, len(valves), coil_y, at) + coil_across(_LIQUID + extra, gas_x, coil_y)
    liquid_to = at.valve_y - HALF_VALVE if port.liquid_valve is not None else _top_of_unit(at, len(valves), coil_y)
    width = max(SLOT + extra, gas[2])
    return Piece(
        width=width,
        bottom=coil_y + 22 + LINE * (2 + len(room_lines(unit.room))),
        svg=body + gas[0] + upper + own + _name(unit, valves, coil_y, extra),
        drops=(Drop(rail=port.liquid_rail, x=_LIQUID, to_y=liquid_to), *gas[1]),
        name=unit.name,
        enclosure=Enclosure(port.branch, at.end + 12, at.valve_y + 74) if port.has_valves else None,
        can_stretch=True,
    )


def _top_of_unit(at: Heights, n_valves: int, coil_y: float) -> float:
    if n_valves == 0:
        return coil_y
    return at.unit_valve_y - (HALF_VALVE if n_valves == 1 else 18.0)


def _liquid_pipe(port: Port, n_valves: int, coil_y: float, at: Heights) -> str:
    """From the port's valve, if there is one, through the unit's own to its coil."""
    strokes = ""
    if port.liquid_valve is not None:
        strokes += line(_LIQUID, at.valve_y + HALF_VALVE, _LIQUID, _top_of_unit(at, n_valves, coil_y))
    if n_valves > 1:
        top = at.unit_valve_y - 18.0
        right = _LIQUID + _MORE * (n_valves - 1)
        strokes += line(_LIQUID, top, right, top) + line(_LIQUID, coil_y, right, coil_y)
    for k in range(n_valves):
        x = _LIQUID + _MORE * k
        strokes += line(x, at.unit_valve_y + HALF_VALVE, x, coil_y)
        strokes += line(x, at.unit_valve_y - 18.0, x, at.unit_valve_y - HALF_VALVE) if n_valves > 1 else ""
    return strokes


def _gas_side(pen: Pen, port: Port, gas_x: float, coil_y: float, at: Heights) -> tuple[str, tuple[Drop, ...], float]:
    """Strokes, pipes from the rails, and the right end of the lettering."""
    if len(port.gas_rails) == 1 and not any(port.gas_valves):
        return "", (Drop(rail=port.gas_rails[0], x=gas_x, to_y=coil_y),), 0.0
    x = first = max(gas_x, _LIQUID + lane_width(port.liquid_valve) if port.liquid_valve is not None else 0.0)
    strokes, drops, right, join_y = "", [], x, at.valve_y + 64.0
    for rail, row in zip(port.gas_rails, port.gas_valves, strict=True):
        drops.append(Drop(rail=rail, x=x, to_y=at.valve_y - HALF_VALVE if row is not None else join_y))
        if row is not None:
            pipe = line(x, at.valve_y + HALF_VALVE, x, join_y, "d-cycle")
            strokes += pipe + valve_in_lane(pen, row, x, at.valve_y)
        right, x = x, x + lane_width(row)
    strokes = polyline([(gas_x, coil_y), (gas_x, join_y), (right, join_y)], "d-cycle") + strokes
    strokes += dot(first, join_y, 2.6) if right > first > gas_x else ""
    return strokes, tuple(drops), x + 4


def _own_valves(pen: Pen, unit: UnitPlace, valves: tuple[ValveRow, ...], at: Heights) -> str:
    """One valve owns the whole unit; of several each is named."""
    y = at.unit_valve_y
    if len(valves) > 1:
        return "".join(valve_in_lane(pen, row, _LIQUID + _MORE * k, y) for k, row in enumerate(valves))
    row = valves[0]
    texts = [_state(row, y + _TO_COIL, unit)]
    high = _TO_COIL + 30 + LINE * (1 + len(room_lines(unit.room)))
    return linked(pen, row, _LIQUID, y, texts, Area(2, y - 14, SLOT - 4, high), unit.room or "")


def _state(row: ValveRow, coil_y: float, unit: UnitPlace) -> str:
    down = coil_y + 22 + LINE * (1 + len(room_lines(unit.room)))
    return lettering(SLOT / 2 + 3, down, state_words(row), state_ink(row), "middle")


def room_lines(room: str | None) -> tuple[str, ...]:
    """A room's name under its unit, on two lines where it is long.

    Examples
    --------
    >>> room_lines("Room 101"), room_lines("Ground floor 3"), room_lines("Ground floor, room 3")
    (('Room 101',), ('Ground floor', '3'), ('Ground', '… room 3'))
    """
    if not room:
        return ()
    if len(room) <= _LETTERS:
        return (room,)
    cut = room.rfind(" ", 0, _LETTERS + 1)
    if cut <= 0:
        return (shortened(room, _LETTERS),)
    return room[:cut], _ending(room[cut + 1 :])


def _ending(text: str) -> str:
    """The end of a text that is too long: what tells rooms apart stands there."""
    if len(text) <= _LETTERS:
        return text
    words = text.split()
    while len(words) > 1 and len("… " + " ".join(words)) > _LETTERS:
        words.pop(0)
    return shortened("… " + " ".join(words), _LETTERS)


def _name(unit: UnitPlace, valves: tuple[ValveRow, ...], coil_y: float, extra: float) -> str:
    middle = (SLOT + extra) / 2 + 3
    strokes = lettering(middle, coil_y + 22, shortened(unit.name, _LETTERS - 2), "d-name", "middle")
    lines = room_lines(unit.room)
    for k, text in enumerate(lines):
        strokes += lettering(middle, coil_y + 22 + LINE * (k + 1), text, "d-word", "middle")
    if not valves:
        down = coil_y + 22 + LINE * (1 + len(lines))
        strokes += lettering(middle, down, "no valve", "d-word", "middle")
    return strokes
