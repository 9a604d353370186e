"""Look up a refrigerant: what a gauge or a thermometer shows, as dew, bubble and glide, and a table of it."""

from math import ceil, floor
from typing import Any, Final

from fifthwire.assessment.figures import number
from fifthwire.model import gauges
from fifthwire.model.errors import InputError
from fifthwire.model.record import record
from fifthwire.model.units import (
    ABSOLUTE,
    GAUGE,
    STANDARD_AIR_KPA_ABS,
    TEMPERATURE,
    air_at_altitude_kpa_abs,
    convert,
    parse_quantity,
    split_number,
    unit_named,
)
from fifthwire.physics.refrigerants import Refrigerant, refrigerant
from fifthwire.physics.saturation import (
    AtPressure,
    AtTemperature,
    PressureChart,
    has_glide,
    saturation_at_pressure,
    saturation_at_temperature,
    saturation_table,
)

LOWEST_M: Final = -500.0
HIGHEST_M: Final = 9000.0
"""Heights of places where people work.  [m]  As in a visit file."""
LEAST_AIR_KPA_ABS: Final = 25.0
MOST_AIR_KPA_ABS: Final = 110.0
"""Air pressures of such places.  [kPa]  Our choice."""
STEP: Final = {"si": 2.0, "us": 5.0}
"""Of a chart, where none is given: a page of rows.  [°C, °F]  Our choice."""
MOST_ROWS: Final = 1000
"""Of a chart.  Our choice."""
SCALE: Final = {"si": "degC", "us": "degF"}
TINY: Final = 1e-9


@record
class Saturation:
    """An answer: what was given, and the lines there."""

    of: Refrigerant
    given: str
    """As it was typed."""
    air_kpa_abs: float
    found: AtPressure | AtTemperature
    warnings: tuple[str, ...]


def air_kpa_abs(altitude: str | None, barometer: str | None) -> float:
    """Air pressure where the gauge is: by height, by barometer, else at sea level.

    Raises
    ------
    InputError
        If both are given, or one cannot be.
    """
    if altitude is not None and barometer is not None:
        raise InputError("--altitude and --barometer both tell the air pressure", "Leave one out.")
    if altitude is not None:
        height = quantity(altitude, "m", "40 m", "130 ft")
        if not LOWEST_M <= height <= HIGHEST_M:
            raise InputError(f"an altitude of {height:g} m cannot be", f"From {LOWEST_M:g} to {HIGHEST_M:g} m.")
        return air_at_altitude_kpa_abs(height)
    if barometer is None:
        return STANDARD_AIR_KPA_ABS
    kind = unit_named(split_number(barometer)[1]).of if split_number(barometer)[1] else ""
    if kind == GAUGE:
        raise InputError(f"{barometer} is a gauge pressure", "A barometer shows absolute pressure: hPa, kPa or inHg.")
    found = quantity(barometer, "kPa", "1009 hPa", "29.8 inHg")
    if not LEAST_AIR_KPA_ABS <= found <= MOST_AIR_KPA_ABS:
        raise InputError(
            f"an air pressure of {found:g} kPa cannot be",
            f"From {LEAST_AIR_KPA_ABS:g} to {MOST_AIR_KPA_ABS:g} kPa; not reduced to sea level.",
        )
    return found


def look_up(name: str, given: str, *, altitude: str | None = None, barometer: str | None = None) -> Saturation:
    """Saturation at what a gauge or a thermometer shows.

    Parameters
    ----------
    name : str
        The refrigerant.
    given : str
        A pressure or a temperature with its unit.
    altitude, barometer : str, optional
        Of the place, for a gauge.

    Raises
    ------
    InputError, RangeError
        If something given cannot be used, or lies outside the refrigerant's range.
    """
    of, air = refrigerant(name), air_kpa_abs(altitude, barometer)
    value, unit = split_number(given, example='a pressure or a temperature, such as "118 psig" or "40 degF"')
    if not unit:
        raise InputError(
            f"{given} has no unit", f'Write "{given} psig", "{given} kPa", "{given} degC" or "{given} degF".'
        )
    of_unit = unit_named(unit)
    if of_unit.of == TEMPERATURE:
        at_c = saturation_at_temperature(of, convert(value, of_unit.name, "degC"))
        return Saturation(of=of, given=given, air_kpa_abs=air, found=at_c, warnings=())
    if of_unit.of not in (ABSOLUTE, GAUGE):
        raise InputError(
            f"{given} is {of_unit.of}", "Write a pressure (psig, barg, kPa) or a temperature (degC, degF)."
        )
    kpa_abs = convert(value, of_unit.name, "kPa", air_kpa_abs=air)
    if kpa_abs <= 0.0:
        raise InputError(f"{given} is below a perfect vacuum", "See whether the pressure is gauge or absolute.")
    at_pressure = saturation_at_pressure(of, kpa_abs)
    return Saturation(of=of, given=given, air_kpa_abs=air, found=at_pressure, warnings=_missing(of, at_pressure))


def _missing(of: Refrigerant, found: AtPressure) -> tuple[str, ...]:
    said = ((found.dew_c, gauges.NO_DEW), (found.bubble_c, gauges.NO_BUBBLE))
    return tuple(text.format(low_c=number(of.low_c), high_c=number(of.high_c)) for value, text in said if value is None)


