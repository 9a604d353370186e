"""`fifthwire photographs`: keep photographs of a thing, list them, take one out."""

from argparse import Namespace
from typing import Final

from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, oneself, opened, show_rows
from fifthwire.cli.terminal import terminal
from fifthwire.model.errors import InputError
from fifthwire.workflow import photographs
from fifthwire.workflow.files import read_file, refuse_existing, write_file

THINGS: Final[dict[str, tuple[str, ...]]] = {"add": ("FILE",), "list": (), "get": ("SHA256", "FILE")}
"""What each verb is about."""


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    wanted = THINGS[arguments.verb]
    if len(arguments.things) != len(wanted):
        raise InputError(
            f"photographs {arguments.verb} takes {' '.join(wanted) or 'nothing more'}, "
            f"and {len(arguments.things)} words were given.",
            "See: fifthwire photographs --help.",
        )
    if arguments.verb != "get" and arguments.about is None:
        raise InputError("It is not said what they are about.", "Add --about KIND ID.")
    {"add": _add, "list": _list, "get": _get}[arguments.verb](arguments)
    return DONE


def _add(arguments: Namespace) -> None:
    path, (kind, id_) = arguments.things[0], arguments.about
    content = read_file(path, largest_bytes=photographs.LARGEST_PHOTOGRAPH_BYTES)
    with opened(arguments.register) as register:
        kept = photographs.add_photograph(register, oneself(), content, name=path, about_kind=kind, about_id=id_)
    if arguments.json:
        show_as_json(as_plain(kept))
    else:
        terminal().show(kept.sha256)


def _list(arguments: Namespace) -> None:
    kind, id_ = arguments.about
    with opened(arguments.register) as register:
        found = photographs.photographs_about(register, oneself(), kind, id_)
    if arguments.json:
        show_as_json({"photographs": as_plain(found)})
        return
    rows = [
        (one.sha256, f"{one.width_px} × {one.height_px}", one.by, f"{one.at_utc:%Y-%m-%d %H:%M} UTC") for one in found
    ]
    show_rows(("sha256", "pixels", "by", "when"), rows, empty="No photograph yet.")


def _get(arguments: Namespace) -> None:
    sha256, path = arguments.things
    refuse_existing(path, overwrite=arguments.overwrite)
    with opened(arguments.register) as register:
        shown = photographs.photograph(register, oneself(), sha256, arguments.thumbnail)
    write_file(path, shown.content, overwrite=arguments.overwrite)
    if arguments.json:
        show_as_json(as_plain(shown.photograph))
