"""The options of the commands that look after places, manuals, meters, notes and what is to do."""

import argparse
from typing import Final

from fifthwire.cli.parser_register import as_json, place
from fifthwire.model.choices import (
    ACCESS,
    HEADS,
    PROOF_KINDS,
    PROOF_RESULTS,
    REFRIGERANTS,
    ROLES,
    URGENCIES,
    VALVE_KINDS,
)
from fifthwire.model.kept.notes import NOTE_KINDS
from fifthwire.model.kept.places import UNIT_KINDS, VALVE_MARKS
from fifthwire.model.kept.todo import ACTION_STATES, FOUND_CAUSES, FOUND_HOW

SITE_VERBS: Final = ("list", "show", "add", "change")
SYSTEM_VERBS: Final = ("list", "show", "draw", "add", "change", "add-unit", "change-unit")
VALVE_VERBS: Final = (
    "list", "show", "history", "chart", "add", "change", "fit", "template", "preview", "import",
)  # fmt: skip
ACTION_VERBS: Final = ("list", "show", "found")
MANUAL_VERBS: Final = ("list", "show", "add", "revise", "check")
METER_VERBS: Final = ("list", "show", "add", "change")
NOTE_VERBS: Final = ("list", "add", "strike")
EXPORTS: Final = ("csv", "visits", "zip")


def sites_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire sites`."""
    _verb(command, SITE_VERBS, "list · show SITE · add NAME · change SITE")
    command.add_argument("--name", metavar="NAME", help="change: another name")
    command.add_argument("--time-zone", metavar="ZONE", help="add, change: an IANA name, as Europe/London")
    command.add_argument("--altitude", metavar="HEIGHT", help='add, change: "40 m", "130 ft"')
    command.add_argument("--address", metavar="TEXT", help="add, change: where it is")
    _ends(command)


def systems_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire systems`."""
    _verb(
        command,
        SYSTEM_VERBS,
        "list · show SYSTEM · draw SYSTEM FILE · add NAME · change SYSTEM · add-unit SYSTEM NAME · "
        "change-unit SYSTEM UNIT",
    )
    _site(command, "the site, by name or id; add needs it, the others where two sites have a system of one name")
    command.add_argument("--name", metavar="NAME", help="change, change-unit: another name")
    command.add_argument("--refrigerant", choices=REFRIGERANTS, help="add, change: what it is filled with")
    command.add_argument("--installed", metavar="YEAR", type=int, help="add, change: when it was installed")
    command.add_argument(
        "--heat-recovery", choices=("yes", "no"), help="add, change: whether it heats and cools at the same time"
    )
    command.add_argument("--kind", choices=UNIT_KINDS, help="add-unit, change-unit: what kind of unit")
    command.add_argument(
        "--position", metavar="N", type=int, help="add-unit, change-unit: its place along the pipes; left out: the last"
    )
    command.add_argument("--branch-unit", metavar="NAME", help="add-unit, change-unit: the branch unit it hangs on")
    command.add_argument("--room", metavar="TEXT", help="add-unit, change-unit: where it is")
    command.add_argument("--capacity", metavar="POWER", help='add-unit, change-unit: "3.6 kW"')
    command.add_argument(
        "--mode", choices=("cooling", "heating", "mixed"), help="draw: which way the arrows point; left out: none"
    )
    command.add_argument("--overwrite", action="store_true", help="draw: replace a file that is already there")
    _ends(command)


def valves_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire valves`."""
    _verb(
        command,
        VALVE_VERBS,
        "list · show VALVE · history VALVE · chart VALVE FILE · add UNIT ROLE · change VALVE · fit VALVE · "
        "template FILE · preview FILE · import FILE",
    )
    _site(command, "of this site, by name or id")
    command.add_argument("--system", metavar="SYSTEM", help="of this system, by name or id; with a label it says whose")
    command.add_argument("--mark", choices=VALVE_MARKS, help="list: only of this mark")
    command.add_argument("--text", metavar="WORDS", help="list: only those that hold words starting so")
    command.add_argument("--label", metavar="NAME", help="add, change: what people call it; left out: unit and role")
    command.add_argument("--role", choices=ROLES, help="change: what it does")
    command.add_argument("--number", metavar="N", type=int, help="add, change: where the unit has two of one role")
    command.add_argument("--kind", choices=VALVE_KINDS, help="add, change: an expansion valve or a solenoid")
    command.add_argument("--head", choices=HEADS, help="add, change: a coil or a motor")
    command.add_argument("--access", choices=ACCESS, help="add, change: how it is reached")
    command.add_argument("--spec", metavar="NAME", help="add, change: what its head should measure, in the manuals")
    command.add_argument("--part", metavar="TEXT", help="add, fit: as printed on the head")
    command.add_argument("--date", metavar="DAY", help="add, fit: when the head was fitted, YYYY-MM-DD")
    command.add_argument(
        "--overwrite", action="store_true", help="chart, template: replace a file that is already there"
    )
    _ends(command)


