"""The options of the commands about people and photographs. They name verbs; what each does stands on its page."""

import argparse
from typing import Final

from fifthwire.cli.parser_register import as_json, place
from fifthwire.model.kept.people import ROLES

PEOPLE_VERBS: Final = ("list", "invite", "invitations", "withdraw", "change", "link", "audit")
PHOTOGRAPH_VERBS: Final = ("add", "list", "get")
ABOUT_KINDS: Final = ("site", "system", "unit", "valve", "visit", "action", "spec", "meter")


def people_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire people`."""
    command.add_argument("verb", choices=PEOPLE_VERBS, help="what to do")
    command.add_argument(
        "things", metavar="NAME", nargs="*", help="withdraw INVITATION · change SIGN-IN-NAME · link SIGN-IN-NAME"
    )
    command.add_argument("--role", choices=ROLES, help="invite, change: what the account may do")
    command.add_argument(
        "--site",
        metavar="NAME",
        action="append",
        default=[],
        help="invite, change: a site that it looks after, by name or id; may be given more than once",
    )
    command.add_argument("--all-sites", action="store_true", help="change: it looks after all sites")
    command.add_argument("--for", dest="for_whom", metavar="NAME", default="", help="invite: to know it by")
    command.add_argument("--hours", metavar="NUMBER", type=int, default=72, help="invite: how long; left out: 72")
    command.add_argument("--close", action="store_true", help="change: close the account; it is signed out at once")
    command.add_argument("--open", action="store_true", help="change: open a closed account again")
    command.add_argument("--page", metavar="NUMBER", type=int, default=1, help="audit: which page; left out: 1")
    place(command)
    as_json(command)


def photographs_options(command: argparse.ArgumentParser) -> None:
    """Of `fifthwire photographs`."""
    command.add_argument("verb", choices=PHOTOGRAPH_VERBS, help="what to do")
    command.add_argument("things", metavar="FILE", nargs="*", help="add FILE · list · get SHA256 FILE")
    command.add_argument(
        "--about",
        nargs=2,
        metavar=("KIND", "ID"),
        help=f"add, list: what it is about; one of {', '.join(ABOUT_KINDS)}, and its id",
    )
    command.add_argument("--thumbnail", action="store_true", help="get: the small copy")
    command.add_argument("--overwrite", action="store_true", help="get: replace a file that is already there")
    place(command)
    as_json(command)
