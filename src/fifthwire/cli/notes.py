"""`fifthwire notes`: notes on anything that is kept."""

from argparse import Namespace
from typing import Final

from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, show_rows, tell
from fifthwire.cli.things import Verb, answer, do_verb
from fifthwire.model.kept.people import Person
from fifthwire.workflow import notes
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {
    "list": ("KIND", "ID"),
    "add": ("KIND", "ID", "TEXT"),
    "strike": ("NOTE",),
}


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    return do_verb(arguments, _VERBS, THINGS)


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    found = notes.list_notes(register, who, *arguments.things)
    if arguments.json:
        show_as_json(as_plain(found))
        return
    rows = [
        (one.id, f"{one.at_utc:%Y-%m-%d}", one.by, "struck out" if one.is_void else "", " ".join(one.tags), one.text)
        for one in found
    ]
    show_rows(("note", "day", "by", "", "tags", "text"), rows, empty="No note is kept on it.")


def _add(register: Register, who: Person, arguments: Namespace) -> None:
    kind, id_, text = arguments.things
    kept = notes.add_note(register, who, about_kind=kind, about_id=id_, text=text, tags=arguments.tag)
    answer(kept, arguments, kept.id)


def _strike(register: Register, who: Person, arguments: Namespace) -> None:
    notes.void_note(register, who, arguments.things[0])
    tell("Struck out. It stays readable.")


_VERBS: Final[dict[str, Verb]] = {"list": _list, "add": _add, "strike": _strike}
