"""Sites and systems: kept, changed by one person at a time, found again."""

from collections.abc import Iterable
from typing import Final

from sqlalchemy import select

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.places import Site, SystemPlace
from fifthwire.register.rows import put, record_of, require_new, values_of
from fifthwire.register.search import SearchText, let_find
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import SITES, SYSTEMS

LOOK: Final = "Look for it in the list."


def add_site(keep: Keep, site: Site) -> Site:
    """Keep a new site.

    Raises
    ------
    InputError
        If its name is taken.
    """
    require_new(
        keep, SITES, f"A site named {site.name} is kept already.", "Use it, or give another name.", name=site.name
    )
    put(keep, SITES, [values_of(site, SITES)])
    let_find(keep, [site_text(site)], are_new=True)
    return site


def site_or_none(keep: Keep, site_id: str) -> Site | None:
    """A site by its id."""
    row = keep.connection.execute(select(SITES).where(SITES.c.id == site_id)).first()
    return None if row is None else record_of(Site, row)


def site(keep: Keep, site_id: str) -> Site:
    """A site by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    found = site_or_none(keep, site_id)
    if found is None:
        raise NotFound(f"No site has the id {site_id}.", LOOK)
    return found


def every_site(keep: Keep, *, site_ids: tuple[str, ...] | None = None) -> tuple[Site, ...]:
    """All sites by name; only those of `site_ids` where these are given."""
    query = select(SITES).order_by(SITES.c.name)
    if site_ids is not None:
        query = query.where(SITES.c.id.in_(site_ids))
    return tuple(record_of(Site, row) for row in keep.connection.execute(query))


def site_named(keep: Keep, name: str) -> Site | None:
    """A site by its name."""
    row = keep.connection.execute(select(SITES).where(SITES.c.name == name)).first()
    return None if row is None else record_of(Site, row)


def add_system(keep: Keep, system: SystemPlace) -> SystemPlace:
    """Keep a new system.

    Raises
    ------
    NotFound
        If its site is not kept.
    InputError
        If the site has a system of that name.
    """
    at = site(keep, system.site_id)
    message, hint = f"{at.name} has a system named {system.name} already.", "Use it, or give another name."
    require_new(keep, SYSTEMS, message, hint, site_id=system.site_id, name=system.name)
    add_systems(keep, at, [system])
    return system


def add_systems(keep: Keep, at: Site, systems: Iterable[SystemPlace]) -> None:
    """Keep new systems of one site, whose names are known to be free."""
    given = list(systems)
    put(keep, SYSTEMS, [values_of(one, SYSTEMS) for one in given])
    let_find(keep, [system_text(one, at) for one in given], are_new=True)


def system_or_none(keep: Keep, system_id: str) -> SystemPlace | None:
    """A system by its id."""
    row = keep.connection.execute(select(SYSTEMS).where(SYSTEMS.c.id == system_id)).first()
    return None if row is None else record_of(SystemPlace, row)


def system(keep: Keep, system_id: str) -> SystemPlace:
    """A system by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    found = system_or_none(keep, system_id)
    if found is None:
        raise NotFound(f"No system has the id {system_id}.", LOOK)
    return found


def system_named(keep: Keep, site_id: str, name: str) -> SystemPlace | None:
    """A system of a site by its name."""
    query = select(SYSTEMS).where(SYSTEMS.c.site_id == site_id, SYSTEMS.c.name == name)
    row = keep.connection.execute(query).first()
    return None if row is None else record_of(SystemPlace, row)


def systems_of(keep: Keep, site_id: str) -> tuple[SystemPlace, ...]:
    """All systems of a site, by name."""
    query = select(SYSTEMS).where(SYSTEMS.c.site_id == site_id).order_by(SYSTEMS.c.name)
    return tuple(record_of(SystemPlace, row) for row in keep.connection.execute(query))


def site_text(of: Site) -> SearchText:
    """How a site is found."""
    return SearchText(kind="site", about_id=of.id, site_id=of.id, title=of.name, body=of.address or "")


def system_text(of: SystemPlace, at: Site) -> SearchText:
    """How a system is found."""
    body = of.refrigerant or ""
    return SearchText(kind="system", about_id=of.id, site_id=at.id, title=of.name, place=at.name, body=body)
