"""Values with a small grammar of their own: tolerances, accuracies, openings, insulation, pulses and the like."""

from collections.abc import Callable, Mapping
from datetime import date
from itertools import pairwise
from math import inf
from typing import Any, Literal

from fifthwire.model.choices import LOG_CAUSES, VALVE_CURVES
from fifthwire.model.errors import InputError
from fifthwire.model.running import Opening
from fifthwire.model.units import finite, parse_quantity, split_number
from fifthwire.model.valve import Insulation
from fifthwire.model.visit import Accuracy, Tolerance
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.places import Steps
from fifthwire.visitfile.tables import read_curve_table, read_readings
from fifthwire.visitfile.values import one_of, shown, to_day
from fifthwire.visitfile.wires import ohm_or_open, read_wires, wire

Grammar = Callable[[Any, Steps, Context], Any]


def read_tolerance(written: Any, steps: Steps, context: Context) -> Tolerance:
    """`"10 %"` or `"6 ohm"`; a bare number is ohms."""
    if isinstance(written, str) and written.rstrip().endswith("%"):
        frac = parse_quantity(written, "frac")
        if not 0.0 < frac < 1.0:
            raise InputError(f"{shown(written)} is not between 0 and 100 %, which cannot be", 'write "10 %"')
        return Tolerance(frac=frac)
    ohm = parse_quantity(written, "ohm")
    if ohm <= 0.0:
        raise InputError(f"{shown(written)} is not above 0 ohm, which cannot be", 'write "10 %" or "6 ohm"')
    return Tolerance(ohm=ohm)


def read_accuracy(written: Any, steps: Steps, context: Context) -> Accuracy:
    """`"0.9 % + 2 digits"`, or `"0.5 %"` alone."""
    hint = 'write "0.9 % + 2 digits"'
    if not isinstance(written, str):
        raise InputError(f"{shown(written)} is no accuracy", hint)
    text = written.replace("±", " ").replace("+-", " ").replace("+/-", " ").strip(" ()")
    percent, rest = split_number(text, example=hint.removeprefix("write "))
    if not rest.startswith("%"):
        raise InputError(f"{shown(written)} does not say the percentage of the reading first", hint)
    counted = rest[1:].strip().removeprefix("of reading").removeprefix("rdg").strip().removeprefix("+").strip()
    digits, word = split_number(counted, example=hint.removeprefix("write ")) if counted else (0.0, "digits")
    if word.casefold().rstrip(".") not in ("digits", "digit", "dgt", "dgts", "d", "counts", "count"):
        raise InputError(f"{shown(written)} does not end in digits", hint)
    if not 0.0 <= percent < 100.0 or not 0.0 <= digits <= 10_000.0:
        raise InputError(f"{shown(written)} is negative or too large, which cannot be", hint)
    return Accuracy(of_reading_frac=percent / 100.0, digits=digits)


def read_opening(written: Any, steps: Steps, context: Context) -> Opening:
    """Pulses, or `"44 %"` of full stroke."""
    if isinstance(written, str) and written.rstrip().endswith("%"):
        frac = parse_quantity(written, "frac")
        if not 0.0 <= frac <= 1.0:
            raise InputError(f"{shown(written)} is not between 0 and 100 %, which cannot be", 'write "44 %"')
        return Opening(frac=frac)
    pulses = parse_quantity(written, "pulses")
    if pulses < 0.0:
        raise InputError(f"{shown(written)} is below 0 pulses, which cannot be", 'write pulses, or "44 %"')
    return Opening(pulses=pulses)


def read_insulation(written: Any, steps: Steps, context: Context) -> Insulation:
    """`"120 Mohm"` or `">100 Mohm"`; a bare number is Mohm."""
    is_at_least = isinstance(written, str) and written.lstrip().startswith((">", "≥"))
    number = written.lstrip().lstrip(">≥=") if is_at_least else written
    if isinstance(number, str) and number.strip().casefold() in ("open", "ol", "o.l", "inf"):
        raise InputError(f"{shown(written)} is no resistance", 'write ">" and the end of the scale: ">100 Mohm"')
    mohm = parse_quantity(number, "Mohm")
    if mohm < 0.0:
        raise InputError(f"{shown(written)} is below 0 ohm, which cannot be", 'write "120 Mohm"')
    return Insulation(mohm=mohm, is_at_least=is_at_least)


def read_insulation_test(written: Any, steps: Steps, context: Context) -> str:
    """`"500 V"`, or `"meter"`."""
    if isinstance(written, str) and written.strip().casefold() == "meter":
        return "meter"
    if isinstance(written, str) and not any(sign.isdigit() for sign in written):
        raise InputError(f"{shown(written)} is no test voltage", 'write "500 V", or "meter"')
    volt = parse_quantity(written, "V")
    if volt <= 0.0:
        raise InputError(f"{shown(written)} is not above 0 V, which cannot be", 'write "500 V", or "meter"')
    return f"{volt!r} V".replace(".0 V", " V")


def read_day_or_never(written: Any, steps: Steps, context: Context) -> date | Literal["never"]:
    """A date, or `"never"`."""
    if isinstance(written, str) and written.strip().casefold() == "never":
        return "never"
    try:
        return to_day(written)
    except InputError as err:
        raise InputError(err.message, f'{err.hint}, or "never"') from err


