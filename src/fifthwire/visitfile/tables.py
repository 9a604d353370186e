"""Arrays of rows: readings between wires, and the points of a sensor's curve."""

from typing import Any

from fifthwire.model.errors import InputError
from fifthwire.model.units import parse_quantity
from fifthwire.model.valve import PairReading
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.places import Steps
from fifthwire.visitfile.values import ABSOLUTE_ZERO_C, shown
from fifthwire.visitfile.wires import ohm_or_open, wire

_READING = 'write [["5", "1", 64.9], ["5", "2", "open"]]: wire, wire, ohms or "open"'


def read_readings(written: Any, steps: Steps, context: Context) -> tuple[PairReading, ...]:
    """Every row `[wire, wire, ohms or "open"]`; a pair may stand more than once."""
    if not isinstance(written, list):
        raise InputError(f"{shown(written)} is no array of readings", _READING)
    if len(written) == 3 and not isinstance(written[0], list):
        raise InputError("one reading without its outer brackets", f"write [[{', '.join(map(shown, written))}]]")
    rows = (_reading(row, (*steps, index), context) for index, row in enumerate(written))
    return tuple(row for row in rows if row is not None)


def _reading(row: Any, steps: Steps, context: Context) -> PairReading | None:
    if not isinstance(row, list) or len(row) != 3:
        context.problems.add(steps, f"{shown(row)} is not wire, wire, ohms", _READING)
        return None
    parts: list[Any] = []
    for index, (part, read) in enumerate(zip(row, (wire, wire, ohm_or_open), strict=True)):
        try:
            parts.append(read(part))
        except InputError as err:
            context.problems.add_error((*steps, index), err)
    if len(parts) < 3:
        return None
    if parts[0] == parts[1]:
        context.problems.add(steps, f"the same wire twice: {parts[0]} and {parts[1]}", "name the two wires touched")
        return None
    return PairReading(*parts)


def read_curve_table(written: Any, steps: Steps, context: Context) -> tuple[tuple[float, float], ...]:
    """Every row `[temperature, resistance]`, temperatures rising or falling, and resistances with them or against."""
    if not isinstance(written, list) or len(written) < 2:
        raise InputError(f"{shown(written)} is no table of two points or more", 'write [["0 degC", "32.58 kohm"], ...]')
    points = [_point(row, (*steps, index), context) for index, row in enumerate(written)]
    whole = [point for point in points if point is not None]
    if len(whole) == len(points):
        _require_monotone([celsius for celsius, _ in whole], 0, "temperatures", steps, context)
        _require_monotone([ohm for _, ohm in whole], 1, "resistances", steps, context)
    return tuple(whole)


def _point(row: Any, steps: Steps, context: Context) -> tuple[float, float] | None:
    if not isinstance(row, list) or len(row) != 2:
        context.problems.add(steps, f"{shown(row)} is no point", 'write ["25 degC", "10.00 kohm"]')
        return None
    found: list[float] = []
    for index, (part, unit, low) in enumerate(zip(row, ("degC", "ohm"), (ABSOLUTE_ZERO_C, 0.0), strict=True)):
        try:
            found.append(_above(parse_quantity(part, unit), low, f"{shown(part)} is not above {low:g} {unit}"))
        except InputError as err:
            context.problems.add_error((*steps, index), err)
    return (found[0], found[1]) if len(found) == 2 else None


def _above(value: float, low: float, message: str) -> float:
    if value <= low:
        raise InputError(f"{message}, which cannot be", "check the number and its unit")
    return value


def _require_monotone(values: list[float], column: int, what: str, steps: Steps, context: Context) -> None:
    """All steps go one way; the first that does not is named."""
    is_rising = values[1] > values[0]
    for index in range(1, len(values)):
        if (values[index] > values[index - 1]) != is_rising or values[index] == values[index - 1]:
            message = f"the {what} do not go one way: {values[index]:g} after {values[index - 1]:g}"
            context.problems.add((*steps, index, column), message, "list the points by temperature, each once")
            return
