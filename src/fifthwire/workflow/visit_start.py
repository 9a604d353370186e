"""Begin a visit: with every valve of the system, what its head should measure, and what stays from the last visit."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from fifthwire.model.choices import REASONS_FOR_VISIT
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import HeadInstance, SystemPlace, ValvePlace
from fifthwire.model.kept.visits import VisitKept
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Spec, System, Visit, VisitHeader
from fifthwire.register import audit, manuals, places, valves, visits
from fifthwire.register.entries import assemble, take_apart
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.workflow.carrying import carried_over
from fifthwire.workflow.permission import require


def new_visit(
    register: Register,
    who: Person,
    system_id: str,
    day: date,
    *,
    technician: str | None = None,
    reason: str = "planned",
) -> VisitKept:
    """Begin a visit to be filled in on the page.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    system_id : str
        The system that is visited.
    day : date
        Of the visit.
    technician : str, optional
        Initials or a number; left out: the actor's name.
    reason : str
        planned | comfort | compressor-failure | start-up | follow-up

    Raises
    ------
    InputError
        If the reason is none.
    NotFound
        If there is no such system at the person's sites.
    """
    if reason not in REASONS_FOR_VISIT:
        raise InputError(f"{reason} is no reason for a visit.", f"One of {', '.join(REASONS_FOR_VISIT)}.")
    with register.adding() as keep:
        system = places.system(keep, system_id)
        require(who, "add", site_id=system.site_id)
        identity = new_id(keep.now_utc)
        visit, valve_ids = _begun(keep, system, day, identity, technician or who.name, reason)
        kept = visits.hold(keep, visits.add_visit(keep, system.id, identity, visit, who.name))
        stamped = [replace(one, at_utc=keep.now_utc, by=who.name) for one in take_apart(visit)]
        added = visits.add_entries(keep, kept, stamped)
        now = visits.settle(keep, kept, assemble(added, name="the visit").visit, len(added))
        visits.map_valves(keep, kept.id, valve_ids)
        audit.write_down(keep, who, "visit-begun", f"{now.site}, {now.system}, {now.date}")
        return now


def _begun(
    keep: Keep, system: SystemPlace, day: date, identity: str, technician: str, reason: str
) -> tuple[Visit, dict[str, str]]:
    """The visit before anything is read, and which valve of the register stands under each label."""
    site = places.site(keep, system.site_id)
    header = VisitHeader(
        id=identity,
        date=day,
        time_zone=site.time_zone,
        technician=technician,
        site=site.name,
        system=system.name,
        reason=reason,
        altitude_m=site.altitude_m,
    )
    before = visits.last_visit(keep, system.id, until=day)
    last = _carried(keep, before, day)
    kept = valves.valves_of(keep, system.id)
    ids = {} if before is None else visits.valve_ids_of(keep, before.id)
    earlier = {ids[valve.id]: valve for valve in last.valves if valve.id in ids}
    heads = valves.present_heads(keep, [one.id for one in kept])
    names, specs = _specs(keep, kept)
    listed = tuple(_valve(one, earlier.get(one.id), heads.get(one.id), names) for one in kept)
    visit = Visit(
        header=header,
        system=System(refrigerant=system.refrigerant, installed=system.installed),
        specs={**{n: s for n, s in last.specs.items() if n in {v.spec for v in listed}}, **specs},
        meters=last.meters,
        valves=listed,
        curves=last.curves,
    )
    return visit, {valve.id: one.id for valve, one in zip(listed, kept, strict=True)}


def _carried(keep: Keep, before: VisitKept | None, day: date) -> Visit:
    """What stays the same from the visit before."""
    if before is None:
        return Visit(header=VisitHeader(date=day, site="", system=""))
    return carried_over(assemble(visits.drafts_of(keep, before.id), name="the visit before").visit, day)


def _specs(keep: Keep, kept: tuple[ValvePlace, ...]) -> tuple[dict[str, str], dict[str, Spec]]:
    """Name by id, and what the manuals say under it, of those that the system's valves have."""
    used = {one.spec_id for one in kept if one.spec_id is not None}
    held = {one.spec_id: one for one in manuals.specs_named(keep).values() if one.spec_id in used} if used else {}
    return {id_: one.name for id_, one in held.items()}, {one.name: one.spec for one in held.values()}


def _valve(one: ValvePlace, before: Valve | None, head: HeadInstance | None, spec_names: Mapping[str, str]) -> Valve:
    """A valve as the register knows it now; what only visits say stays from the one before."""
    return Valve(
        id=one.label,
        unit=one.unit,
        number=one.number,
        role=one.role,
        kind=one.kind,
        head=one.head,
        access=one.access,
        spec=spec_names.get(one.spec_id or "") or (before.spec if before else None),
        meter=before.meter if before else None,
        last_removed=before.last_removed if before else None,
        head_installed=head.since if head else None,
        part_label=head.part_label if head else None,
        common=before.common if before else (),
    )
