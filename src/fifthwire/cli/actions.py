"""`fifthwire actions`: what is to do over all sites, and what was found."""

from argparse import Namespace
from datetime import date
from typing import Final

from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain
from fifthwire.cli.terminal import terminal
from fifthwire.cli.things import Verb, answer, day, do_verb, show_page, site_asked, system_asked
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.todo import Action, Found
from fifthwire.model.words import word
from fifthwire.workflow import todo
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {"list": (), "show": ("ACTION",), "found": ("ACTION",)}


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    return do_verb(arguments, _VERBS, THINGS)


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    site = site_asked(register, who, arguments)
    system = system_asked(register, who, arguments, arguments.system)
    page = todo.list_actions(
        register,
        who,
        site_id=site.id if site else None,
        system_id=system.id if system else None,
        urgency=arguments.urgency,
        state=None if arguments.state == "all" else arguments.state,
        page=arguments.page,
    )
    heads = ("action", "since", "site", "system", "valve", "what", "urgency", "meanwhile", "found")
    show_page(page, arguments, heads, _cells, "Nothing is to do. Judge a visit: fifthwire visits judge VISIT")


def _cells(one: Action) -> tuple[object, ...]:
    meanwhile = "" if one.meanwhile == "none" else word(one.meanwhile)
    found = "" if one.found is None else word(one.found.cause)
    what = (word(one.action), word(one.urgency), meanwhile, found)
    return (one.id, one.since, one.site, one.system, one.valve, *what)


def _show(register: Register, who: Person, arguments: Namespace) -> None:
    one = todo.action(register, who, arguments.things[0])
    if arguments.json:
        show_as_json(as_plain(one))
        return
    screen = terminal()
    for line in _lines(one):
        screen.show(line)


def _lines(one: Action) -> list[str]:
    meanwhile = "" if one.meanwhile == "none" else f" Meanwhile: {word(one.meanwhile)}."
    return [
        f"{one.id}  {one.valve}, {one.unit}, {one.system}, {one.site}",
        f"{word(one.action)}, {word(one.urgency)}, {one.state}, since {one.since}.{meanwhile}",
        *(f"  {sentence}" for sentence in one.why),
        *([f"Parts: {one.parts}"] if one.parts else []),
        *(_found_line(found) for found in (one.found, *one.later_found) if found is not None),
    ]


def _found_line(found: Found) -> str:
    proof = f"; {word(found.proof_kind)}: {word(found.proof_result)}" if found.proof_kind and found.proof_result else ""
    note = f" {found.note}" if found.note else ""
    return f"Found {found.date} by {found.seen_by}: {word(found.cause)}, {word(found.how)}{proof}.{note}"


def _found(register: Register, who: Person, arguments: Namespace) -> None:
    for name in ("cause", "seen_by", "how"):
        if not getattr(arguments, name):
            option = f"--{name.replace('_', '-')}"
            raise InputError(f"{option} is missing.", "Say what it was, who saw it, and how it was seen.")
    found = todo.new_finding(
        cause=arguments.cause,
        seen_by=arguments.seen_by,
        how=arguments.how,
        day=day(arguments.date) or date.today(),
        proof_kind=arguments.proof,
        proof_result=arguments.result,
        photograph_sha256=arguments.photograph,
        note=arguments.note,
    )
    one = todo.add_finding(register, who, arguments.things[0], found)
    answer(one, arguments, f"{one.valve}: {word(found.cause)}; closed")


_VERBS: Final[dict[str, Verb]] = {"list": _list, "show": _show, "found": _found}
