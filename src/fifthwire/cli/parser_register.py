"""The options of the commands that work on a register. They name verbs; what each does stands on its page."""

import argparse
from typing import Final

from fifthwire.model.choices import REASONS_FOR_VISIT

REGISTER_VERBS: Final = ("check", "backup", "restore", "move")
VISIT_VERBS: Final = (
    "list", "show", "preview", "import", "begin", "add", "strike", "take", "judge", "sign", "file", "issue",
)  # fmt: skip


def register_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire register`."""
    command.add_argument("verb", choices=REGISTER_VERBS, help="what to do")
    command.add_argument(
        "places",
        metavar="FILE",
        nargs="*",
        help="backup FILE · restore FILE · move FROM TO (paths, or postgresql://NAME@HOST/DATABASE)",
    )
    place(command)
    as_json(command)


def visits_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire visits`."""
    command.add_argument("verb", choices=VISIT_VERBS, help="what to do")
    command.add_argument(
        "things",
        metavar="FILE",
        nargs="*",
        help="show VISIT · preview FILE · import FILE · begin SYSTEM · add VISIT PATH TABLE · strike VISIT ENTRY · "
        "take VISIT SPEC · judge VISIT · sign VISIT · file VISIT FILE · issue VISIT NUMBER FILE",
    )
    command.add_argument("--site", metavar="NAME", help="list, begin: of this site, by name or id")
    command.add_argument("--system", metavar="NAME", help="list: of this system, by name or id")
    command.add_argument("--page", metavar="NUMBER", type=int, default=1, help="list: which page; left out: 1")
    command.add_argument(
        "--answer",
        metavar="KEY=VALUE",
        action="append",
        default=[],
        help="preview, import: the answer to a question of the preview; may be given more than once",
    )
    command.add_argument("--date", metavar="DAY", help="begin: day of the visit, YYYY-MM-DD; left out: today")
    command.add_argument("--technician", metavar="NAME", help="begin: initials or a number; left out: your name")
    command.add_argument("--reason", choices=REASONS_FOR_VISIT, default="planned", help="begin: why; left out: planned")
    command.add_argument("--entry", metavar="ID", help="add: id of the entry, so that adding it twice adds it once")
    command.add_argument("--seen", metavar="VERSION", type=int, help="add: version of the visit that you saw")
    command.add_argument("--device", metavar="NAME", help="add: what it was written on")
    command.add_argument("--why", metavar="REASON", help="strike: the reason · sign: why there is another issue")
    command.add_argument("--overwrite", action="store_true", help="file, issue: replace a file that is already there")
    place(command)
    as_json(command)


def place(command: argparse.ArgumentParser) -> None:
    """Where the register is."""
    command.add_argument(
        "--register",
        metavar="PLACE",
        help="a path, or postgresql://NAME@HOST/DATABASE; left out: FIFTHWIRE_REGISTER, else the user's own",
    )


def as_json(command: argparse.ArgumentParser) -> None:
    """For other programs."""
    command.add_argument("--json", action="store_true", help="print the answer as JSON and nothing else")
