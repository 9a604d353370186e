"""Units, valves and heads: list them, keep new ones, change them, show a valve with all that is known of it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from fifthwire.model.choices import ACCESS, HEADS, ROLES, VALVE_KINDS
from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import UNIT_KINDS, VALVE_MARKS, HeadInstance, UnitPlace, ValvePlace, ValveRow
from fifthwire.model.kept.whole import ValveWhole
from fifthwire.register import audit, manuals, notes, place_rows, places, todo, valve_history, valves
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.workflow import place_fields as field
from fifthwire.workflow.permission import NOT_YOURS, NOT_YOURS_HINT, Deed, require
from fifthwire.workflow.sites import allowed_system

MOST_OF_A_ROLE = 99
MOST_UNITS = 999


def list_units(register: Register, who: Person, system_id: str) -> tuple[UnitPlace, ...]:
    """All units of a system: outdoor, branch, indoor, each along the pipes.

    Raises
    ------
    NotFound
        If there is no such system at the person's sites.
    """
    with register.reading() as keep:
        allowed_system(keep, who, system_id, "read")
        return valves.units_of(keep, system_id)


def unit(register: Register, who: Person, unit_id: str) -> UnitPlace:
    """A unit.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    """
    with register.reading() as keep:
        return _allowed_unit(keep, who, unit_id, "read")


def add_unit(
    register: Register,
    who: Person,
    *,
    system_id: str,
    name: str,
    kind: str,
    position: int | None = None,
    branch_unit: str | None = None,
    room: str | None = None,
    capacity_kw: float | None = None,
) -> UnitPlace:
    """Keep a new unit of a system; without a position it stands behind the others of its kind.

    Raises
    ------
    InputError
        If a value cannot be, or the system has a unit of that name.
    NotFound
        If there is no such system at the person's sites.
    """
    with register.adding() as keep:
        allowed_system(keep, who, system_id, "change")
        same = [one.position for one in valves.units_of(keep, system_id) if one.kind == kind]
        at = position if position is not None else max(same, default=0) + 1
        made = _unit(new_id(keep.now_utc), system_id, 1, name, kind, at, branch_unit, room, capacity_kw)
        audit.write_down(keep, who, "place-added", made.name)
        return valves.add_unit(keep, made)


def change_unit(
    register: Register,
    who: Person,
    unit_id: str,
    *,
    version: int,
    name: str,
    kind: str,
    position: int,
    branch_unit: str | None = None,
    room: str | None = None,
    capacity_kw: float | None = None,
) -> UnitPlace:
    """Change a unit that was read in this version.

    Raises
    ------
    Conflict
        If somebody has changed it since; the error holds both.
    InputError
        If a value cannot be, or the system has another unit of that name.
    NotFound
        If there is none of that id at the person's sites.
    """
    with register.adding() as keep:
        of = _allowed_unit(keep, who, unit_id, "change").system_id
        given = _unit(unit_id, of, version, name, kind, position, branch_unit, room, capacity_kw)
        changed = valves.change_unit(keep, given)
        audit.write_down(keep, who, "place-changed", changed.name)
        return changed


def _unit(
    id_: str,
    system_id: str,
    version: int,
    name: str,
    kind: str,
    position: int,
    branch_unit: str | None,
    room: str | None,
    capacity_kw: float | None,
) -> UnitPlace:
    return UnitPlace(
        id=id_,
        system_id=system_id,
        name=field.name(name, "a unit"),
        kind=field.one_of(kind, UNIT_KINDS, "a kind of unit"),
        position=field.whole_within(position, 1, MOST_UNITS, "The position") or 1,
        branch_unit=field.name(branch_unit, "the branch unit") if branch_unit else None,
        room=field.text(room, "The room"),
        capacity_kw=field.within(capacity_kw, 0.0, field.LARGEST_KW, "A capacity", "kW"),
        version=version,
    )


def _allowed_unit(keep: Keep, who: Person, unit_id: str, deed: Deed) -> UnitPlace:
    found = valves.unit_or_none(keep, unit_id)
    if found is None:
        raise NotFound(NOT_YOURS, NOT_YOURS_HINT)
    allowed_system(keep, who, found.system_id, deed)
    return found


def list_valves(
    register: Register,
    who: Person,
    *,
    site_id: str | None = None,
    system_id: str | None = None,
    mark: str | None = None,
    text: str | None = None,
    page: int = 1,
) -> Page[ValveRow]:
    """The person's valves by label, with what is known of each now.

    Parameters
    ----------
    register : Register
        Where they are kept.
    who : Person
        Who asks.
    site_id, system_id : str, optional
        Only of this site or system.
    mark : str, optional
        Only of this mark.
    text : str, optional
        Only those that hold words starting so.
    page : int
        From 1.

    Raises
    ------
    InputError
        If there is no such mark.
    NotFound
        If the site or system is not one of the person's.
    """
    require(who, "read", site_id=site_id)
    wanted = field.maybe_one_of(mark, VALVE_MARKS, "a mark")
    with register.reading() as keep:
        if system_id:
            allowed_system(keep, who, system_id, "read")
        return place_rows.list_valves(
            keep, site_id=site_id, system_id=system_id, mark=wanted, text=text, site_ids=who.site_ids, page=page
        )


def valve(register: Register, who: Person, valve_id: str) -> ValvePlace:
    """A valve.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    """
    with register.reading() as keep:
        return allowed_valve(keep, who, valve_id, "read")


def find_valve(register: Register, who: Person, label_or_id: str, *, system_id: str | None = None) -> ValvePlace:
    """A valve by its id, or by its label in a system.

    Raises
    ------
    NotFound
        If there is none among the person's, or more than one has the label and no system is given.
    """
    require(who, "read")
    with register.reading() as keep:
        found = valves.valves_called(keep, label_or_id, system_id=system_id, site_ids=who.site_ids)
    if len(found) > 1:
        raise NotFound(f"{len(found)} valves are labelled {label_or_id}.", "Name its system too, or give its id.")
    if not found:
        raise NotFound(f"No valve is labelled {label_or_id}.", NOT_YOURS_HINT)
    return found[0]


def allowed_valve(keep: Keep, who: Person, valve_id: str, deed: Deed) -> ValvePlace:
    """A valve that the person may do something to.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    NotAllowed
        If their role may not.
    """
    found = valves.valve_or_none(keep, valve_id)
    if found is None:
        raise NotFound(NOT_YOURS, NOT_YOURS_HINT)
    allowed_system(keep, who, found.system_id, deed)
    return found


def add_valve(
    register: Register,
    who: Person,
    *,
    unit_id: str,
    role: str,
    label: str | None = None,
    number: int | None = None,
    kind: str = "eev",
    head: str | None = None,
    access: str | None = None,
    spec_id: str | None = None,
    head_since: date | None = None,
    part_label: str | None = None,
) -> ValvePlace:
    """Keep a new valve of a unit, with the head that is on it; without a label it is called after unit and role.

    Raises
    ------
    InputError
        If a value cannot be, or its place or label is another valve's.
    NotFound
        If there is no such unit at the person's sites, or no such page of the manuals.
    """
    with register.adding() as keep:
        of = _allowed_unit(keep, who, unit_id, "change")
        called = label if label and label.strip() else f"{of.name}-{role}{number or ''}"
        given = {"role": role, "label": called, "number": number, "kind": kind, "head": head, "access": access}
        made = _valve(keep, new_id(keep.now_utc), of, 1, given, spec_id)
        valves.add_valve(keep, made)
        part = field.text(part_label, "The part's label")
        on_it = HeadInstance(id=new_id(keep.now_utc), valve_id=made.id, since=head_since, part_label=part)
        valves.add_heads(keep, [on_it])
        audit.write_down(keep, who, "place-added", made.label)
        return made


def change_valve(
    register: Register,
    who: Person,
    valve_id: str,
    *,
    version: int,
    unit_id: str,
    role: str,
    label: str,
    number: int | None = None,
    kind: str = "eev",
    head: str | None = None,
    access: str | None = None,
    spec_id: str | None = None,
) -> ValvePlace:
    """Change a valve that was read in this version.

    Raises
    ------
    Conflict
        If somebody has changed it since; the error holds both.
    InputError
        If a value cannot be, or its place or label is another valve's.
    NotFound
        If there is none of that id at the person's sites, or no such page of the manuals.
    """
    with register.adding() as keep:
        allowed_valve(keep, who, valve_id, "change")
        of = _allowed_unit(keep, who, unit_id, "change")
        given = {"role": role, "label": label, "number": number, "kind": kind, "head": head, "access": access}
        changed = valves.change_valve(keep, _valve(keep, valve_id, of, version, given, spec_id))
        audit.write_down(keep, who, "place-changed", changed.label)
        return changed


def _valve(
    keep: Keep, id_: str, of: UnitPlace, version: int, given: Mapping[str, Any], spec_id: str | None
) -> ValvePlace:
    kind = field.one_of(given["kind"], VALVE_KINDS, "a kind of valve")
    head = field.maybe_one_of(given["head"], HEADS, "a kind of head")
    if head is None and kind != "solenoid":
        raise InputError("What head it has is missing.", "Say clip-on (a coil) or bolt-on (a motor).")
    return ValvePlace(
        id=id_,
        system_id=of.system_id,
        unit_id=of.id,
        unit=of.name,
        role=field.one_of(given["role"], ROLES, "a role"),
        number=field.whole_within(given["number"] or None, 1, MOST_OF_A_ROLE, "The number"),
        label=field.name(given["label"], "a valve"),
        kind=kind,
        head=head,
        access=field.maybe_one_of(given["access"], ACCESS, "a way to reach it"),
        spec_id=manuals.spec(keep, spec_id).spec_id if spec_id else None,
        version=version,
    )


def fit_head(
    register: Register, who: Person, valve_id: str, *, since: date, part_label: str | None = None
) -> HeadInstance:
    """Write down that another head was fitted: the one before came off that day.

    Raises
    ------
    InputError
        If the head that is on it was fitted later.
    NotFound
        If there is no such valve at the person's sites.
    """
    with register.adding() as keep:
        of = allowed_valve(keep, who, valve_id, "change")
        before = valves.present_heads(keep, [valve_id]).get(valve_id)
        if before is not None:
            if before.since is not None and before.since > since:
                raise InputError(f"The head on {of.label} was fitted on {before.since}.", "Give a later day.")
            valves.change_head(keep, replace(before, until=since, is_present=False))
        part = field.text(part_label, "The part's label")
        made = HeadInstance(id=new_id(keep.now_utc), valve_id=valve_id, since=since, part_label=part)
        valves.add_heads(keep, [made])
        audit.write_down(keep, who, "place-changed", of.label, "another head")
        return made


def valve_whole(register: Register, who: Person, valve_id: str) -> ValveWhole:
    """A valve with its heads, verdicts, winding history, work, proofs, notes, photographs and actions.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    """
    with register.reading() as keep:
        of = allowed_valve(keep, who, valve_id, "read")
        system = places.system(keep, of.system_id)
        verdicts = place_rows.verdicts_of(keep, valve_id)
        return ValveWhole(
            valve=of,
            unit=valves.unit(keep, of.unit_id),
            system=system,
            site=places.site(keep, system.site_id),
            heads=valves.heads_of(keep, valve_id),
            now=place_rows.now_of(keep, valve_id),
            verdicts=verdicts,
            points=place_rows.points_of(keep, valve_id),
            work=valve_history.work_of(keep, valve_id),
            proofs=valve_history.proofs_of(keep, valve_id),
            notes=notes.notes_of(keep, "valve", valve_id),
            photographs=valve_history.photographs_of(keep, valve_id),
            actions=todo.actions_of(keep, valve_id=valve_id),
            spec=manuals.spec(keep, of.spec_id) if of.spec_id else None,
        )
