"""Quantities as people write them, and the one table of units: parse at the door, convert, and show.

Inside the program a number is always in the unit its name ends with (`_kpa_abs`, `_c`, `_k`, `_ohm`). Points on a
temperature scale and differences are two things, and so are absolute and gauge pressure: one is never taken for the
other. Gauge pressures need the air pressure of the place.
"""

import re
from math import isfinite
from typing import Final

from fifthwire.model.errors import InputError
from fifthwire.model.nearest import nearest
from fifthwire.model.record import record

STANDARD_AIR_KPA_ABS: Final = 101.325
"""Air pressure at sea level.  [kPa]  ISO 2533:1975, standard atmosphere."""
_SEA_LEVEL_K: Final = 288.15
"""Temperature at sea level.  [K]  ISO 2533:1975."""
_LAPSE_K_PER_M: Final = 0.0065
"""Fall of temperature with height below 11 km.  [K/m]  ISO 2533:1975."""
_AIR_EXPONENT: Final = 9.80665 / (287.05287 * _LAPSE_K_PER_M)
"""g / (R L), 5.25588.  [1]  ISO 2533:1975."""
PSI_KPA: Final = 6.894757293168361
"""One pound-force a square inch.  [kPa]  From the pound, the inch and standard gravity, all exact."""
INHG_KPA: Final = 3.386389
"""One inch of mercury at 0 °C.  [kPa]  NIST SP 811 (2008), B.8."""
LONGEST_NUMBER: Final = 40
"""Characters a number may have; no instrument shows more.  Our choice."""

RESISTANCE: Final = "a resistance"
TEMPERATURE: Final = "a temperature"
DIFFERENCE: Final = "a temperature difference"
ABSOLUTE: Final = "an absolute pressure"
GAUGE: Final = "a gauge pressure"
LENGTH: Final = "a length"
SHARE: Final = "a share"
OPENING: Final = "a number of pulses"
FREQUENCY: Final = "a frequency"
VOLTAGE: Final = "a voltage"
POWER: Final = "a power"
TIME: Final = "a time"


@record(kw_only=False)
class Unit:
    """A unit: what it measures, and how a value in it becomes one in the first unit of its kind."""

    name: str
    of: str
    factor: float = 1.0
    offset: float = 0.0


