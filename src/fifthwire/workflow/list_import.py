"""What a checked list brings into the register: new systems, units and valves at once, known ones changed."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from fifthwire.model.kept.lists import ImportedList, ListRow
from fifthwire.model.kept.places import HeadInstance, Site, SystemPlace, UnitPlace, ValvePlace
from fifthwire.model.record import record
from fifthwire.register import manuals, place_changes, places, valves
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep
from fifthwire.workflow.list_rows import default_label

Progress = Callable[[int, int], None]
"""Told how many rows of how many are done."""
ROWS_AT_ONCE: Final = 1000
"""Between two reports of progress.  Our choice."""


@record
class Known:
    """The systems, units and valves of a site."""

    systems: Mapping[str, SystemPlace]
    """By name."""
    units: Mapping[tuple[str, str], UnitPlace]
    """By names of system and unit."""
    valves: Mapping[tuple[Any, ...], ValvePlace]
    """By names of system and unit, role and number."""


def known_of(keep: Keep, site: Site) -> Known:
    """What the register has of a site."""
    systems = places.systems_of(keep, site.id)
    units = {(of.name, unit.name): unit for of in systems for unit in valves.units_of(keep, of.id)}
    held = {
        (of.name, valve.unit, valve.role, valve.number): valve
        for of in systems
        for valve in valves.valves_of(keep, of.id)
    }
    return Known(systems={of.name: of for of in systems}, units=units, valves=held)


def place_of(row: ListRow) -> tuple[Any, ...]:
    """What makes a row's valve the same as one that is kept."""
    return (row.system, row.unit, row.role, row.number)


def bring_in(keep: Keep, site: Site, known: Known, rows: Sequence[ListRow], progress: Progress | None) -> ImportedList:
    """Systems, then units, then valves, all at once for each."""
    specs = {name: one.spec_id for name, one in manuals.specs_named(keep).items()}
    systems = dict(known.systems)
    new_systems = _new_systems(keep, site, rows, systems)
    units = dict(known.units)
    n_new_units = _new_units(keep, site, rows, systems, units)
    n_new = n_changed = 0
    for first in range(0, len(rows), ROWS_AT_ONCE):
        part = rows[first : first + ROWS_AT_ONCE]
        n_new += _new_valves(keep, site, part, systems, units, known, specs)
        n_changed += _changed_valves(keep, part, units, known, specs)
        if progress is not None:
            progress(min(first + ROWS_AT_ONCE, len(rows)), len(rows))
    return ImportedList(
        site_id=site.id,
        n_new=n_new,
        n_changed=n_changed,
        n_same=len(rows) - n_new - n_changed,
        n_new_systems=new_systems,
        n_new_units=n_new_units,
    )


def _new_systems(keep: Keep, site: Site, rows: Sequence[ListRow], systems: dict[str, SystemPlace]) -> int:
    """Systems that the list names and the register lacks are added to both; how many."""
    made = []
    refrigerants = {row.system: row.refrigerant for row in rows if row.refrigerant}
    with_branches = {row.system for row in rows if row.unit_kind == "branch"}
    for name in dict.fromkeys(row.system for row in rows):
        before = systems.get(name)
        if before is None:
            systems[name] = SystemPlace(
                id=new_id(keep.now_utc),
                site_id=site.id,
                name=name,
                refrigerant=refrigerants.get(name),
                is_heat_recovery=name in with_branches,
            )
            made.append(systems[name])
        elif name in refrigerants and refrigerants[name] != before.refrigerant:
            systems[name] = place_changes.change_system(keep, replace(before, refrigerant=refrigerants[name]))
    places.add_systems(keep, site, made)
    return len(made)


