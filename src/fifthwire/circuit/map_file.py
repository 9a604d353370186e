"""Compressor maps in files: our own JSON, a loop's parameter file with several speeds, a table of many maps.

Every way ends in `checked_map`: a map that gives nothing inside its own limits is refused, with the point.
"""

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any, Final

from fifthwire.circuit.ahri540 import TERMS, AtSpeed, CompressorMap, TenTerms, checked_map
from fifthwire.model.errors import InputError
from fifthwire.model.nearest import nearest
from fifthwire.visitfile.parsing import decode, parse

MAP_FORMAT: Final = "fifthwire/compressor-map/1"
POUND_KG: Final = 0.45359237
"""One pound.  [kg]  By definition."""
BTU_H_WATT: Final = 0.29307107
"""One British thermal unit (IT) an hour.  [W]  NIST SP 811 (2008), B.8."""
FLOWS: Final = {"kg/s": 1.0, "g/s": 1e-3, "kg/h": 1.0 / 3600.0, "lb/h": POUND_KG / 3600.0}
POWERS: Final = {"W": 1.0, "kW": 1e3, "Btu/h": BTU_H_WATT}
TABLE_ORDER: Final = (0, 1, 3, 2, 5, 4, 6, 8, 9, 7)
"""Where the terms of the standard stand in a table that writes 1, S, S², D, D², S D, S³, D³, S² D, S D²."""
SURFACE_ORDER: Final = (0, 3, 1, 4, 5, 2)
"""The same for six terms 1, D, D², S, S², S D."""
_KEYS: Final = (
    "format", "name", "source", "refrigerant", "temperatures", "superheat_k", "return_gas_c", "subcooling_k",
    "liquid_c", "evaporating_c", "condensing_c", "speeds",
)  # fmt: skip


def read_map(content: str | bytes, *, name: str) -> CompressorMap:
    """A compressor map from a JSON file.

    Parameters
    ----------
    content : str or bytes
        The file: `fifthwire/compressor-map/1`, or the parameters of a refrigerant loop with a capacity and a power
        surface at each of its compressor's speeds.
    name : str
        The file, for messages.

    Returns
    -------
    CompressorMap
        Read and checked.

    Raises
    ------
    InputError
        If it cannot be read, or gives nothing somewhere inside its own limits.
    """
    tree = parse(decode(content, name), name, "json")
    if "compressor_speeds_rpm" in tree:
        return checked_map(_named(name, "a loop's parameters", lambda: _loop(tree, name)))
    if tree.get("format") != MAP_FORMAT:
        raise InputError(f'{name} is no compressor map: its format is not "{MAP_FORMAT}"', "See docs/formats.")
    unknown = next((key for key in tree if key not in _KEYS), None)
    if unknown is not None:
        raise InputError(f"{name}: {unknown[:40]} is no key of a compressor map", _like(unknown, _KEYS))
    return checked_map(_named(name, "a compressor map", lambda: _own(tree, name)))


def _named(name: str, what: str, read: Callable[[], CompressorMap]) -> CompressorMap:
    """What was read, or an error that names the file and the key."""
    try:
        return read()
    except InputError as err:
        raise InputError(f"{name}: {err.message}", err.hint) from err
    except KeyError as err:
        raise InputError(f"{name}: {err.args[0]} is missing from {what}", "Every key is on the format's page.") from err
    except (TypeError, ValueError) as err:
        raise InputError(f"{name}: a number of {what} cannot be read: {err}", "Write numbers without a unit.") from err


def _own(tree: Mapping[str, Any], name: str) -> CompressorMap:
    scale = tree.get("temperatures", "degC")
    if scale not in ("degC", "degF"):
        raise InputError(f"temperatures are {scale!r}", "Write degC or degF.")
    speeds = [_at_speed(one, is_fahrenheit=scale == "degF") for one in tree["speeds"]]
    if not speeds:
        raise InputError("speeds is empty", "Give at least one table of coefficients.")
    return_gas = tree.get("return_gas_c")
    return CompressorMap(
        name=str(tree.get("name", name)),
        refrigerant=str(tree["refrigerant"]),
        speeds=tuple(sorted(speeds, key=lambda one: one.speed_frac)),
        evaporating_c=_limits(tree["evaporating_c"], "evaporating_c"),
        condensing_c=_limits(tree["condensing_c"], "condensing_c"),
        superheat_k=float(tree["superheat_k"]) if return_gas is None else 0.0,
        return_gas_c=None if return_gas is None else float(return_gas),
        subcooling_k=float(tree.get("subcooling_k", 0.0)),
        liquid_c=float(tree["liquid_c"]) if "liquid_c" in tree else None,
    )


def _at_speed(one: Mapping[str, Any], *, is_fahrenheit: bool) -> AtSpeed:
    speed = float(one.get("speed_frac", 1.0))
    if not speed > 0.0:
        raise InputError(f"a speed of {speed:g} turns nothing", "Write it as a share of the rated speed, above 0.")
    if ("flow" in one) == ("capacity" in one):
        raise InputError("a speed has either flow or capacity", "Give the one that the map was made for.")
    return AtSpeed(
        speed_frac=speed,
        power_watt=_terms(one["power"], POWERS, is_fahrenheit),
        flow_kg_s=_terms(one["flow"], FLOWS, is_fahrenheit) if "flow" in one else None,
        capacity_watt=_terms(one["capacity"], POWERS, is_fahrenheit) if "capacity" in one else None,
    )