def read_pulses(written: Any, steps: Steps, context: Context) -> bool | dict[str, bool]:
    """One yes or no for all wires, or a table by wire."""
    if isinstance(written, bool):
        return written
    if not isinstance(written, dict):
        raise InputError(
            f"{shown(written)} is neither true nor false", 'write true, false or { "1" = true, "2" = false }'
        )
    for key, swings in written.items():
        if not isinstance(swings, bool):
            context.problems.add((*steps, key), f"{shown(swings)} is neither true nor false", "write true or false")
    return {wire(key): swings for key, swings in written.items() if isinstance(swings, bool)}


def read_sha256(written: Any, steps: Steps, context: Context) -> str:
    """Sixty-four hexadecimal digits."""
    if not isinstance(written, str) or len(written) != 64 or not set(written) <= set("0123456789abcdefABCDEF"):
        raise InputError(f"{shown(written)} is no SHA-256", "write its 64 hexadecimal digits")
    return written.lower()


def read_log_likelihood(written: Any, steps: Steps, context: Context) -> Mapping[str, float]:
    """A number a cause."""
    if not isinstance(written, dict) or not written:
        raise InputError(f"{shown(written)} names no cause", "write { not-following = 0.0, sound = -3.2 }")
    found: dict[str, float] = {}
    for cause, number in written.items():
        try:
            found[one_of(cause, LOG_CAUSES)] = _bare(number)
        except InputError as err:
            context.problems.add_error((*steps, cause), err)
    return found


def _bare(written: Any) -> float:
    if isinstance(written, bool) or not isinstance(written, int | float):
        raise InputError(f"{shown(written)} is no number", "write digits, without quotes")
    return finite(written)


def _row(written: Any, count: int, example: str) -> list[Any]:
    if not isinstance(written, list) or len(written) != count:
        raise InputError(f"{shown(written)} is not an array of {count}", f"write {example}")
    return written


def _each(read: Grammar, count: int, example: str) -> Grammar:
    """An array of `count` values of one grammar, each with its place."""

    def read_each(written: Any, steps: Steps, context: Context) -> tuple[Any, ...] | None:
        values = []
        for index, one in enumerate(_row(written, count, example)):
            try:
                values.append(read(one, (*steps, index), context))
            except InputError as err:
                context.problems.add_error((*steps, index), err)
        return tuple(values) if len(values) == count else None

    return read_each


def _ohm_above_zero(written: Any, steps: Steps, context: Context) -> float:
    ohm = parse_quantity(written, "ohm")
    if ohm <= 0.0:
        raise InputError(f"{shown(written)} is not above 0 ohm, which cannot be", "check the number and its unit")
    return ohm


def _kelvin(written: Any, steps: Steps, context: Context) -> float:
    return parse_quantity(written, "K")


def _plain_number(written: Any, steps: Steps, context: Context) -> float:
    return _bare(written)


def _reading_ohm(written: Any, steps: Steps, context: Context) -> float:
    ohm = ohm_or_open(written)
    return inf if ohm is None else ohm


def read_speed_range(written: Any, steps: Steps, context: Context) -> tuple[float, float]:
    """`[0.2, 1.2]`: least and most, of the rated speed."""
    low, high = (parse_quantity(one, "frac") for one in _row(written, 2, "[0.2, 1.2]"))
    if not 0.0 < low < high <= 3.0:
        raise InputError(f"{low:g} to {high:g} is no range of speeds", "write the least and the most: [0.2, 1.2]")
    return low, high


def read_valve_curve(written: Any, steps: Steps, context: Context) -> str | tuple[tuple[float, float], ...]:
    """`"concave"`, `"linear"`, or a table of openings and flows, both from 0 to 1 and rising."""
    hint = 'write "concave", "linear" or [[0, 0.0], [0.5, 0.7], [1, 1.0]]'
    if isinstance(written, str):
        return one_of(written, VALVE_CURVES)
    if not isinstance(written, list) or len(written) < 2:
        raise InputError(f"{shown(written)} is no valve curve", hint)
    points = [tuple(parse_quantity(one, "frac") for one in _row(row, 2, "[0.5, 0.7]")) for row in written]
    openings, flows = zip(*points, strict=True)
    if (openings[0], openings[-1]) != (0.0, 1.0) or flows[0] < 0.0:
        raise InputError("the table does not go from opening 0 to opening 1, or begins below 0", hint)
    for column, name in ((openings, "openings"), (flows, "flows")):
        if any(second <= first for first, second in pairwise(column)):
            raise InputError(f"the {name} do not rise from row to row", hint)
    return tuple((opening, flow) for opening, flow in points)


GRAMMARS: Mapping[str, Grammar] = {
    "tolerance": read_tolerance,
    "accuracy": read_accuracy,
    "ohm-pair": _each(_ohm_above_zero, 2, '["100.0 ohm", "100.3 ohm"]'),
    "readings": read_readings,
    "insulation": read_insulation,
    "insulation-test": read_insulation_test,
    "wires": read_wires,
    "day-or-never": read_day_or_never,
    "pulses": read_pulses,
    "opening": read_opening,
    "opening-pair": _each(read_opening, 2, "[210, 190]"),
    "kelvin-pair": _each(_kelvin, 2, '["5.1 K", "10.8 K"]'),
    "curve-table": read_curve_table,
    "three-numbers": _each(_plain_number, 3, "[1.129e-3, 2.341e-4, 8.775e-8]"),
    "ohm-or-open": _reading_ohm,
    "sha256": read_sha256,
    "log-likelihood": read_log_likelihood,
    "speed-range": read_speed_range,
    "valve-curve": read_valve_curve,
}
"""By the name that a field's note gives."""
