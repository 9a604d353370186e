"""Change a site or a system, and let everything that carries its name be found under the new one."""

from fifthwire.model.kept.places import Site, SystemPlace
from fifthwire.register import places
from fifthwire.register.rows import change, require_new
from fifthwire.register.search import SearchText, let_find
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import SITES, SYSTEMS
from fifthwire.register.valves import unit_text, units_of, valve_text, valves_of


def change_site(keep: Keep, site: Site) -> Site:
    """Change a site; its `version` is the one that was read.

    Raises
    ------
    Conflict
        If somebody has changed it since.
    InputError
        If another site has the name.
    """
    hint = "Give another name."
    require_new(keep, SITES, f"Another site is named {site.name}.", hint, other_than=site.id, name=site.name)
    theirs = places.site_or_none(keep, site.id)
    changed: Site = change(keep, SITES, site, theirs)
    if theirs is not None and theirs.name != changed.name:
        find_anew(keep, changed.id)
    else:
        let_find(keep, [places.site_text(changed)])
    return changed


def change_system(keep: Keep, system: SystemPlace) -> SystemPlace:
    """Change a system; its `version` is the one that was read. It stays at its site.

    Raises
    ------
    Conflict
        If somebody has changed it since.
    InputError
        If the site has another system of that name.
    """
    message = f"Another system of this site is named {system.name}."
    key = {"site_id": system.site_id, "name": system.name}
    require_new(keep, SYSTEMS, message, "Give another name.", other_than=system.id, **key)
    theirs = places.system_or_none(keep, system.id)
    changed: SystemPlace = change(keep, SYSTEMS, system, theirs)
    if theirs is not None and theirs.name != changed.name:
        find_anew(keep, changed.site_id, changed.id)
    else:
        let_find(keep, [places.system_text(changed, places.site(keep, changed.site_id))])
    return changed


def find_anew(keep: Keep, site_id: str, system_id: str | None = None) -> None:
    """Let a site, its systems, units and valves be found under their new names.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    site_id : str
        Of the site.
    system_id : str, optional
        Only this system of it.
    """
    at = places.site(keep, site_id)
    texts: list[SearchText] = [places.site_text(at)]
    for of in places.systems_of(keep, site_id):
        if system_id in (None, of.id):
            units = {unit.id: unit for unit in units_of(keep, of.id)}
            texts.append(places.system_text(of, at))
            texts += [unit_text(unit, at, of) for unit in units.values()]
            texts += [valve_text(valve, units[valve.unit_id], at, of) for valve in valves_of(keep, of.id)]
    let_find(keep, texts)
