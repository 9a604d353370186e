"""What a verb is about, and how the words of a person name it."""

from argparse import Namespace
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, oneself, opened, show_rows, tell
from fifthwire.model.errors import InputError
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import Site, SystemPlace, ValvePlace
from fifthwire.model.units import parse_quantity
from fifthwire.workflow import places
from fifthwire.workflow.register_place import Register

Verb = Callable[[Register, Person, Namespace], None]


def do_verb(
    arguments: Namespace, verbs: Mapping[str, Verb], wanted: Mapping[str, tuple[str, ...]], *, creates: bool = False
) -> int:
    """Do what the verb says, once it has as many words as it needs.

    Parameters
    ----------
    arguments : Namespace
        As parsed: `verb`, `things`, `register`.
    verbs : mapping
        What does each.
    wanted : mapping
        What each is about, in order.
    creates : bool
        Whether a register is made where there is none.
    """
    needs = wanted[arguments.verb]
    if len(arguments.things) != len(needs):
        raise InputError(
            f"{arguments.command} {arguments.verb} takes {' '.join(needs) or 'nothing more'}, "
            f"and {len(arguments.things)} words were given.",
            f"See: fifthwire {arguments.command} --help.",
        )
    with opened(arguments.register, create=creates) as register:
        verbs[arguments.verb](register, oneself(), arguments)
    return DONE


def site_asked(register: Register, who: Person, arguments: Namespace) -> Site | None:
    """The site that `--site` names."""
    return places.find_site(register, who, arguments.site) if arguments.site else None


def system_asked(register: Register, who: Person, arguments: Namespace, name: str | None) -> SystemPlace | None:
    """The system of that name, at the site that `--site` names where it names one."""
    if not name:
        return None
    site = site_asked(register, who, arguments)
    return places.find_system(register, who, name, site_id=site.id if site else None)


def valve_asked(register: Register, who: Person, arguments: Namespace, name: str) -> ValvePlace:
    """The valve of an id, or of a label in the system that `--system` names."""
    system = system_asked(register, who, arguments, arguments.system)
    return places.find_valve(register, who, name, system_id=system.id if system else None)


def measure(written: str | None, unit: str) -> float | None:
    """What a person wrote with its unit, in ours."""
    return parse_quantity(written, unit) if written else None


def day(written: str | None) -> date | None:
    """A date.

    Raises
    ------
    InputError
        If it is none.
    """
    if not written:
        return None
    try:
        return date.fromisoformat(written)
    except ValueError as err:
        raise InputError(f"{written} is no date.", "Write YYYY-MM-DD.") from err


def or_before(given: Any, before: Any) -> Any:
    """What was given, else what stood there."""
    return before if given is None else given


def table(written: str) -> dict[str, Any]:
    """The keys of a table of a visit file, as JSON.

    Raises
    ------
    InputError
        If it is no JSON object.
    """
    from json import loads

    try:
        found = loads(written)
    except ValueError as err:
        raise InputError(f"The table is no JSON: {err}.", """Write '{"resistance": "62 ohm"}'.""") from err
    if not isinstance(found, dict):
        raise InputError("The table is no JSON object.", """Write '{"resistance": "62 ohm"}'.""")
    return found


def answer(record: Any, arguments: Namespace, line: str) -> None:
    """A record as JSON, or a line about it."""
    if arguments.json:
        show_as_json(as_plain(record))
    else:
        from fifthwire.cli.terminal import terminal

        terminal().show(line)


def show_page(
    page: Page[Any], arguments: Namespace, heads: tuple[str, ...], row: Callable[[Any], tuple[object, ...]], empty: str
) -> None:
    """A page of a list as JSON, or as a table that says where there is more."""
    if arguments.json:
        show_as_json(as_plain(page))
        return
    show_rows(heads, [row(one) for one in page.rows], empty=empty)
    if page.n_pages > 1:
        tell(f"Page {page.page} of {page.n_pages}; the next with --page {page.page + 1}.")