UNITS: Final = (
    Unit("ohm", RESISTANCE),
    Unit("kohm", RESISTANCE, 1e3),
    Unit("Mohm", RESISTANCE, 1e6),
    Unit("degC", TEMPERATURE),
    Unit("degF", TEMPERATURE, 1 / 1.8, -32 / 1.8),
    Unit("K", DIFFERENCE),
    Unit("delta_degC", DIFFERENCE),
    Unit("delta_degF", DIFFERENCE, 1 / 1.8),
    Unit("kPa", ABSOLUTE),
    Unit("bar", ABSOLUTE, 100.0),
    Unit("bara", ABSOLUTE, 100.0),
    Unit("MPa", ABSOLUTE, 1e3),
    Unit("hPa", ABSOLUTE, 0.1),
    Unit("mbar", ABSOLUTE, 0.1),
    Unit("Pa", ABSOLUTE, 1e-3),
    Unit("psia", ABSOLUTE, PSI_KPA),
    Unit("inHg", ABSOLUTE, INHG_KPA),
    Unit("kPag", GAUGE),
    Unit("barg", GAUGE, 100.0),
    Unit("MPag", GAUGE, 1e3),
    Unit("psig", GAUGE, PSI_KPA),
    Unit("m", LENGTH),
    Unit("mm", LENGTH, 1e-3),
    Unit("ft", LENGTH, 0.3048),
    Unit("in", LENGTH, 0.0254),
    Unit("frac", SHARE),
    Unit("%", SHARE, 0.01),
    Unit("pulses", OPENING),
    Unit("Hz", FREQUENCY),
    Unit("V", VOLTAGE),
    Unit("kV", VOLTAGE, 1e3),
    Unit("W", POWER),
    Unit("kW", POWER, 1e3),
    Unit("s", TIME),
    Unit("min", TIME, 60.0),
    Unit("h", TIME, 3600.0),
)
_BY_NAME: Final = {unit.name: unit for unit in UNITS}
OTHER_SPELLINGS: Final = {
    "ohms": "ohm", "Ω": "ohm", "k": "kohm", "kΩ": "kohm", "M": "Mohm", "MΩ": "Mohm",
    "C": "degC", "°C": "degC", "ºC": "degC", "℃": "degC", "F": "degF", "°F": "degF", "ºF": "degF", "℉": "degF",
    "deltadegC": "delta_degC", "deltadegF": "delta_degF", "pulse": "pulses", "steps": "pulses", "feet": "ft",
    "minutes": "min", "minute": "min", "hours": "h", "hour": "h", "seconds": "s", "volt": "V", "volts": "V",
}  # fmt: skip
"""Beside the names; spaces inside a unit do not count, and the ohm sign is read as the Greek letter."""
_ANY_CASE: Final = {spelling.casefold(): unit for spelling, unit in OTHER_SPELLINGS.items()} | {
    unit.name.casefold(): unit.name for unit in UNITS if unit.name not in ("K", "m", "s")
}
"""Where the spelling itself is not known: PSIG, Ohm, KPA."""
_AMBIGUOUS: Final = {
    "psi": ("neither gauge nor absolute", "write psig for a gauge's reading, psia for an absolute pressure"),
    "mohm": ("a thousandth or a million of an ohm", 'write "Mohm" for a million ohm, or the number in ohm'),
    "mω": ("a thousandth or a million of an ohm", 'write "MΩ" for a million ohm, or the number in ohm'),
    "°": ("a degree of no scale", "write degC or degF; for a difference K, delta_degC or delta_degF"),
    "deg": ("a degree of no scale", "write degC or degF; for a difference K, delta_degC or delta_degF"),
}
_ENDINGS: Final = {
    "ohm": "ohm", "mohm": "Mohm", "c": "degC", "k": "K", "kpa_abs": "kPa", "kpa": "kPa", "kpa_gauge": "kPag",
    "m": "m", "mm": "mm", "frac": "frac", "pulses": "pulses", "hz": "Hz", "volt": "V", "watt": "W", "kw": "kW",
    "s": "s", "minutes": "min", "h": "h",
}  # fmt: skip
"""What the names of numbers end with, and the unit it stands for."""
_NUMBER: Final = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_PARTNERS: Final = {"degC": "K", "degF": "delta_degF", "K": "degC", "delta_degC": "degC", "delta_degF": "degF"}


def air_at_altitude_kpa_abs(altitude_m: float) -> float:
    r"""Air pressure at a height above the sea, on a standard day.

    A gauge compares with the air around it, so its reading means less absolute pressure on a mountain.

    .. math:: p = 101.325 (1 - 0.0065 h / 288.15)^{5.25588}

    Parameters
    ----------
    altitude_m : float
        Height above the sea, below 11 km. [m]

    Returns
    -------
    float
        Air pressure. [kPa]

    References
    ----------
    .. [1] ISO 2533:1975, "Standard atmosphere".

    Examples
    --------
    >>> round(air_at_altitude_kpa_abs(1000.0), 2)
    89.87
    """
    return float(STANDARD_AIR_KPA_ABS * (1.0 - _LAPSE_K_PER_M * altitude_m / _SEA_LEVEL_K) ** _AIR_EXPONENT)


