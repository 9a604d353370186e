"""Sites, systems, units, valves and heads for other programs."""

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Body

from fifthwire.model.kept.page import Page
from fifthwire.model.kept.places import (
    HeadInstance,
    Site,
    SiteRow,
    SystemPlace,
    SystemRow,
    UnitPlace,
    ValvePlace,
    ValveRow,
)
from fifthwire.model.kept.whole import SystemWhole, ValveWhole
from fifthwire.web.api.fields import PageNumber, Text, Version, Whole, Words
from fifthwire.web.asking import Asked
from fifthwire.workflow import places

router = APIRouter(tags=["places"])


@router.get("/sites")
def list_sites(asking: Asked, page: PageNumber = 1) -> Page[SiteRow]:
    """Sites by name, with what is open at each."""
    return places.list_sites(asking.register, asking.who, page=page)


@router.post("/sites", status_code=201)
def add_site(
    asking: Asked,
    name: Annotated[Text, Body()],
    time_zone: Annotated[Text, Body()],
    altitude_m: Annotated[float | None, Body()] = None,
    address: Annotated[Text | None, Body()] = None,
) -> Site:
    """Keep a new site."""
    return places.add_site(
        asking.register, asking.who, name=name, time_zone=time_zone, altitude_m=altitude_m, address=address
    )


@router.get("/sites/{site_id}")
def get_site(asking: Asked, site_id: str) -> Site:
    """One site."""
    return places.site(asking.register, asking.who, site_id)


@router.put("/sites/{site_id}")
def change_site(
    asking: Asked,
    site_id: str,
    version: Version,
    name: Annotated[Text, Body()],
    time_zone: Annotated[Text, Body()],
    altitude_m: Annotated[float | None, Body()] = None,
    address: Annotated[Text | None, Body()] = None,
) -> Site:
    """Change a site that was read in this version; 409 where somebody has changed it since."""
    return places.change_site(
        asking.register,
        asking.who,
        site_id,
        version=version,
        name=name,
        time_zone=time_zone,
        altitude_m=altitude_m,
        address=address,
    )


@router.get("/systems")
def list_systems(asking: Asked, site_id: Words = None, page: PageNumber = 1) -> Page[SystemRow]:
    """Systems by site and name, with the worst mark of their valves."""
    return places.list_systems(asking.register, asking.who, site_id=site_id or None, page=page)


@router.post("/systems", status_code=201)
def add_system(
    asking: Asked,
    site_id: Annotated[Text, Body()],
    name: Annotated[Text, Body()],
    refrigerant: Annotated[Text | None, Body()] = None,
    installed: Annotated[Whole | None, Body()] = None,
    is_heat_recovery: Annotated[bool, Body()] = False,
) -> SystemPlace:
    """Keep a new system of a site."""
    return places.add_system(
        asking.register,
        asking.who,
        site_id=site_id,
        name=name,
        refrigerant=refrigerant,
        installed=installed,
        is_heat_recovery=is_heat_recovery,
    )


@router.get("/systems/{system_id}")
def get_system(asking: Asked, system_id: str) -> SystemWhole:
    """A system with its units, valves, open actions and notes."""
    return places.system_whole(asking.register, asking.who, system_id)


@router.put("/systems/{system_id}")
def change_system(
    asking: Asked,
    system_id: str,
    version: Version,
    name: Annotated[Text, Body()],
    refrigerant: Annotated[Text | None, Body()] = None,
    installed: Annotated[Whole | None, Body()] = None,
    is_heat_recovery: Annotated[bool, Body()] = False,
) -> SystemPlace:
    """Change a system that was read in this version."""
    return places.change_system(
        asking.register,
        asking.who,
        system_id,
        version=version,
        name=name,
        refrigerant=refrigerant,
        installed=installed,
        is_heat_recovery=is_heat_recovery,
    )


@router.post("/units", status_code=201)
def add_unit(
    asking: Asked,
    system_id: Annotated[Text, Body()],
    name: Annotated[Text, Body()],
    kind: Annotated[Text, Body()],
    position: Annotated[Whole | None, Body()] = None,
    branch_unit: Annotated[Text | None, Body()] = None,
    room: Annotated[Text | None, Body()] = None,
    capacity_kw: Annotated[float | None, Body()] = None,
) -> UnitPlace:
    """Keep a new unit of a system: outdoor, indoor or branch."""
    return places.add_unit(
        asking.register,
        asking.who,
        system_id=system_id,
        name=name,
        kind=kind,
        position=position,
        branch_unit=branch_unit,
        room=room,
        capacity_kw=capacity_kw,
    )


