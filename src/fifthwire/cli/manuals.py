"""`fifthwire manuals`: what heads should measure."""

from argparse import Namespace
from typing import Final

from fifthwire.assessment.figures import plain
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain
from fifthwire.cli.terminal import terminal
from fifthwire.cli.things import Verb, answer, do_verb, or_before, show_page, table
from fifthwire.model.errors import NotFound
from fifthwire.model.kept.manuals import SpecRevision
from fifthwire.model.kept.people import Person
from fifthwire.workflow import manuals
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {
    "list": (),
    "show": ("NAME",),
    "add": ("NAME", "TABLE"),
    "revise": ("NAME", "TABLE"),
    "check": ("NAME",),
}


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    return do_verb(arguments, _VERBS, THINGS, creates=arguments.verb == "add")


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    heads = ("name", "winding", "ohm", "manual", "page", "revision", "entered by", "checked by")
    empty = (
        """Nothing is entered. Write: fifthwire manuals add NAME '{"winding": "unipolar-5", "resistance": "62 ohm"}'"""
    )
    show_page(manuals.list_specs(register, who, page=arguments.page), arguments, heads, _cells, empty)


def _cells(one: SpecRevision) -> tuple[object, ...]:
    ohm = "" if one.spec.resistance_ohm is None else plain(one.spec.resistance_ohm)
    return (one.name, one.spec.winding, ohm, one.title, one.page, one.revision, one.by, one.checked_by)


def _named(register: Register, who: Person, name: str) -> SpecRevision:
    found = manuals.spec_named(register, who, name)
    if found is None:
        raise NotFound(f"{name} is not in the manuals.", "See: fifthwire manuals list.")
    return found


def _show(register: Register, who: Person, arguments: Namespace) -> None:
    of = manuals.revisions(register, who, _named(register, who, arguments.things[0]).spec_id)
    if arguments.json:
        show_as_json(as_plain(of))
        return
    screen = terminal()
    for one in of:
        checked = f", checked by {one.checked_by}" if one.checked_by else ", not checked by a second person"
        screen.show(f"revision {one.revision}, {one.at_utc:%Y-%m-%d}, by {one.by}{checked}")
        for key, value in as_plain(one.spec).items():
            screen.show(f"  {key} = {value}")


def _add(register: Register, who: Person, arguments: Namespace) -> None:
    name, written = arguments.things
    kept = manuals.add_spec(
        register,
        who,
        name=name,
        spec=table(written),
        title=arguments.title,
        page=arguments.manual_page,
        photograph_sha256=arguments.photograph,
    )
    answer(kept, arguments, kept.spec_id)


def _revise(register: Register, who: Person, arguments: Namespace) -> None:
    name, written = arguments.things
    before = _named(register, who, name)
    kept = manuals.revise_spec(
        register,
        who,
        before.spec_id,
        revision=or_before(arguments.seen, before.revision),
        name=or_before(arguments.rename, before.name),
        spec=table(written),
        title=or_before(arguments.title, before.title),
        page=or_before(arguments.manual_page, before.page),
        photograph_sha256=or_before(arguments.photograph, before.photograph_sha256),
    )
    answer(kept, arguments, f"{kept.name}, revision {kept.revision}")


def _check(register: Register, who: Person, arguments: Namespace) -> None:
    kept = manuals.check_spec(register, who, _named(register, who, arguments.things[0]).id)
    answer(kept, arguments, f"{kept.name}, revision {kept.revision}, checked by {kept.checked_by}")


_VERBS: Final[dict[str, Verb]] = {"list": _list, "show": _show, "add": _add, "revise": _revise, "check": _check}