def at_the_door(value: float, unit: str, name_ending: str, *, air_kpa_abs: float = STANDARD_AIR_KPA_ABS) -> float:
    """A value in the unit of a person, as the program holds it.

    Parameters
    ----------
    value : float
        In `unit`.
    unit : str
        As people write it.
    name_ending : str
        What the number's name ends with inside the program: `kpa_abs`, `c`, `k`, `ohm`, `frac` and so on.
    air_kpa_abs : float
        Air pressure where a gauge was read; by default at sea level. [kPa]

    Raises
    ------
    InputError
        If the unit is unknown, ambiguous or of another kind.

    Examples
    --------
    >>> round(at_the_door(118.0, "psig", "kpa_abs"), 2)
    914.91
    >>> at_the_door(9.0, "delta_degF", "k")
    5.0
    """
    return convert(value, unit, _ENDINGS[name_ending], air_kpa_abs=air_kpa_abs)


def convert(value: float, unit: str, to_unit: str, *, air_kpa_abs: float = STANDARD_AIR_KPA_ABS) -> float:
    """A value in one unit, in another of the same kind; gauge and absolute pressures go into one another.

    Raises
    ------
    InputError
        If a unit is unknown, ambiguous or of another kind.

    Examples
    --------
    >>> convert(20.0, "degC", "degF"), convert(1.2, "kohm", "ohm")
    (68.0, 1200.0)
    """
    source, target = unit_named(unit), _BY_NAME[to_unit]
    if source.name == target.name:
        return value
    pressures = (ABSOLUTE, GAUGE)
    if source.of != target.of and not (source.of in pressures and target.of in pressures):
        raise _wrong_kind(f"{value:g} {source.name}", value, source, target)
    if source.of == target.of and not (source.offset or target.offset):
        parts = target.factor / source.factor
        is_whole = parts > 1.0 and parts.is_integer()
        return value / parts if is_whole else value * (source.factor / target.factor)  # 57 % is 57 / 100, exactly
    base = value * source.factor + source.offset
    if source.of != target.of:
        base += air_kpa_abs if source.of == GAUGE else -air_kpa_abs
    return round((base - target.offset) / target.factor, 12)  # 12: what the offsets cost is taken off again


def unit_named(written: str, *, like: Unit | None = None) -> Unit:
    """The unit that a person wrote.

    Parameters
    ----------
    written : str
        As it stands in the file.
    like : Unit | None
        What was asked for: units of its kind are offered first where this one is unknown.

    Raises
    ------
    InputError
        If there is no such unit (the nearest known one is named) or it says too little, as bare psi does.

    Examples
    --------
    >>> unit_named("kΩ").name, unit_named("° F").name, unit_named("PSIG").name
    ('kohm', 'degF', 'psig')
    """
    spelled = "".join(written.split()).replace("\N{OHM SIGN}", "Ω")
    name = spelled if spelled in _BY_NAME else OTHER_SPELLINGS.get(spelled)
    folded = spelled.casefold()
    if name is None and folded in _AMBIGUOUS:
        what, hint = _AMBIGUOUS[folded]
        raise InputError(f"{spelled} is {what}", hint)
    name = name or _ANY_CASE.get(folded)
    if name is None:
        raise InputError(f'"{spelled[:LONGEST_NUMBER]}" is no unit known here', _nearest_unit(spelled, like))
    return _BY_NAME[name]


def parse_quantity(written: object, unit: str, *, air_kpa_abs: float = STANDARD_AIR_KPA_ABS) -> float:
    """A quantity as a file or a person gives it: a bare number in `unit`, or a string with a unit.

    Parameters
    ----------
    written : object
        A number, or a string such as `"47.2 ohm"`.
    unit : str
        The unit of a bare number and of the result, as the table names it.
    air_kpa_abs : float
        Air pressure where a gauge was read. [kPa]

    Returns
    -------
    float
        In `unit`; always finite.

    Raises
    ------
    InputError
        With what is wrong and what to write instead.

    Examples
    --------
    >>> parse_quantity("1.2 kohm", "ohm"), parse_quantity("40 degF", "degC"), parse_quantity(47.2, "ohm")
    (1200.0, 4.444444444444, 47.2)
    """
    if isinstance(written, bool) or not isinstance(written, int | float | str):
        raise InputError(f"{shown_value(written)} is not {_BY_NAME[unit].of}", f"write {_example(unit)}")
    if not isinstance(written, str):
        return finite(written)
    number, rest = split_number(written, example=_example(unit))
    if not rest:
        raise InputError(
            f"{shown_value(written)} has no unit", f'write {written.strip()}, or "{written.strip()} {unit}"'
        )
    target = _BY_NAME[unit]
    source = unit_named(rest, like=target)
    try:
        return finite(convert(number, source.name, unit, air_kpa_abs=air_kpa_abs))
    except InputError as err:
        if source.of == target.of:
            raise
        raise _wrong_kind(shown_value(written), number, source, target) from err


