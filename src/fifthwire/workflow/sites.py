"""Sites and systems: list them, keep new ones, change them, show one whole."""

from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.errors import NotFound
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import Site, SiteRow, SystemPlace, SystemRow
from fifthwire.model.kept.whole import SystemWhole
from fifthwire.register import audit, notes, place_changes, place_rows, places, todo, valves
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.workflow import place_fields as field
from fifthwire.workflow.permission import NOT_YOURS, NOT_YOURS_HINT, Deed, require, require_everywhere, sees_site

ONE_SITE = "a site"
ONE_SYSTEM = "a system"


def list_sites(register: Register, who: Person, *, page: int = 1) -> Page[SiteRow]:
    """The person's sites by name, with what is open at each."""
    require(who, "read")
    with register.reading() as keep:
        return place_rows.list_sites(keep, site_ids=who.site_ids, page=page)


def site(register: Register, who: Person, site_id: str) -> Site:
    """A site.

    Raises
    ------
    NotFound
        If there is none of that id among the person's.
    """
    require(who, "read", site_id=site_id)
    with register.reading() as keep:
        return places.site(keep, site_id)


def every_site(register: Register, who: Person) -> tuple[Site, ...]:
    """All sites of the person by name, to choose one from."""
    require(who, "read")
    with register.reading() as keep:
        return places.every_site(keep, site_ids=who.site_ids)


def systems_of(register: Register, who: Person, site_id: str) -> tuple[SystemPlace, ...]:
    """All systems of a site by name, to choose one from.

    Raises
    ------
    NotFound
        If the site is not one of the person's.
    """
    require(who, "read", site_id=site_id)
    with register.reading() as keep:
        return places.systems_of(keep, site_id)


def find_site(register: Register, who: Person, name_or_id: str) -> Site:
    """A site by its name or its id, as a person at the command line knows it.

    Raises
    ------
    NotFound
        If there is none among the person's.
    """
    require(who, "read")
    with register.reading() as keep:
        found = places.site_named(keep, name_or_id) or places.site_or_none(keep, name_or_id)
    if found is None or not sees_site(who, found.id):
        raise NotFound(f"No site is named {name_or_id}.", NOT_YOURS_HINT)
    return found


def add_site(
    register: Register,
    who: Person,
    *,
    name: str,
    time_zone: str,
    altitude_m: float | None = None,
    address: str | None = None,
) -> Site:
    """Keep a new site.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        A lead or owner of all sites.
    name : str
        As people call it; each site has its own.
    time_zone : str
        An IANA name.
    altitude_m : float, optional
        Above the sea; gauge pressures are read with it. [m]
    address : str, optional
        Where it is.

    Raises
    ------
    InputError
        If a value cannot be, or the name is taken.
    """
    require_everywhere(who, "change")
    with register.adding() as keep:
        made = _site(new_id(keep.now_utc), 1, name, time_zone, altitude_m, address)
        audit.write_down(keep, who, "place-added", made.name)
        return places.add_site(keep, made)


def change_site(
    register: Register,
    who: Person,
    site_id: str,
    *,
    version: int,
    name: str,
    time_zone: str,
    altitude_m: float | None = None,
    address: str | None = None,
) -> Site:
    """Change a site that was read in this version.

    Raises
    ------
    Conflict
        If somebody has changed it since; the error holds both.
    InputError
        If a value cannot be, or another site has the name.
    NotFound
        If there is none of that id among the person's.
    """
    require(who, "change", site_id=site_id)
    with register.adding() as keep:
        changed = place_changes.change_site(keep, _site(site_id, version, name, time_zone, altitude_m, address))
        audit.write_down(keep, who, "place-changed", changed.name)
        return changed


def _site(id_: str, version: int, name: str, time_zone: str, altitude_m: float | None, address: str | None) -> Site:
    return Site(
        id=id_,
        name=field.name(name, ONE_SITE),
        time_zone=field.zone(time_zone),
        altitude_m=field.within(altitude_m, field.LOWEST_M, field.HIGHEST_M, "An altitude", "m"),
        address=field.text(address, "The address"),
        version=version,
    )