def _terms(written: Mapping[str, Any], units: Mapping[str, float], is_fahrenheit: bool) -> TenTerms:
    unit, coefficients = written["unit"], tuple(float(one) for one in written["coefficients"])
    if unit not in units:
        raise InputError(f"{unit!r} is no unit of it", f"Write {', '.join(units)}.")
    if len(coefficients) != TERMS:
        raise InputError(f"{len(coefficients)} coefficients stand where {TERMS} are needed", "C1 to C10, in order.")
    return TenTerms(coefficients, units[unit], is_fahrenheit)


def _limits(written: Sequence[Any], key: str) -> tuple[float, float]:
    low, high = (float(one) for one in written)
    if not low < high:
        raise InputError(f"{key} goes from {low:g} to {high:g}", "Write the lower limit first.")
    return low, high


def _loop(tree: Mapping[str, Any], name: str) -> CompressorMap:
    """A loop whose compressor has a capacity and a power surface a speed; its fastest speed is speed 1."""
    rated_watt, per_watt = float(tree["rated_evaporative_capacity_W"]), float(tree["rated_compressor_power_per_W"])
    curves, rpm = tree["curves"], [float(one) for one in tree["compressor_speeds_rpm"]]
    names = ["MinSpd", *(f"Spd{at}" for at in range(1, len(rpm)))]
    surfaces = [curves[f"{one}{what}"] for one in names for what in ("Cooling", "Power")]
    speeds = [
        AtSpeed(
            speed_frac=speed / max(rpm),
            capacity_watt=_surface(curves[f"{one}Cooling"], rated_watt),
            power_watt=_surface(curves[f"{one}Power"], rated_watt * per_watt),
        )
        for one, speed in zip(names, rpm, strict=True)
    ]
    return CompressorMap(
        name=name,
        refrigerant=str(tree["refrigerant"]),
        speeds=tuple(speeds),
        evaporating_c=_common(surfaces, "y"),
        condensing_c=_common(surfaces, "x"),
        superheat_k=float(tree["reference_superheat_K"]),
        subcooling_k=float(tree["reference_subcooling_K"]),
    )


def _surface(curve: Mapping[str, Any], per: float) -> TenTerms:
    six = [float(one) for one in curve["coeff"]]
    return TenTerms((*(six[at] for at in SURFACE_ORDER), 0.0, 0.0, 0.0, 0.0), per)


def _common(surfaces: Sequence[Mapping[str, Any]], axis: str) -> tuple[float, float]:
    """The limits in which all surfaces hold."""
    return max(float(one[f"{axis}_min"]) for one in surfaces), min(float(one[f"{axis}_max"]) for one in surfaces)


def read_map_table(content: str | bytes, *, name: str) -> tuple[CompressorMap, ...]:
    """Every map of a table, a row a map: `q1` to `q10` capacity and `p1` to `p10` power in W, temperatures in °C.

    Parameters
    ----------
    content : str or bytes
        CSV with the columns `id`, `refrigerant`, the coefficients (of 1, S, S², D, D², S D, S³, D³, S² D, S D²), the
        limits `q_te_min` to `p_tc_max` and the rating (`rated_superheat_K` or `rated_return_gas_C`,
        `rated_liquid_C` or `rated_subcooling_K`).
    name : str
        The file, for messages.

    Returns
    -------
    tuple of CompressorMap
        As read, not yet checked: one bad map does not hide the others.

    Raises
    ------
    InputError
        If a column is missing or a number cannot be read.
    """
    rows = csv.DictReader(io.StringIO(decode(content, name)))
    numbered = enumerate(rows, start=2)
    return tuple(_named(f"{name}, line {at}", "a row of maps", partial(_row, row)) for at, row in numbered)


def map_of_table(content: str | bytes, wanted: str, *, name: str) -> CompressorMap:
    """One map of a table by its id, checked.

    Raises
    ------
    InputError
        If the table has no such row, or its map gives nothing inside its own limits.
    """
    maps = {one.name: one for one in read_map_table(content, name=name)}
    if wanted not in maps:
        raise InputError(f"{name} has no map {wanted[:40]}", _like(wanted, tuple(maps)))
    return checked_map(maps[wanted])


def _like(word: str, known: Sequence[str]) -> str:
    near = nearest(word, known)
    return f"Did you mean {near}?" if near else ""


def _row(row: Mapping[str, str]) -> CompressorMap:
    in_table = {what: [float(row[f"{what}{at}"]) for at in range(1, TERMS + 1)] for what in "qp"}
    of = {what: TenTerms(tuple(terms[at] for at in TABLE_ORDER)) for what, terms in in_table.items()}
    superheat, return_gas = row["rated_superheat_K"], row["rated_return_gas_C"]
    return CompressorMap(
        name=row["id"],
        refrigerant=row["refrigerant"],
        speeds=(AtSpeed(speed_frac=1.0, power_watt=of["p"], capacity_watt=of["q"]),),
        evaporating_c=_row_limits(row, "te"),
        condensing_c=_row_limits(row, "tc"),
        superheat_k=float(superheat) if superheat else 0.0,
        return_gas_c=float(return_gas) if return_gas and not superheat else None,
        subcooling_k=float(row["rated_subcooling_K"] or 0.0),
        liquid_c=float(row["rated_liquid_C"]) if row["rated_liquid_C"] else None,
    )


def _row_limits(row: Mapping[str, str], axis: str) -> tuple[float, float]:
    """Limits in which capacity and power both hold."""
    return (
        max(float(row[f"q_{axis}_min"]), float(row[f"p_{axis}_min"])),
        min(float(row[f"q_{axis}_max"]), float(row[f"p_{axis}_max"])),
    )