def pressure_chart(
    name: str,
    *,
    first: str | None = None,
    last: str | None = None,
    step: str | None = None,
    units: str = "si",
    altitude: str | None = None,
    barometer: str | None = None,
) -> PressureChart:
    """A table of saturation pressures by temperature.

    Parameters
    ----------
    name : str
        The refrigerant.
    first, last : str, optional
        Temperatures with their units; left out: the whole range.
    step : str, optional
        A difference of temperatures with its unit.
    units : str
        "si" or "us".
    altitude, barometer : str, optional
        Of the place, for the gauge pressures.

    Raises
    ------
    InputError, RangeError
        If something given cannot be used, or lies outside the refrigerant's range.
    """
    of, scale = refrigerant(name), SCALE[units]
    air = air_kpa_abs(altitude, barometer)
    by = STEP[units] if step is None else _step(step, units)
    low = _on_scale(of.low_c, scale) if first is None else _temperature(first, scale)
    high = _on_scale(of.high_c, scale) if last is None else _temperature(last, scale)
    start = ceil(low / by - TINY) * by if first is None else low
    if high < start:
        raise InputError(
            f"the chart would end at {high:g} before it starts at {start:g}", "Turn --from and --to round."
        )
    count = floor((high - start) / by + TINY) + 1
    if count > MOST_ROWS:
        raise InputError(f"the chart would have {count:,} rows", f"At most {MOST_ROWS:,}: take a larger --step.")
    shown = tuple(round(start + at * by, 9) for at in range(count))
    rows = saturation_table(of, (convert(one, scale, "degC") for one in shown))
    return PressureChart(of=of, units=units, air_kpa_abs=air, rows=rows, temperatures=shown)


def _on_scale(c: float, scale: str) -> float:
    return convert(c, "degC", scale)


def _temperature(written: str, scale: str) -> float:
    return _on_scale(quantity(written, "degC", "40 degC", "104 degF"), scale)


def _step(written: str, units: str) -> float:
    found = quantity(written, "K", "2 K", "5 delta_degF") * (1.8 if units == "us" else 1.0)
    if found <= 0.0:
        raise InputError(f"a step of {written} leads nowhere", "Give a step above zero.")
    return round(found, 9)


def quantity(written: str, unit: str, example: str, other: str) -> float:
    """A quantity as typed on the command line, where a bare number has no unit.

    Raises
    ------
    InputError
        If it is not a quantity of that kind.
    """
    value, rest = split_number(written, example=f'"{example}" or "{other}"')
    if not rest:
        raise InputError(f"{written} has no unit", f'Write "{example}" or "{other}".')
    return parse_quantity(f"{value!r} {rest}", unit)


def saturation_to_json(answer: Saturation) -> dict[str, Any]:
    """The answer for other programs: every number in the unit its key ends with."""
    of, found, air = answer.of, answer.found, answer.air_kpa_abs
    written: dict[str, Any] = {"format": "fifthwire/saturation/1", "refrigerant": of.name, "given": answer.given}
    written["air_kpa_abs"] = round(air, 3)
    if isinstance(found, AtPressure):
        written |= {"pressure_kpa_abs": round(found.kpa_abs, 3), "pressure_kpa_gauge": round(found.kpa_abs - air, 3)}
        written |= {"dew_c": _rounded(found.dew_c), "bubble_c": _rounded(found.bubble_c)}
    else:
        written |= _row(found, air)
    return written | {
        "glide_k": _rounded(found.glide_k),
        "model_u_k": of.model_u_k,
        "warnings": list(answer.warnings),
    }


def chart_to_json(chart: PressureChart) -> dict[str, Any]:
    """The table for other programs."""
    return {
        "format": "fifthwire/pt-chart/1",
        "refrigerant": chart.of.name,
        "air_kpa_abs": round(chart.air_kpa_abs, 3),
        "has_glide": has_glide(chart.of),
        "model_u_k": chart.of.model_u_k,
        "rows": [_row(row, chart.air_kpa_abs) for row in chart.rows],
    }


def _row(row: AtTemperature, air: float) -> dict[str, float]:
    return {
        "temperature_c": round(row.c, 4),
        "dew_kpa_abs": round(row.dew_kpa_abs, 3),
        "dew_kpa_gauge": round(row.dew_kpa_abs - air, 3),
        "bubble_kpa_abs": round(row.bubble_kpa_abs, 3),
        "bubble_kpa_gauge": round(row.bubble_kpa_abs - air, 3),
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 4) + 0.0


def require_chart_place(path: str, *, overwrite: bool) -> None:
    """Stop before anything is shown where the chart could not be written.

    Raises
    ------
    InputError
        If the name is neither .pdf nor .html, the file is already there, or its directory is missing.
    """
    from fifthwire.workflow.reporting import require_report_places

    require_report_places([path], overwrite=overwrite)


def write_chart(chart: PressureChart, path: str, *, overwrite: bool = False) -> None:
    """Write a chart as a page to look at or to print.

    Raises
    ------
    InputError
        If the name is neither .pdf nor .html, the file is already there, or the place cannot be written.
    """
    from fifthwire.workflow.files import write_file
    from fifthwire.workflow.reporting import require_report_name

    require_chart_place(path, overwrite=overwrite)
    if require_report_name(path) == ".html":
        from fifthwire.assessment.pt_chart_page import chart_page

        content = chart_page(chart).encode("utf-8")
    else:
        from fifthwire.reports.pt_chart import chart_pdf  # typst loads only where a PDF is asked for

        content = chart_pdf(chart)
    write_file(path, content, overwrite=overwrite)