def list_systems(register: Register, who: Person, *, site_id: str | None = None, page: int = 1) -> Page[SystemRow]:
    """The person's systems by site and name, with the worst that is known of each."""
    require(who, "read", site_id=site_id)
    with register.reading() as keep:
        return place_rows.list_systems(keep, site_id=site_id, site_ids=who.site_ids, page=page)


def system(register: Register, who: Person, system_id: str) -> SystemPlace:
    """A system.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    """
    with register.reading() as keep:
        return allowed_system(keep, who, system_id, "read")


def find_system(register: Register, who: Person, name_or_id: str, *, site_id: str | None = None) -> SystemPlace:
    """A system by its id, or by its name at a site.

    Raises
    ------
    NotFound
        If there is none among the person's, or more than one has the name and no site is given.
    """
    require(who, "read", site_id=site_id)
    with register.reading() as keep:
        found = place_rows.systems_called(keep, name_or_id, site_id=site_id, site_ids=who.site_ids)
    if len(found) > 1:
        raise NotFound(f"{len(found)} systems are named {name_or_id}.", "Name its site too, or give its id.")
    if not found:
        raise NotFound(f"No system is named {name_or_id}.", NOT_YOURS_HINT)
    return found[0]


def allowed_system(keep: Keep, who: Person, system_id: str, deed: Deed) -> SystemPlace:
    """A system that the person may do something to.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    NotAllowed
        If their role may not.
    """
    found = places.system_or_none(keep, system_id)
    if found is None:
        raise NotFound(NOT_YOURS, NOT_YOURS_HINT)
    require(who, deed, site_id=found.site_id)
    return found


def add_system(
    register: Register,
    who: Person,
    *,
    site_id: str,
    name: str,
    refrigerant: str | None = None,
    installed: int | None = None,
    is_heat_recovery: bool = False,
) -> SystemPlace:
    """Keep a new system of a site.

    Raises
    ------
    InputError
        If a value cannot be, or the site has a system of that name.
    NotFound
        If the site is not one of the person's.
    """
    require(who, "change", site_id=site_id)
    with register.adding() as keep:
        given = (name, refrigerant, installed, is_heat_recovery)
        made = _system(new_id(keep.now_utc), site_id, 1, *given)
        audit.write_down(keep, who, "place-added", made.name)
        return places.add_system(keep, made)


def change_system(
    register: Register,
    who: Person,
    system_id: str,
    *,
    version: int,
    name: str,
    refrigerant: str | None = None,
    installed: int | None = None,
    is_heat_recovery: bool = False,
) -> SystemPlace:
    """Change a system that was read in this version.

    Raises
    ------
    Conflict
        If somebody has changed it since; the error holds both.
    InputError
        If a value cannot be, or the site has another system of that name.
    NotFound
        If there is none of that id at the person's sites.
    """
    with register.adding() as keep:
        at = allowed_system(keep, who, system_id, "change").site_id
        given = (name, refrigerant, installed, is_heat_recovery)
        changed = place_changes.change_system(keep, _system(system_id, at, version, *given))
        audit.write_down(keep, who, "place-changed", changed.name)
        return changed


def _system(
    id_: str,
    site_id: str,
    version: int,
    name: str,
    refrigerant: str | None,
    installed: int | None,
    is_heat_recovery: bool,
) -> SystemPlace:
    return SystemPlace(
        id=id_,
        site_id=site_id,
        name=field.name(name, ONE_SYSTEM),
        refrigerant=field.maybe_one_of(refrigerant, REFRIGERANTS, "a refrigerant that is known here"),
        installed=field.whole_within(installed, *field.YEARS, "The year"),
        is_heat_recovery=is_heat_recovery,
        version=version,
    )


def system_whole(register: Register, who: Person, system_id: str) -> SystemWhole:
    """A system with its units, its valves and what is known of each, what is open and the notes.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    """
    with register.reading() as keep:
        of = allowed_system(keep, who, system_id, "read")
        return SystemWhole(
            system=of,
            site=places.site(keep, of.site_id),
            units=valves.units_of(keep, system_id),
            valves=place_rows.valve_rows_of(keep, system_id),
            actions=todo.actions_of(keep, system_id=system_id),
            notes=notes.notes_of(keep, "system", system_id),
        )
