"""Places that a visit file brings: its site, system, units, valves, and the heads that came and went on them."""

from collections.abc import Mapping

from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import HeadInstance, Site, SystemPlace, UnitPlace, ValvePlace
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit
from fifthwire.register import audit, judgements, manuals, places, valves
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep
from fifthwire.workflow.matching import Matching
from fifthwire.workflow.permission import require

UNKNOWN_ZONE = "Etc/UTC"
"""Of a site whose visit does not say one: a person sets it right."""


def add_site_of(keep: Keep, who: Person, visit: Visit) -> Site:
    """Keep the site that a visit names."""
    header = visit.header
    site = Site(
        id=new_id(keep.now_utc),
        name=header.site,
        time_zone=header.time_zone or UNKNOWN_ZONE,
        altitude_m=header.altitude_m,
    )
    audit.write_down(keep, who, "place-added", site.name)
    return places.add_site(keep, site)


def add_system_of(keep: Keep, who: Person, site: Site, visit: Visit) -> SystemPlace:
    """Keep the system that a visit names."""
    system = SystemPlace(
        id=new_id(keep.now_utc),
        site_id=site.id,
        name=visit.header.system,
        refrigerant=visit.system.refrigerant,
        installed=visit.system.installed,
        is_heat_recovery=any(valve.role.startswith("branch-") for valve in visit.valves),
    )
    audit.write_down(keep, who, "place-added", f"{site.name}, {system.name}")
    return places.add_system(keep, system)


def add_valves_of(keep: Keep, who: Person, system: SystemPlace, visit: Visit, matching: Matching) -> dict[str, str]:
    """Keep the valves of a visit that are new, and the units they sit in.

    Returns
    -------
    dict
        Id of each new valve, by its label in the visit.
    """
    new = {one.label for one in matching.matches if one.valve_id is None}
    given = [valve for valve in visit.valves if valve.id in new and not valve.is_void]
    units = {one.name: one for one in valves.units_of(keep, system.id)}
    wanted = [*((valve.unit, _unit_kind(valve.role)) for valve in given), *_units_that_ran(visit)]
    missing = {name: kind for name, kind in reversed(wanted) if name not in units}
    if not given and (not missing or units):
        return {}
    require(who, "change", site_id=system.site_id)
    site = places.site(keep, system.site_id)
    made = _new_units(keep, system, [(name, missing[name]) for name, _ in wanted if name in missing], units)
    valves.add_units(keep, site, system, made)
    units |= {one.name: one for one in made}
    labels = {one.label for one in valves.valves_of(keep, system.id)}
    specs = manuals.specs_named(keep) if any(valve.spec for valve in given) else {}
    pairs = []
    for valve in given:
        spec = specs.get(valve.spec or "")
        place = _valve_place(keep, system, units[valve.unit], valve, labels, spec.spec_id if spec else None)
        pairs.append((place, units[valve.unit]))
        labels.add(place.label)
    valves.add_valves(keep, site, system, pairs)
    return {valve.id: place.id for valve, (place, _) in zip(given, pairs, strict=True)}


def _units_that_ran(visit: Visit) -> list[tuple[str, str]]:
    moments = [one for one in (visit.snapshot, *visit.snapshots) if one is not None and not one.is_void]
    outdoor = [(name, "outdoor") for one in moments for name in one.outdoor]
    return [*outdoor, *((name, "indoor") for one in moments for name in one.units)]


def _unit_kind(role: str) -> str:
    return "branch" if role.startswith("branch-") else "indoor" if role == "indoor" else "outdoor"


def _new_units(
    keep: Keep, system: SystemPlace, wanted: list[tuple[str, str]], known: Mapping[str, UnitPlace]
) -> list[UnitPlace]:
    last = {kind: max((u.position for u in known.values() if u.kind == kind), default=0) for _, kind in wanted}
    made: dict[str, UnitPlace] = {}
    for name, kind in wanted:
        if name not in made:
            last[kind] += 1
            made[name] = UnitPlace(
                id=new_id(keep.now_utc), system_id=system.id, name=name, kind=kind, position=last[kind]
            )
    return list(made.values())


def _valve_place(
    keep: Keep, system: SystemPlace, unit: UnitPlace, valve: Valve, labels: set[str], spec_id: str | None
) -> ValvePlace:
    label, nth = valve.id, 2
    while label in labels:
        label, nth = f"{valve.id} ({nth})", nth + 1
    return ValvePlace(
        id=new_id(keep.now_utc),
        system_id=system.id,
        unit_id=unit.id,
        unit=unit.name,
        role=valve.role,
        number=valve.number,
        label=label,
        kind=valve.kind,
        head=valve.head,
        access=valve.access,
        spec_id=spec_id,
    )


def follow_heads(keep: Keep, visit: Visit, valve_ids: Mapping[str, str]) -> None:
    """Write down the heads that a visit tells of: the first one known, and each that was fitted since.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    visit : Visit
        Says when heads were fitted, and which were replaced.
    valve_ids : mapping
        Id of the valve under each label.
    """
    replaced = {work.valve: work.part for work in visit.work if work.done == "replaced-head" and not work.is_void}
    for valve in visit.valves:
        valve_id = valve_ids.get(valve.id)
        if valve_id is None or valve.is_void:
            continue
        heads = valves.heads_of(keep, valve_id)
        if not heads:
            first = HeadInstance(
                id=new_id(keep.now_utc), valve_id=valve_id, since=valve.head_installed, part_label=valve.part_label
            )
            valves.add_heads(keep, [first])
            heads = (first,)
        elif valve.head_installed is not None and valve.head_installed <= visit.header.date:
            heads = judgements.head_fitted(keep, valve_id, heads, valve.head_installed, valve.part_label)
        if valve.id in replaced:
            judgements.new_head(keep, valve_id, heads, visit.header.date, replaced[valve.id])
