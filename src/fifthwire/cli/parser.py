"""The commands and their options: help, completion and the pages of the documentation are made from this parser."""

import argparse
import re
from collections.abc import Callable
from typing import Any, Final

from fifthwire import __version__
from fifthwire.cli.columns import screen_columns
from fifthwire.cli.parser_people import people_options, photographs_options
from fifthwire.cli.parser_places import (
    actions_options,
    export_options,
    manuals_options,
    meters_options,
    notes_options,
    search_options,
    sites_options,
    systems_options,
    valves_options,
)
from fifthwire.cli.parser_register import register_options, visits_options

DESCRIPTION: Final = (
    "One visit's readings into a verdict for every expansion valve of a variable-refrigerant-flow system."
)
EPILOG: Final = (
    "Exit codes: 0 done, 2 the input cannot be used, 3 no answer, 4 the register, 1 a fault of the program. "
    "The program advises; the technician decides. Local codes and licensed practice rule."
)
WIDEST_HELP: Final = 100
"""Longer lines are hard to read.  [columns]  Our choice."""
SHELLS: Final = ("bash", "zsh", "fish")
COMMANDS: Final[dict[str, str]] = {
    "new": "write a visit file ready to fill in",
    "assess": "give a verdict for every valve of a visit",
    "touch": "be guided through one head, two pins at a time",
    "saturation": "tell dew, bubble and glide of a refrigerant at a pressure or a temperature",
    "pt-chart": "print the pressures of a refrigerant by temperature",
    "sensor": "turn a temperature sensor's resistance into its temperature, and back",
    "serve": "open the register's pages in a browser",
    "sites": "look after the buildings of the register",
    "systems": "look after systems and their units",
    "valves": "look after valves and heads, and bring in a building's list of valves",
    "actions": "see what is to do, and say what was found",
    "manuals": "keep what heads should measure, out of the manuals",
    "meters": "keep meters by their serial numbers",
    "notes": "write notes on anything that is kept",
    "search": "find anything that is kept by the words in it",
    "export": "take everything out, as tables, visit files and photographs",
    "visits": "take visits into the register, add to them, judge them and sign them off",
    "photographs": "keep photographs of anything that is kept",
    "people": "look after who may sign in to a shared register, and see who did what",
    "register": "check, back up, restore or move the register as a whole",
    "simulate": "tell what a described plant does, with nothing or several things wrong",
    "atlas": "tell what each valve of a plant does, stuck at every position",
    "make-log": "make a recorder's log of an invented plant, with its truth",
    "demo": "assess the example visit of an invented site",
    "completion": "print the completion script of a shell",
}
"""Every command, and what it does in a line."""


