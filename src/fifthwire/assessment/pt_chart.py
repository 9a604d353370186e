"""What a chart of saturation pressures says, as plain text: the screen, the page and the print lay out the same."""

from typing import Final, Literal

from fifthwire import __version__
from fifthwire.assessment.blocks import Labelled
from fifthwire.assessment.figures import number, plain, temperature, with_unit
from fifthwire.model import gauges
from fifthwire.model.record import record
from fifthwire.model.units import PSI_KPA, STANDARD_AIR_KPA_ABS
from fifthwire.physics.saturation import AtTemperature, PressureChart, has_glide

AT_SEA_LEVEL_KPA: Final = 0.05
"""Nearer to the standard air pressure than this is said to be sea level.  [kPa]  Our choice."""


@record
class ChartUnits:
    """Units of a chart, each with the size of one in kPa and the decimals shown."""

    scale: str
    gauge: str
    gauge_kpa: float
    gauge_decimals: int
    absolute: str
    absolute_kpa: float


UNITS: Final = {
    "si": ChartUnits(scale="°C", gauge="barg", gauge_kpa=100.0, gauge_decimals=2, absolute="kPa abs", absolute_kpa=1.0),
    "us": ChartUnits(
        scale="°F", gauge="psig", gauge_kpa=PSI_KPA, gauge_decimals=1, absolute="psia", absolute_kpa=PSI_KPA
    ),
}


@record
class ChartContent:
    """A chart, whole."""

    title: str
    language: str
    paper: Literal["a4", "us-letter"]
    facts: tuple[Labelled, ...]
    columns: tuple[str, ...]
    """The first is the temperature."""
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    footer: str


def chart_content(chart: PressureChart) -> ChartContent:
    """A chart's texts.

    Parameters
    ----------
    chart : PressureChart
        The table, in the units that are shown.

    Returns
    -------
    ChartContent
        With two lines a unit where the refrigerant glides, one where it does not.
    """
    units, of = UNITS[chart.units], chart.of
    lines = ("dew", "bubble") if has_glide(of) else ("",)
    heads = [f"{line} {unit}".strip() for unit in (units.gauge, units.absolute) for line in lines]
    return ChartContent(
        title=f"{of.name}: pressure by temperature",
        language="en-US" if chart.units == "us" else "en-GB",
        paper="us-letter" if chart.units == "us" else "a4",
        facts=_facts(chart),
        columns=(units.scale, *heads),
        rows=tuple(_row(chart, at, units, lines) for at in range(len(chart.rows))),
        notes=notes_of(chart),
        cautions=gauges.cautions_of(of.name),
        footer=f"Fifthwire {__version__}. The program advises; the technician decides.",
    )


def notes_of(chart: PressureChart) -> tuple[str, ...]:
    """What the figures mean and how far they hold."""
    of = chart.of
    model = gauges.MODEL.format(name=of.name, model_u_k=of.model_u_k)
    return (
        gauges.WHICH_LINE if has_glide(of) else gauges.ONE_LINE,
        *((model,) if of.model_u_k else ()),
        gauges.SOURCE,
    )


def air_words(air_kpa_abs: float, units: str) -> str:
    """Air pressure as it is said.

    Examples
    --------
    >>> air_words(101.325, "si"), air_words(89.87, "us")
    ('101.3\u202fkPa, sea level', '13.03\u202fpsia')
    """
    is_sea_level = abs(air_kpa_abs - STANDARD_AIR_KPA_ABS) < AT_SEA_LEVEL_KPA
    shown = (
        with_unit(number(air_kpa_abs / PSI_KPA, 2), "psia")
        if units == "us"
        else with_unit(number(air_kpa_abs, 1), "kPa")
    )
    return shown + (", sea level" if is_sea_level else "")


def _facts(chart: PressureChart) -> tuple[Labelled, ...]:
    of = chart.of
    low, high, critical = (temperature(c, chart.units, 1) for c in (of.low_c, of.high_c, of.critical_c))
    return (
        Labelled(label="Air pressure", text=air_words(chart.air_kpa_abs, chart.units)),
        Labelled(label="Known from", text=f"{low} to {high}"),
        Labelled(label="Critical temperature", text=critical),
    )


def _row(chart: PressureChart, at: int, units: ChartUnits, lines: tuple[str, ...]) -> tuple[str, ...]:
    pressures = _pressures(chart.rows[at], len(lines))
    gauge = [number((kpa - chart.air_kpa_abs) / units.gauge_kpa, units.gauge_decimals) for kpa in pressures]
    absolute = [number(kpa / units.absolute_kpa, 1) for kpa in pressures]
    return (number(chart.temperatures[at], _decimals(chart)), *gauge, *absolute)


def _decimals(chart: PressureChart) -> int:
    """As many as the longest of the temperatures was given with."""
    return max((len(plain(one).partition(".")[2]) for one in chart.temperatures), default=0)


def _pressures(row: AtTemperature, lines: int) -> tuple[float, ...]:
    return (row.dew_kpa_abs, row.bubble_kpa_abs)[:lines]
