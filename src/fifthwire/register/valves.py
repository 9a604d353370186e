"""Units, valves and the heads that were on them."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from sqlalchemy import Row, case, or_, select

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.places import HeadInstance, Site, SystemPlace, UnitPlace, ValvePlace
from fifthwire.model.words import word
from fifthwire.register import places
from fifthwire.register.rows import change, in_parts, put, record_of, require_new, values_of
from fifthwire.register.search import SearchText, let_find
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import HEADS, NO_NUMBER, SYSTEMS, UNITS, VALVES

UNIT_ORDER: Final = case({"outdoor": 0, "branch": 1, "indoor": 2}, value=UNITS.c.kind)
MOST_CALLED: Final = 1000
"""Valves of one label that are counted.  Our choice."""
VALVE_COLUMNS: Final = (VALVES, UNITS.c.name.label("unit"))


def add_unit(keep: Keep, unit: UnitPlace) -> UnitPlace:
    """Keep a new unit.

    Raises
    ------
    NotFound
        If its system is not kept.
    InputError
        If the system has a unit of that name.
    """
    of = places.system(keep, unit.system_id)
    message, hint = f"{of.name} has a unit named {unit.name} already.", "Use it, or give another name."
    require_new(keep, UNITS, message, hint, system_id=unit.system_id, name=unit.name)
    add_units(keep, places.site(keep, of.site_id), of, [unit])
    return unit


def add_units(keep: Keep, at: Site, of: SystemPlace, units: Iterable[UnitPlace]) -> None:
    """Keep new units of one system, whose names are known to be free."""
    given = list(units)
    put(keep, UNITS, [values_of(one, UNITS) for one in given])
    let_find(keep, [unit_text(one, at, of) for one in given], are_new=True)


def change_unit(keep: Keep, unit: UnitPlace) -> UnitPlace:
    """Change a unit; its `version` is the one that was read.

    Raises
    ------
    Conflict
        If somebody has changed it since.
    InputError
        If the system has another unit of that name.
    """
    message = f"Another unit of this system is named {unit.name}."
    key = {"system_id": unit.system_id, "name": unit.name}
    require_new(keep, UNITS, message, "Give another name.", other_than=unit.id, **key)
    theirs = unit_or_none(keep, unit.id)
    changed: UnitPlace = change(keep, UNITS, unit, theirs)
    of = places.system(keep, changed.system_id)
    at = places.site(keep, of.site_id)
    of_unit = [valve for valve in valves_of(keep, of.id) if valve.unit_id == changed.id]
    let_find(keep, [unit_text(changed, at, of), *(valve_text(one, changed, at, of) for one in of_unit)])
    return changed


def unit_or_none(keep: Keep, unit_id: str) -> UnitPlace | None:
    """A unit by its id."""
    row = keep.connection.execute(select(UNITS).where(UNITS.c.id == unit_id)).first()
    return None if row is None else record_of(UnitPlace, row)


def unit(keep: Keep, unit_id: str) -> UnitPlace:
    """A unit by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    found = unit_or_none(keep, unit_id)
    if found is None:
        raise NotFound(f"No unit has the id {unit_id}.", places.LOOK)
    return found


def units_of(keep: Keep, system_id: str) -> tuple[UnitPlace, ...]:
    """All units of a system: outdoor, branch, indoor, each along the pipes."""
    query = select(UNITS).where(UNITS.c.system_id == system_id)
    ordered = query.order_by(UNIT_ORDER, UNITS.c.position, UNITS.c.name)
    return tuple(record_of(UnitPlace, row) for row in keep.connection.execute(ordered))


def add_valve(keep: Keep, valve: ValvePlace) -> ValvePlace:
    """Keep a new valve.

    Raises
    ------
    NotFound
        If its unit is not kept.
    InputError
        If the unit has a valve of that role and number, or the system one of that label.
    """
    in_unit = unit(keep, valve.unit_id)
    _require_free(keep, valve, in_unit)
    of = places.system(keep, valve.system_id)
    add_valves(keep, places.site(keep, of.site_id), of, [(valve, in_unit)])
    return valve


def add_valves(keep: Keep, at: Site, of: SystemPlace, valves: Iterable[tuple[ValvePlace, UnitPlace]]) -> None:
    """Keep new valves of one system, each with its unit; their places and labels are known to be free."""
    given = list(valves)
    put(keep, VALVES, [_valve_row(valve) for valve, _ in given])
    let_find(keep, [valve_text(valve, in_unit, at, of) for valve, in_unit in given], are_new=True)


def change_valve(keep: Keep, valve: ValvePlace) -> ValvePlace:
    """Change a valve; its `version` is the one that was read.

    Raises
    ------
    Conflict
        If somebody has changed it since.
    InputError
        If its place or its label is another valve's.
    """
    in_unit = unit(keep, valve.unit_id)
    _require_free(keep, valve, in_unit, other_than=valve.id)
    number = valve.number or NO_NUMBER
    changed: ValvePlace = change(keep, VALVES, valve, valve_or_none(keep, valve.id), number=number)
    of = places.system(keep, changed.system_id)
    let_find(keep, [valve_text(changed, in_unit, places.site(keep, of.site_id), of)])
    return changed


