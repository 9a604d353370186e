"""`fifthwire sensor`: a temperature sensor's resistance into its temperature, and back."""

from argparse import Namespace

from fifthwire.assessment.figures import number, temperature, with_unit
from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.terminal import terminal
from fifthwire.model import gauges
from fifthwire.workflow.sensor import SensorAnswer, ask_sensor, curve_from, sensor_to_json

GAP = "  "


def run(arguments: Namespace) -> int:
    """Look up each reading on the curve that was given."""
    curve = curve_from(
        table=arguments.table,
        points=arguments.point,
        does_fit=arguments.fit,
        r25=arguments.r25,
        beta=arguments.beta,
        steinhart=arguments.steinhart,
        visit=arguments.visit,
        curve=arguments.curve,
    )
    found = ask_sensor(curve, arguments.readings)
    if arguments.json:
        show_as_json(sensor_to_json(found))
        return DONE
    screen = terminal()
    lines = [_cells(one, arguments.units) for one in found.answers]
    widths = [max(len(line[at]) for line in lines) for at in range(2)]
    for given, answer in lines:
        screen.show(GAP.join((given.rjust(widths[0]), answer.rjust(widths[1]))))
    screen.show()
    for text in (*found.warnings, gauges.SENSOR_OFF):
        for shown in screen.wrapped(text):
            screen.show(shown)
    return DONE


def _cells(one: SensorAnswer, units: str) -> tuple[str, str]:
    shown_c, shown_ohm = temperature(one.c, units, 1), _resistance(one.ohm)
    return (shown_ohm, shown_c) if one.is_resistance else (shown_c, shown_ohm)


def _resistance(ohm: float) -> str:
    """Four digits, in ohm or kilohm."""
    scaled, unit = (ohm / 1e3, "kΩ") if ohm >= 1e3 else (ohm, "Ω")
    before = len(str(int(scaled)))
    return with_unit(number(scaled, max(4 - before, 0)), unit)
