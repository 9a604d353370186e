"""`fifthwire systems`: refrigerant systems and their units."""

from argparse import Namespace
from typing import Final

from fifthwire.assessment.marks import MARKS
from fifthwire.cli.drawings import draw_circuit
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, show_rows
from fifthwire.cli.terminal import terminal
from fifthwire.cli.things import Verb, answer, do_verb, measure, or_before, show_page, site_asked, system_asked
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import SystemPlace, SystemRow, UnitPlace, ValveRow
from fifthwire.model.words import word
from fifthwire.workflow import places
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {
    "list": (),
    "show": ("SYSTEM",),
    "draw": ("SYSTEM", "FILE"),
    "add": ("NAME",),
    "change": ("SYSTEM",),
    "add-unit": ("SYSTEM", "NAME"),
    "change-unit": ("SYSTEM", "UNIT"),
}
MARK_WORDS: Final = {mark.key: mark.word for mark in MARKS}


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    return do_verb(arguments, _VERBS, THINGS)


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    site = site_asked(register, who, arguments)
    page = places.list_systems(register, who, site_id=site.id if site else None, page=arguments.page)
    heads = ("site", "system", "units", "valves", "to do", "last visit", "worst")
    show_page(page, arguments, heads, _cells, "No system is kept. Add one: fifthwire systems add NAME --site SITE")


def _cells(row: SystemRow) -> tuple[object, ...]:
    worst = "" if row.worst is None else MARK_WORDS[row.worst]
    return (row.site.name, row.system.name, row.n_units, row.n_valves, row.n_open, row.last_visit, worst)


def _named(register: Register, who: Person, arguments: Namespace) -> SystemPlace:
    found = system_asked(register, who, arguments, arguments.things[0])
    if found is None:
        raise InputError("The name of the system is empty.", "Give its name or its id.")
    return found


def _show(register: Register, who: Person, arguments: Namespace) -> None:
    whole = places.system_whole(register, who, _named(register, who, arguments).id)
    if arguments.json:
        show_as_json(as_plain(whole))
        return
    terminal().show(f"{whole.site.name}, {_line(whole.system)}")
    empty = "It has no valve yet. Import the building's list: fifthwire valves import FILE --system SYSTEM"
    show_rows(("unit", "valve", "state", "to do", "since"), [valve_cells(row) for row in whole.valves], empty=empty)


def _draw(register: Register, who: Person, arguments: Namespace) -> None:
    draw_circuit(places.system_whole(register, who, _named(register, who, arguments).id), arguments)


def valve_cells(row: ValveRow) -> tuple[object, ...]:
    """A valve as a list of one system shows it."""
    if row.now is None:
        return (row.valve.unit, row.valve.label, MARK_WORDS["not-checked"], "", "")
    to_do = "" if row.now.urgency == "none" else f"{word(row.now.action)}, {word(row.now.urgency)}"
    return (row.valve.unit, row.valve.label, MARK_WORDS[row.now.mark], to_do, row.now.date)


def _line(system: SystemPlace) -> str:
    said = [system.name, system.refrigerant, system.installed and str(system.installed)]
    recovery = ["heat recovery"] if system.is_heat_recovery else []
    return f"{system.id}  {', '.join(part for part in (*said, *recovery) if part)}, version {system.version}"


def _add(register: Register, who: Person, arguments: Namespace) -> None:
    site = site_asked(register, who, arguments)
    if site is None:
        raise InputError("The site is missing.", "Give --site, by name or id.")
    kept = places.add_system(
        register,
        who,
        site_id=site.id,
        name=arguments.things[0],
        refrigerant=arguments.refrigerant,
        installed=arguments.installed,
        is_heat_recovery=arguments.heat_recovery == "yes",
    )
    answer(kept, arguments, kept.id)


def _change(register: Register, who: Person, arguments: Namespace) -> None:
    before = _named(register, who, arguments)
    recovery = before.is_heat_recovery if arguments.heat_recovery is None else arguments.heat_recovery == "yes"
    kept = places.change_system(
        register,
        who,
        before.id,
        version=or_before(arguments.seen, before.version),
        name=or_before(arguments.name, before.name),
        refrigerant=or_before(arguments.refrigerant, before.refrigerant),
        installed=or_before(arguments.installed, before.installed),
        is_heat_recovery=recovery,
    )
    answer(kept, arguments, _line(kept))


def _add_unit(register: Register, who: Person, arguments: Namespace) -> None:
    if not arguments.kind:
        raise InputError("The kind of unit is missing.", "Give --kind outdoor, indoor or branch.")
    kept = places.add_unit(
        register,
        who,
        system_id=_named(register, who, arguments).id,
        name=arguments.things[1],
        kind=arguments.kind,
        position=arguments.position,
        branch_unit=arguments.branch_unit,
        room=arguments.room,
        capacity_kw=measure(arguments.capacity, "kW"),
    )
    answer(kept, arguments, kept.id)


def _change_unit(register: Register, who: Person, arguments: Namespace) -> None:
    before = unit_named(register, who, _named(register, who, arguments), arguments.things[1])
    kept = places.change_unit(
        register,
        who,
        before.id,
        version=or_before(arguments.seen, before.version),
        name=or_before(arguments.name, before.name),
        kind=or_before(arguments.kind, before.kind),
        position=or_before(arguments.position, before.position),
        branch_unit=or_before(arguments.branch_unit, before.branch_unit),
        room=or_before(arguments.room, before.room),
        capacity_kw=or_before(measure(arguments.capacity, "kW"), before.capacity_kw),
    )
    answer(kept, arguments, f"{kept.id}  {kept.name}, {word(kept.kind)}, version {kept.version}")


def unit_named(register: Register, who: Person, system: SystemPlace, name_or_id: str) -> UnitPlace:
    """A unit of a system.

    Raises
    ------
    InputError
        If the system has none of that name or id.
    """
    units = places.list_units(register, who, system.id)
    found = next((one for one in units if name_or_id in (one.name, one.id)), None)
    if found is None:
        named = ", ".join(one.name for one in units[:12])
        raise InputError(f"{system.name} has no unit {name_or_id}.", f"Its units are {named}." if named else "")
    return found


_VERBS: Final[dict[str, Verb]] = {
    "list": _list,
    "show": _show,
    "draw": _draw,
    "add": _add,
    "change": _change,
    "add-unit": _add_unit,
    "change-unit": _change_unit,
}