def split_number(written: str, *, example: str = "a number with its unit") -> tuple[float, str]:
    """The number at the start of a string, and what follows it.

    Raises
    ------
    InputError
        If it does not start with a number, or the number is too long or too large.
    """
    text = written.strip().replace("\N{MINUS SIGN}", "-")
    found = re.match(_NUMBER, text[: 4 * LONGEST_NUMBER])
    if found is None:
        raise InputError(f"{shown_value(written)} does not start with a number", f"write {example}")
    digits, rest = found[0], text[found.end() :]
    if len(digits) > LONGEST_NUMBER:
        raise InputError(f"{shown_value(digits)} has more than {LONGEST_NUMBER} characters", "write fewer digits")
    if rest[:1] == "," and rest[1:2].isdigit():
        raise InputError(
            f"{shown_value(written)} has a comma in its number", "write a point, and no thousands separator"
        )
    return finite(float(digits)), rest.strip()


def finite(number: float) -> float:
    """A number as a float.

    Raises
    ------
    InputError
        If it is not a number, infinite or too large for one.
    """
    try:
        value = float(number)
    except OverflowError:
        value = float("inf")
    if not isfinite(value):
        raise InputError(
            f"{number if isinstance(number, float) else 'a number'} is not a finite number", "write digits"
        )
    return value


def _wrong_kind(shown: str, number: float, source: Unit, target: Unit) -> InputError:
    partner = _PARTNERS.get(source.name)
    points = (TEMPERATURE, DIFFERENCE)
    if partner is not None and source.of in points and target.of in points:
        right = f'"{number:g} {partner}"' if source.name != "K" else "degC or degF"
        also = f' or "{number:g} delta_degC"' if source.name == "degC" else ""
        return InputError(f"{shown} is {source.of}, where {target.of} is asked for", f"write {right}{also}")
    if (source.name, target.of) == ("K", RESISTANCE):
        return InputError(f"{shown} is {source.of}, where {target.of} is asked for", f'write "{number:g} kohm"')
    return InputError(f"{shown} is {source.of}, where {target.of} is asked for", f"write {_choices(target)}")


def _choices(target: Unit | None) -> str:
    names = [unit.name for unit in UNITS if target and unit.of == target.of and unit.name != "frac"]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _example(unit: str) -> str:
    if unit == "frac":
        return '"10 %"'
    return f'a number, or a string with a unit such as "{_EXAMPLE_NUMBERS.get(unit, 10):g} {unit}"'


_EXAMPLE_NUMBERS: Final = {"ohm": 47.2, "Mohm": 120, "degC": 31, "K": 3, "kPa": 915, "m": 40, "V": 12, "Hz": 62}


def _nearest_unit(spelled: str, like: Unit | None) -> str:
    near = nearest(spelled, [unit.name for unit in UNITS if unit.name != "frac"])
    if near is None and like is None:
        return f"known are {', '.join(_BY_NAME)}"
    return f"did you mean {near}?" if near else f"write {_choices(like)}"


def shown_value(written: object) -> str:
    """What was written, short enough for a message."""
    if isinstance(written, str):
        return f'"{written if len(written) <= LONGEST_NUMBER else written[: LONGEST_NUMBER - 3] + "..."}"'
    if isinstance(written, bool):
        return "true" if written else "false"
    if isinstance(written, dict | list):
        return "a table" if isinstance(written, dict) else "an array"
    return str(written)[:LONGEST_NUMBER]
