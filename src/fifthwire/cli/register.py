"""`fifthwire register`: the register as a whole: check it, back it up, restore it, move it."""

from argparse import Namespace
from collections.abc import Mapping

from fifthwire.cli.exits import DONE, REGISTER
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, oneself, opened
from fifthwire.cli.terminal import terminal
from fifthwire.model.errors import InputError
from fifthwire.model.kept.register_reports import MoveReport, RegisterCheck
from fifthwire.workflow import register_place

PLACES = {"check": 0, "backup": 1, "restore": 1, "move": 2}
"""How many places each verb takes."""


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    wanted = PLACES[arguments.verb]
    if len(arguments.places) != wanted:
        raise InputError(
            f"{arguments.verb} takes {wanted or 'no'} place{'' if wanted == 1 else 's'}, "
            f"and {len(arguments.places)} were given.",
            "See: fifthwire register --help.",
        )
    url = register_place.register_url(arguments.register)
    if arguments.verb == "check":
        return _show_check(register_place.check(url), arguments)
    if arguments.verb == "backup":
        with opened(arguments.register) as register:
            return _show_check(register_place.backup(register, oneself(), arguments.places[0]), arguments)
    if arguments.verb == "restore":
        return _show_move(register_place.restore(url, arguments.places[0]), arguments)
    return _show_move(register_place.move(*arguments.places), arguments)


def _show_check(found: RegisterCheck, arguments: Namespace) -> int:
    if arguments.json:
        show_as_json({**as_plain(found), "is_whole": found.is_whole})
        return DONE if found.is_whole else REGISTER
    screen = terminal()
    for problem in found.problems:
        for line in screen.wrapped(f"{found.where}: {problem}"):
            screen.show(line)
    if not found.is_whole:
        screen.show("Not whole. Restore it from a backup: fifthwire register restore BACKUP --register NEW_PLACE")
        return REGISTER
    screen.show(f"{found.where}: whole. {found.engine}, tables {found.version}.")
    _show_counts(found.n_rows, found.sha256)
    return DONE


def _show_move(report: MoveReport, arguments: Namespace) -> int:
    if arguments.json:
        show_as_json(as_plain(report))
        return DONE
    terminal().show(f"{report.from_where} -> {report.to_where}: {report.n_all} rows, read again and the same.")
    _show_counts(report.n_rows, report.sha256)
    return DONE


def _show_counts(n_rows: Mapping[str, int], sha256: str) -> None:
    screen = terminal()
    for name, n in n_rows.items():
        if n:
            screen.show(f"  {name}: {n}")
    screen.show(f"  SHA-256 of everything: {sha256}")