def _require_free(keep: Keep, valve: ValvePlace, in_unit: UnitPlace, *, other_than: str | None = None) -> None:
    if in_unit.system_id != valve.system_id:
        raise InputError(f"{in_unit.name} is a unit of another system.", "Choose a unit of this system.")
    number = valve.number or NO_NUMBER
    what = f"{in_unit.name} has a {word(valve.role)}{f' {number}' if number else ''} already."
    hint = "Use it, or give this one a number of its own."
    require_new(keep, VALVES, what, hint, other_than=other_than, unit_id=valve.unit_id, role=valve.role, number=number)
    label = f"Another valve of this system is labelled {valve.label}."
    key = {"system_id": valve.system_id, "label": valve.label}
    require_new(keep, VALVES, label, "Give each valve its own label.", other_than=other_than, **key)


def valve_or_none(keep: Keep, valve_id: str) -> ValvePlace | None:
    """A valve by its id."""
    query = select(*VALVE_COLUMNS).join(UNITS, UNITS.c.id == VALVES.c.unit_id).where(VALVES.c.id == valve_id)
    row = keep.connection.execute(query).first()
    return None if row is None else valve_of_row(row)


def valve(keep: Keep, valve_id: str) -> ValvePlace:
    """A valve by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    found = valve_or_none(keep, valve_id)
    if found is None:
        raise NotFound(f"No valve has the id {valve_id}.", places.LOOK)
    return found


def valves_called(
    keep: Keep, label_or_id: str, *, system_id: str | None = None, site_ids: tuple[str, ...] | None = None
) -> tuple[ValvePlace, ...]:
    """The valves that have a label or an id."""
    query = select(*VALVE_COLUMNS).join(UNITS, UNITS.c.id == VALVES.c.unit_id)
    asked = query.where(or_(VALVES.c.label == label_or_id, VALVES.c.id == label_or_id))
    if system_id is not None:
        asked = asked.where(VALVES.c.system_id == system_id)
    if site_ids is not None:
        asked = asked.join(SYSTEMS, SYSTEMS.c.id == VALVES.c.system_id).where(SYSTEMS.c.site_id.in_(site_ids))
    rows = keep.connection.execute(asked.order_by(VALVES.c.id).limit(MOST_CALLED))
    return tuple(valve_of_row(row) for row in rows)


def valves_of(keep: Keep, system_id: str) -> tuple[ValvePlace, ...]:
    """All valves of a system, in the order of the units."""
    query = select(*VALVE_COLUMNS).join(UNITS, UNITS.c.id == VALVES.c.unit_id).where(VALVES.c.system_id == system_id)
    ordered = query.order_by(UNIT_ORDER, UNITS.c.position, UNITS.c.name, VALVES.c.role, VALVES.c.number)
    return tuple(valve_of_row(row) for row in keep.connection.execute(ordered))


def valve_of_row(row: Row[Any]) -> ValvePlace:
    """A valve from a row that holds its columns and the name of its unit as `unit`."""
    return record_of(ValvePlace, row, number=row.number or None)


def _valve_row(valve: ValvePlace) -> dict[str, Any]:
    return values_of(valve, VALVES, number=valve.number or NO_NUMBER)


def add_heads(keep: Keep, heads: Iterable[HeadInstance]) -> None:
    """Keep new heads."""
    put(keep, HEADS, [values_of(one, HEADS) for one in heads])


def heads_of(keep: Keep, valve_id: str) -> tuple[HeadInstance, ...]:
    """The heads of a valve, newest first."""
    query = select(HEADS).where(HEADS.c.valve_id == valve_id)
    rows = [record_of(HeadInstance, row) for row in keep.connection.execute(query)]
    return tuple(sorted(rows, key=lambda one: (one.is_present, str(one.since or ""), one.id), reverse=True))


def present_heads(keep: Keep, valve_ids: Sequence[str]) -> Mapping[str, HeadInstance]:
    """The head that is on each of these valves, by the valve's id; none where no head was written down."""
    found = {}
    for ids in in_parts(valve_ids):
        query = select(HEADS).where(HEADS.c.valve_id.in_(ids), HEADS.c.is_present)
        found.update({row.valve_id: record_of(HeadInstance, row) for row in keep.connection.execute(query)})
    return found


def change_head(keep: Keep, head: HeadInstance) -> None:
    """Write what has become known of a head: when it was fitted or came off, what is printed on it."""
    keep.connection.execute(HEADS.update().where(HEADS.c.id == head.id).values(values_of(head, HEADS)))


def unit_text(of: UnitPlace, at: Site, system: SystemPlace) -> SearchText:
    """How a unit is found."""
    place = f"{at.name} · {system.name}"
    return SearchText(kind="unit", about_id=of.id, site_id=at.id, title=of.name, place=place, body=of.room or "")


def valve_text(of: ValvePlace, in_unit: UnitPlace, at: Site, system: SystemPlace) -> SearchText:
    """How a valve is found."""
    place = f"{at.name} · {system.name} · {in_unit.name}"
    body = ", ".join(part for part in (word(of.role), in_unit.room) if part)
    return SearchText(kind="valve", about_id=of.id, site_id=at.id, title=of.label, place=place, body=body)
