"""`fifthwire saturation`: dew, bubble and glide at what a gauge or a thermometer shows."""

from argparse import Namespace

from fifthwire.assessment.figures import decimals_borne, difference, number, temperature, with_unit
from fifthwire.assessment.pt_chart import air_words
from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.terminal import Terminal, terminal
from fifthwire.model import gauges
from fifthwire.model.units import PSI_KPA
from fifthwire.physics.saturation import AtPressure, AtTemperature, has_glide
from fifthwire.workflow.saturation import Saturation, look_up, saturation_to_json

OTHER = {"si": "us", "us": "si"}
FINEST = 2
"""Decimals of a temperature where the model is not in doubt: the fits are within 1 mK.  Our choice."""


def run(arguments: Namespace) -> int:
    """Look up a refrigerant and show what was found."""
    answer = look_up(
        arguments.refrigerant, arguments.reading, altitude=arguments.altitude, barometer=arguments.barometer
    )
    if arguments.json:
        show_as_json(saturation_to_json(answer))
        return DONE
    screen = terminal()
    for line in saturation_lines(answer, arguments.units):
        screen.show(line)
    _show_words(answer, screen)
    return DONE


def saturation_lines(answer: Saturation, units: str) -> list[str]:
    """What was given, and the lines there, in the units asked for and beside them in the others."""
    found, scales = answer.found, (units, OTHER[units])
    if isinstance(found, AtPressure):
        given = " = ".join(_pressure(found.kpa_abs, answer.air_kpa_abs, scale) for scale in scales)
        rows = [("dew", found.dew_c), ("bubble", found.bubble_c)]
        table = [(name, *_temperatures(c, answer.of.model_u_k, scales)) for name, c in rows if c is not None]
    else:
        given = " = ".join(temperature(found.c, scale, FINEST) for scale in scales)
        table = [
            (name, *(_pressure(kpa, answer.air_kpa_abs, scale) for scale in scales)) for name, kpa in _lines(found)
        ]
    if not has_glide(answer.of):
        table = [("dew and bubble", *table[0][1:])]
    elif found.glide_k is not None:
        decimals = 1 if answer.of.model_u_k else FINEST
        name = "glide" if isinstance(found, AtPressure) else "glide at the dew pressure"
        table.append((name, *(difference(found.glide_k, scale, decimals) for scale in scales)))
    return [
        f"{answer.of.name} at {given}",
        f"Air pressure {air_words(answer.air_kpa_abs, units)}",
        "",
        *_aligned(table),
    ]


def _lines(found: AtTemperature) -> list[tuple[str, float]]:
    return [("dew", found.dew_kpa_abs), ("bubble", found.bubble_kpa_abs)]


def _temperatures(c: float, model_u_k: float, scales: tuple[str, str]) -> list[str]:
    return [temperature(c, scale, _decimals(model_u_k)) for scale in scales]


def _decimals(u: float) -> int:
    return decimals_borne(u) if u else FINEST


def _pressure(kpa_abs: float, air_kpa_abs: float, units: str) -> str:
    """Gauge, then absolute."""
    gauge = kpa_abs - air_kpa_abs
    if units == "us":
        psig, psia = number(gauge / PSI_KPA, 1), number(kpa_abs / PSI_KPA, 1)
        return f"{with_unit(psig, 'psig')} ({with_unit(psia, 'psia')})"
    return f"{with_unit(number(gauge / 100.0, 2), 'barg')} ({with_unit(number(kpa_abs, 1), 'kPa')} absolute)"


def _aligned(table: list[tuple[str, ...]]) -> list[str]:
    """Rows whose figures end under each other."""
    widths = [max(len(row[at]) for row in table) for at in range(len(table[0]))]
    return [
        "  ".join(
            [row[0].ljust(widths[0]), *(cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))]
        )
        for row in table
    ]


def _show_words(answer: Saturation, screen: Terminal) -> None:
    of = answer.of
    model = gauges.MODEL.format(name=of.name, model_u_k=of.model_u_k)
    said = (
        *answer.warnings,
        gauges.WHICH_LINE if has_glide(of) else gauges.ONE_LINE,
        *((model,) if of.model_u_k else ()),
        *gauges.cautions_of(of.name),
    )
    screen.show()
    for text in said:
        for line in screen.wrapped(text):
            screen.show(line)