class Help(argparse.HelpFormatter):
    """Help as wide as the screen; argparse's own way of asking for that imports `shutil`, 3 ms of every run."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=min(screen_columns(), WIDEST_HELP) - 2)


def build_parser() -> argparse.ArgumentParser:
    """The whole command line."""
    parser = argparse.ArgumentParser(
        prog="fifthwire",
        description=DESCRIPTION,
        epilog=EPILOG,
        allow_abbrev=False,
        add_help=False,
        formatter_class=Help,
    )
    parser.add_argument("-h", "--help", action="help", help="show this help and stop")
    parser.add_argument(
        "--version", action="version", version=f"fifthwire {__version__}", help="show the version and stop"
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    for name, fill in _options().items():
        fill(_command(commands, name))
    return parser


def _options() -> dict[str, Callable[[argparse.ArgumentParser], None]]:
    """Command -> the function that adds its options, in the order in which they are shown."""
    return {
        "new": _new,
        "assess": _assess,
        "touch": _touch,
        "saturation": _saturation,
        "pt-chart": _pt_chart,
        "sensor": _sensor,
        "serve": _serve,
        "sites": sites_options,
        "systems": systems_options,
        "valves": valves_options,
        "actions": actions_options,
        "manuals": manuals_options,
        "meters": meters_options,
        "notes": notes_options,
        "search": search_options,
        "export": export_options,
        "visits": visits_options,
        "photographs": photographs_options,
        "people": people_options,
        "register": register_options,
        "simulate": _simulate,
        "atlas": _atlas,
        "make-log": _make_log,
        "demo": _demo,
        "completion": _completion,
    }


def _command(commands: Any, name: str) -> argparse.ArgumentParser:
    does = COMMANDS[name]
    command: argparse.ArgumentParser = commands.add_parser(
        name,
        help=does,
        description=does[0].upper() + does[1:] + ".",
        allow_abbrev=False,
        add_help=False,
        formatter_class=Help,
    )
    command.add_argument("-h", "--help", action="help", help="show this help and stop")
    return command


def _new(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", metavar="FILE", help="the visit file to write, NAME.visit.toml")
    command.add_argument(
        "--from",
        dest="source",
        metavar="FILE",
        help="take the valves from a list (CSV, a column a key) or from an earlier visit (TOML or JSON)",
    )
    _overwrite(command)


def _assess(command: argparse.ArgumentParser) -> None:
    command.add_argument("visit", metavar="VISIT", help="the visit file, TOML or JSON; - reads standard input")
    command.add_argument("--json", action="store_true", help="print the assessment as JSON and nothing else")
    command.add_argument(
        "--report",
        metavar="FILE",
        action="append",
        default=[],
        help="also write the report, as .pdf or .html; may be given more than once",
    )
    _overwrite(command)
    command.add_argument("--only", metavar="VALVE", help="judge this valve alone")
    command.add_argument(
        "--explain", metavar="VALVE", help="show every fact of this valve and how far it moved the odds"
    )
    _units(command)
    _priors(command)


def _touch(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--into",
        nargs=2,
        metavar=("VISIT", "VALVE"),
        help="take spec, meter and temperature from this visit, and write the readings of this valve into it",
    )
    command.add_argument(
        "--when",
        choices=("as-found", "after-cleaning", "after-replacement"),
        help="the state that is measured; left out: the latest in the file",
    )
    command.add_argument("--pins", metavar="NAMES", help='names of the pins in the order of the plug: "1 2 3 4 5"')
    _priors(command)


def _saturation(command: argparse.ArgumentParser) -> None:
    _refrigerant(command)
    command.add_argument(
        "reading", metavar="READING", help='a pressure or a temperature with its unit: "118 psig", "40 degF"'
    )
    _air(command)
    command.add_argument("--json", action="store_true", help="print the answer as JSON and nothing else")
    _units(command)
    _let_numbers_be_negative(command)


def _pt_chart(command: argparse.ArgumentParser) -> None:
    _refrigerant(command)
    command.add_argument(
        "--from", dest="first", metavar="TEMPERATURE", help='where it begins: "-20 degC"; left out: as low as known'
    )
    command.add_argument(
        "--to", dest="last", metavar="TEMPERATURE", help='where it ends: "120 degF"; left out: as high as known'
    )
    command.add_argument("--step", metavar="DIFFERENCE", help='"1 K" or "2 delta_degF"; left out: 2 K, or 5 °F')
    _air(command)
    command.add_argument("--report", metavar="FILE", help="also write it as a page to print, .pdf or .html")
    _overwrite(command)
    command.add_argument("--json", action="store_true", help="print the table as JSON and nothing else")
    _units(command)
    _let_numbers_be_negative(command)


def _sensor(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "readings",
        metavar="READING",
        nargs="+",
        help='a resistance or a temperature with its unit: "13.8 kohm", "5 degC"; may be given more than once',
    )
    command.add_argument("--table", metavar="FILE", help="the curve: a CSV file, a temperature and a resistance a line")
    command.add_argument(
        "--point",
        nargs=2,
        action="append",
        default=[],
        metavar=("TEMPERATURE", "RESISTANCE"),
        help='the curve: a point of its table, "0 degC" "32.58 kohm"; given twice or more',
    )
    command.add_argument(
        "--fit", action="store_true", help="lay a Steinhart-Hart curve through three points, in place of the table"
    )
    command.add_argument("--r25", metavar="RESISTANCE", help='the curve: resistance at 25 °C, "10 kohm"; with --beta')
    command.add_argument("--beta", metavar="KELVIN", help="of the beta law, 3950; with --r25")
    command.add_argument(
        "--steinhart", nargs=3, metavar=("A", "B", "C"), help="the curve: Steinhart-Hart coefficients in ohm and kelvin"
    )
    command.add_argument("--visit", metavar="FILE", help="the curve: one of a visit file; with --curve")
    command.add_argument("--curve", metavar="NAME", help="which of the visit file's curves")
    command.add_argument("--json", action="store_true", help="print the answers as JSON and nothing else")
    _units(command)
    _let_numbers_be_negative(command)


def _serve(command: argparse.ArgumentParser) -> None:
    _register(command)
    command.add_argument(
        "--host", metavar="NAME", help="where to listen; left out: this machine alone, shared with TLS everywhere"
    )
    command.add_argument(
        "--port", metavar="N", type=int, default=8470, help="the port; left out: 8470; 0 takes any that is free"
    )
    command.add_argument("--no-browser", action="store_true", help="do not open a browser")
    command.add_argument("--demo", action="store_true", help="show the demo register: three invented sites")
    command.add_argument("--shared", action="store_true", help="let several people work in it: they sign in")
    command.add_argument(
        "--tls", action="store_true", help="shared: encrypt the connection with an authority of its own, made once"
    )
    command.add_argument(
        "--name",
        metavar="NAME",
        action="append",
        default=[],
        help="with --tls: a name or address by which others reach this machine; may be given more than once; left "
        "out: those that it knows of itself",
    )
    command.add_argument("--certificate", metavar="FILE", help="shared: encrypt with this certificate (PEM), and --key")
    command.add_argument("--key", metavar="FILE", help="the key of the certificate (PEM, without a password)")


def _register(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--register",
        metavar="WHERE",
        help="a path, or postgresql://...; left out: as the environment's FIFTHWIRE_REGISTER says, else your own file",
    )


def _simulate(command: argparse.ArgumentParser) -> None:
    _plant(command)
    command.add_argument(
        "--closure",
        choices=("minutes-after", "settled", "both"),
        default="both",
        help="the state minutes after a fault, the one in which the charge has settled, or both; left out: both",
    )
    command.add_argument("--json", action="store_true", help="print the states as JSON and nothing else")
    _pages(command, "the states with their diagrams")
    _units(command)


def _atlas(command: argparse.ArgumentParser) -> None:
    _plant(command)
    command.add_argument("--valve", metavar="VALVE", help="show every position of this valve")
    command.add_argument(
        "--closure",
        choices=("minutes-after", "settled"),
        default="minutes-after",
        help="the state minutes after a fault, or the one in which the charge has settled; left out: minutes-after",
    )
    command.add_argument("--json", action="store_true", help="print every case as JSON and nothing else")
    _pages(command, "one page with the heat maps")
    _units(command)


def _make_log(command: argparse.ArgumentParser) -> None:
    _plant(command)
    command.add_argument("--days", metavar="DAYS", required=True, help="how long the log is: 10, or 0.5")
    command.add_argument("--seed", metavar="NUMBER", required=True, help="the same number gives the same log")
    command.add_argument("--period", metavar="TIME", help='of the recorder: "60 s", "5 min"; left out: 60 s')
    command.add_argument(
        "--begin", metavar="DAY", help="when the faults begin; left out: each at a time of its own, drawn by the seed"
    )
    command.add_argument(
        "--out", metavar="NAME", help="of the files, without their endings; left out: the plant's, beside it"
    )
    _overwrite(command)


def _demo(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--out", metavar="DIR", default="demo-report", help="where the report is written; left out: demo-report"
    )
    _units(command)


def _completion(command: argparse.ArgumentParser) -> None:
    command.add_argument("shell", choices=SHELLS, help="the shell")


def _plant(command: argparse.ArgumentParser) -> None:
    command.add_argument("plant", metavar="PLANT", help="the plant file, TOML or JSON; - reads standard input")


def _pages(command: argparse.ArgumentParser, what: str) -> None:
    command.add_argument(
        "--report",
        metavar="FILE",
        action="append",
        default=[],
        help=f"also write {what}, as .pdf, .html or .png, or its drawings alone as .svg; may be given more than once",
    )
    _overwrite(command)


def _overwrite(command: argparse.ArgumentParser) -> None:
    command.add_argument("--overwrite", action="store_true", help="replace a file that is already there")


def _units(command: argparse.ArgumentParser) -> None:
    command.add_argument("--units", choices=("si", "us"), default="si", help="units that are shown; left out: si")


def _refrigerant(command: argparse.ArgumentParser) -> None:
    command.add_argument("refrigerant", metavar="REFRIGERANT", help="its number, as in R410A")


def _air(command: argparse.ArgumentParser) -> None:
    command.add_argument("--altitude", metavar="HEIGHT", help='of the place, for gauge pressures: "1500 m", "5000 ft"')
    command.add_argument(
        "--barometer", metavar="PRESSURE", help='air pressure there, in place of the altitude: "1009 hPa"'
    )


def _let_numbers_be_negative(command: argparse.ArgumentParser) -> None:
    """Read -10degC as a number with its unit, not as an option: argparse knows only plain negative numbers."""
    command._negative_number_matcher = re.compile(r"^-\.?\d")


def _priors(command: argparse.ArgumentParser) -> None:
    command.add_argument("--priors", metavar="FILE", help="a priors file of your own in place of the shipped one")