def actions_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire actions`."""
    _verb(command, ACTION_VERBS, "list · show ACTION · found ACTION")
    _site(command, "list: of this site, by name or id")
    command.add_argument("--system", metavar="SYSTEM", help="list: of this system, by name or id")
    command.add_argument("--urgency", choices=URGENCIES, help="list: only of this urgency")
    command.add_argument("--state", choices=(*ACTION_STATES, "all"), default="open", help="list: left out: open")
    command.add_argument("--cause", choices=FOUND_CAUSES, help="found: what it was")
    command.add_argument("--seen-by", metavar="NAME", help="found: who saw it")
    command.add_argument("--how", choices=FOUND_HOW, help="found: how it was seen")
    command.add_argument("--date", metavar="DAY", help="found: when, YYYY-MM-DD; left out: today")
    command.add_argument("--proof", choices=PROOF_KINDS, help="found: what was watched after the repair; with --result")
    command.add_argument("--result", choices=PROOF_RESULTS, help="found: what came of it")
    command.add_argument("--photograph", metavar="SHA256", help="found: a kept photograph that shows it")
    command.add_argument("--note", metavar="TEXT", help="found: a remark")
    _ends(command)


def manuals_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire manuals`."""
    _verb(command, MANUAL_VERBS, "list · show NAME · add NAME TABLE · revise NAME TABLE · check NAME")
    command.add_argument("--title", metavar="TEXT", help="add, revise: of the manual")
    command.add_argument("--manual-page", metavar="PAGE", help="add, revise: of the manual")
    command.add_argument("--photograph", metavar="SHA256", help="add, revise: a kept photograph of that page")
    command.add_argument("--rename", metavar="NAME", help="revise: another name")
    _ends(command)


def meters_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire meters`."""
    _verb(command, METER_VERBS, "list · show SERIAL · add SERIAL TABLE · change SERIAL TABLE")
    command.add_argument("--name", metavar="NAME", help="add, change: as visits name it")
    _ends(command)


def notes_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire notes`."""
    _verb(command, NOTE_VERBS, "list KIND ID · add KIND ID TEXT · strike NOTE; KIND is one of " + ", ".join(NOTE_KINDS))
    command.add_argument(
        "--tag", metavar="WORD", action="append", default=[], help="add: to find it by; may be given more than once"
    )
    place(command)
    as_json(command)


def search_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire search`."""
    command.add_argument("words", metavar="WORDS", nargs="+", help="what is looked for; the start of a word is enough")
    _page(command)
    place(command)
    as_json(command)


def export_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire export`."""
    command.add_argument("file", metavar="FILE", help="the ZIP to write")
    command.add_argument(
        "--what",
        choices=EXPORTS,
        default="zip",
        help="the tables as CSV, the visit files, or both with photographs; left out: zip",
    )
    _site(command, "only of this site, by name or id")
    command.add_argument("--overwrite", action="store_true", help="replace a file that is already there")
    place(command)


def _verb(command: argparse.ArgumentParser, verbs: tuple[str, ...], things: str) -> None:
    command.add_argument("verb", choices=verbs, help="what to do")
    command.add_argument("things", metavar="FILE", nargs="*", help=things)


def _site(command: argparse.ArgumentParser, help: str) -> None:
    command.add_argument("--site", metavar="SITE", help=help)


def _page(command: argparse.ArgumentParser) -> None:
    command.add_argument("--page", metavar="NUMBER", type=int, default=1, help="list: which page; left out: 1")


def _ends(command: argparse.ArgumentParser) -> None:
    """What every one of them has."""
    _page(command)
    command.add_argument(
        "--seen",
        metavar="VERSION",
        type=int,
        help="change, revise: the version you saw; left out: the present one",
    )
    place(command)
    as_json(command)
