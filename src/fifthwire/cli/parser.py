"""The commands and their options: help, completion and the pages of the documentation are made from this parser."""

import argparse
from typing import Any, Final

from fifthwire import __version__
from fifthwire.cli.columns import screen_columns

DESCRIPTION: Final = (
    "One visit's readings into a verdict for every expansion valve of a variable-refrigerant-flow system."
)
EPILOG: Final = (
    "Exit codes: 0 done, 2 the input cannot be used, 3 no answer, 1 a fault of the program. "
    "The program advises; the technician decides. Local codes and licensed practice rule."
)
WIDEST_HELP: Final = 100
"""Longer lines are hard to read.  [columns]  Our choice."""
SHELLS: Final = ("bash", "zsh", "fish")
COMMANDS: Final[dict[str, str]] = {
    "new": "write a visit file ready to fill in",
    "assess": "give a verdict for every valve of a visit",
    "touch": "be guided through one head, two pins at a time",
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
    for name, fill in (
        ("new", _new),
        ("assess", _assess),
        ("touch", _touch),
        ("demo", _demo),
        ("completion", _completion),
    ):
        fill(_command(commands, name))
    return parser


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


def _demo(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--out", metavar="DIR", default="demo-report", help="where the report is written; left out: demo-report"
    )
    _units(command)


def _completion(command: argparse.ArgumentParser) -> None:
    command.add_argument("shell", choices=SHELLS, help="the shell")


def _overwrite(command: argparse.ArgumentParser) -> None:
    command.add_argument("--overwrite", action="store_true", help="replace a file that is already there")


def _units(command: argparse.ArgumentParser) -> None:
    command.add_argument("--units", choices=("si", "us"), default="si", help="units that are shown; left out: si")


def _priors(command: argparse.ArgumentParser) -> None:
    command.add_argument("--priors", metavar="FILE", help="a priors file of your own in place of the shipped one")