def _new_units(
    keep: Keep,
    site: Site,
    rows: Sequence[ListRow],
    systems: Mapping[str, SystemPlace],
    units: dict[tuple[str, str], UnitPlace],
) -> int:
    """Units that the list names and the register lacks are added to both, in the order of the list; how many."""
    made: dict[str, list[UnitPlace]] = {}
    last: dict[tuple[str, str], int] = {}
    for (system, _), unit in units.items():
        last[system, unit.kind] = max(last.get((system, unit.kind), 0), unit.position)
    for key, said in _of_units(rows).items():
        system, name = key
        before = units.get(key)
        if before is None:
            at = last[system, said["kind"]] = last.get((system, said["kind"]), 0) + 1
            units[key] = UnitPlace(
                id=new_id(keep.now_utc), system_id=systems[system].id, name=name, position=at, **said
            )
            made.setdefault(system, []).append(units[key])
        elif any(getattr(before, name) != value for name, value in said.items() if value is not None):
            told = {name: value for name, value in said.items() if value is not None}
            units[key] = valves.change_unit(keep, replace(before, **told))
    for system, of_system in made.items():
        valves.add_units(keep, site, systems[system], of_system)
    return sum(map(len, made.values()))


def _of_units(rows: Sequence[ListRow]) -> dict[tuple[str, str], dict[str, Any]]:
    """What the rows say of each unit; the first row that says something counts."""
    said: dict[tuple[str, str], dict[str, Any]] = {}
    for row in rows:
        of = said.setdefault((row.system, row.unit), {"kind": row.unit_kind})
        for name in ("room", "branch_unit", "capacity_kw"):
            of[name] = of.get(name) if of.get(name) is not None else getattr(row, name)
    return said


def _new_valves(
    keep: Keep,
    site: Site,
    rows: Sequence[ListRow],
    systems: Mapping[str, SystemPlace],
    units: Mapping[tuple[str, str], UnitPlace],
    known: Known,
    specs: Mapping[str, str],
) -> int:
    made: dict[str, list[tuple[ValvePlace, UnitPlace]]] = {}
    heads = []
    for row in rows:
        if place_of(row) not in known.valves:
            unit = units[row.system, row.unit]
            valve = ValvePlace(
                id=new_id(keep.now_utc), system_id=unit.system_id, unit_id=unit.id, unit=unit.name, role=row.role,
                number=row.number, label=row.label, kind=row.kind, head=row.head, access=row.access,
                spec_id=specs[row.spec] if row.spec else None,
            )  # fmt: skip
            made.setdefault(row.system, []).append((valve, unit))
            heads.append(_head(keep, valve, row))
    for system, of_system in made.items():
        valves.add_valves(keep, site, systems[system], of_system)
    valves.add_heads(keep, heads)
    return len(heads)


def _head(keep: Keep, valve: ValvePlace, row: ListRow) -> HeadInstance:
    return HeadInstance(id=new_id(keep.now_utc), valve_id=valve.id, since=row.head_installed, part_label=row.part_label)


def _changed_valves(
    keep: Keep,
    rows: Sequence[ListRow],
    units: Mapping[tuple[str, str], UnitPlace],
    known: Known,
    specs: Mapping[str, str],
) -> int:
    """Known valves of which the list says something else are changed; how many."""
    n_changed = 0
    for row, before in _known_rows(rows, known):
        said = {
            "label": row.label, "kind": row.kind, "head": row.head, "access": row.access,
            "spec_id": specs[row.spec] if row.spec else None,
        }  # fmt: skip
        if row.label == default_label(row.unit, row.role, row.number):
            del said["label"]  # nobody wrote it
        told: dict[str, Any] = {
            name: value for name, value in said.items() if value is not None and getattr(before, name) != value
        }
        if told:
            n_changed += 1
            valves.change_valve(keep, replace(before, **told))
    return n_changed


def _known_rows(rows: Sequence[ListRow], known: Known) -> Iterator[tuple[ListRow, ValvePlace]]:
    for row in rows:
        before = known.valves.get(place_of(row))
        if before is not None:
            yield row, before