@router.get("/units/{unit_id}")
def get_unit(asking: Asked, unit_id: str) -> UnitPlace:
    """One unit."""
    return places.unit(asking.register, asking.who, unit_id)


@router.put("/units/{unit_id}")
def change_unit(
    asking: Asked,
    unit_id: str,
    version: Version,
    name: Annotated[Text, Body()],
    kind: Annotated[Text, Body()],
    position: Annotated[Whole, Body()],
    branch_unit: Annotated[Text | None, Body()] = None,
    room: Annotated[Text | None, Body()] = None,
    capacity_kw: Annotated[float | None, Body()] = None,
) -> UnitPlace:
    """Change a unit that was read in this version."""
    return places.change_unit(
        asking.register,
        asking.who,
        unit_id,
        version=version,
        name=name,
        kind=kind,
        position=position,
        branch_unit=branch_unit,
        room=room,
        capacity_kw=capacity_kw,
    )


@router.get("/valves")
def list_valves(
    asking: Asked,
    site_id: Words = None,
    system_id: Words = None,
    mark: Words = None,
    text: Words = None,
    page: PageNumber = 1,
) -> Page[ValveRow]:
    """Valves by label, with what is known of each now."""
    return places.list_valves(
        asking.register,
        asking.who,
        site_id=site_id or None,
        system_id=system_id or None,
        mark=mark or None,
        text=text or None,
        page=page,
    )


@router.post("/valves", status_code=201)
def add_valve(
    asking: Asked,
    unit_id: Annotated[Text, Body()],
    role: Annotated[Text, Body()],
    label: Annotated[Text | None, Body()] = None,
    number: Annotated[Whole | None, Body()] = None,
    kind: Annotated[Text, Body()] = "eev",
    head: Annotated[Text | None, Body()] = None,
    access: Annotated[Text | None, Body()] = None,
    spec_id: Annotated[Text | None, Body()] = None,
    head_since: Annotated[date | None, Body()] = None,
    part_label: Annotated[Text | None, Body()] = None,
) -> ValvePlace:
    """Keep a new valve of a unit, with the head that is on it."""
    return places.add_valve(
        asking.register,
        asking.who,
        unit_id=unit_id,
        role=role,
        label=label,
        number=number,
        kind=kind,
        head=head,
        access=access,
        spec_id=spec_id,
        head_since=head_since,
        part_label=part_label,
    )


@router.get("/valves/{valve_id}")
def get_valve(asking: Asked, valve_id: str) -> ValveWhole:
    """A valve with its heads, verdicts, winding history, work, proofs, notes and actions."""
    return places.valve_whole(asking.register, asking.who, valve_id)


@router.put("/valves/{valve_id}")
def change_valve(
    asking: Asked,
    valve_id: str,
    version: Version,
    unit_id: Annotated[Text, Body()],
    role: Annotated[Text, Body()],
    label: Annotated[Text, Body()],
    number: Annotated[Whole | None, Body()] = None,
    kind: Annotated[Text, Body()] = "eev",
    head: Annotated[Text | None, Body()] = None,
    access: Annotated[Text | None, Body()] = None,
    spec_id: Annotated[Text | None, Body()] = None,
) -> ValvePlace:
    """Change a valve that was read in this version."""
    return places.change_valve(
        asking.register,
        asking.who,
        valve_id,
        version=version,
        unit_id=unit_id,
        role=role,
        label=label,
        number=number,
        kind=kind,
        head=head,
        access=access,
        spec_id=spec_id,
    )


@router.post("/valves/{valve_id}/heads", status_code=201)
def fit_head(
    asking: Asked,
    valve_id: str,
    since: Annotated[date, Body()],
    part_label: Annotated[Text | None, Body()] = None,
) -> HeadInstance:
    """Write down that another head was fitted."""
    return places.fit_head(asking.register, asking.who, valve_id, since=since, part_label=part_label)
