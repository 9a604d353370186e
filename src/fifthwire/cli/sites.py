"""`fifthwire sites`: the buildings."""

from argparse import Namespace
from typing import Final

from fifthwire.assessment.figures import plain
from fifthwire.cli.records import show_rows
from fifthwire.cli.things import Verb, answer, do_verb, measure, or_before, show_page
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import Site, SiteRow
from fifthwire.workflow import places
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {"list": (), "show": ("SITE",), "add": ("NAME",), "change": ("SITE",)}


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    return do_verb(arguments, _VERBS, THINGS, creates=arguments.verb == "add")


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    heads = ("site", "systems", "valves", "now", "to do", "last visit")
    empty = 'No site is kept. Add one: fifthwire sites add "NAME" --time-zone Europe/London'
    show_page(places.list_sites(register, who, page=arguments.page), arguments, heads, _cells, empty)


def _cells(row: SiteRow) -> tuple[object, ...]:
    return (row.site.name, row.n_systems, row.n_valves, row.n_open_now, row.n_open, row.last_visit)


def _show(register: Register, who: Person, arguments: Namespace) -> None:
    site = places.find_site(register, who, arguments.things[0])
    answer(site, arguments, _line(site))
    if not arguments.json:
        listed = places.list_systems(register, who, site_id=site.id)
        rows = [(one.system.name, one.n_units, one.n_valves, one.n_open, one.last_visit) for one in listed.rows]
        show_rows(("system", "units", "valves", "to do", "last visit"), rows, empty="It has no system yet.")


def _line(site: Site) -> str:
    altitude = "" if site.altitude_m is None else f", {plain(site.altitude_m)} m"
    return f"{site.id}  {site.name}, {site.time_zone}{altitude}, version {site.version}"


def _add(register: Register, who: Person, arguments: Namespace) -> None:
    if not arguments.time_zone:
        raise InputError("The time zone is missing.", "Give --time-zone, as Europe/London.")
    kept = places.add_site(
        register,
        who,
        name=arguments.things[0],
        time_zone=arguments.time_zone,
        altitude_m=measure(arguments.altitude, "m"),
        address=arguments.address,
    )
    answer(kept, arguments, kept.id)


def _change(register: Register, who: Person, arguments: Namespace) -> None:
    before = places.find_site(register, who, arguments.things[0])
    kept = places.change_site(
        register,
        who,
        before.id,
        version=or_before(arguments.seen, before.version),
        name=or_before(arguments.name, before.name),
        time_zone=or_before(arguments.time_zone, before.time_zone),
        altitude_m=or_before(measure(arguments.altitude, "m"), before.altitude_m),
        address=or_before(arguments.address, before.address),
    )
    answer(kept, arguments, _line(kept))


_VERBS: Final[dict[str, Verb]] = {"list": _list, "show": _show, "add": _add, "change": _change}
