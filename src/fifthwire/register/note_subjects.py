"""What a note is about: its site and how people call it."""

from typing import Any

from sqlalchemy import Select, select

from fifthwire.model.record import record
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import SITES, SYSTEMS, UNITS, VALVES
from fifthwire.register.tables.todo import ACTIONS
from fifthwire.register.tables.visits import VISITS


@record
class Subject:
    """A thing that notes are written on."""

    title: str
    place: str = ""
    site_id: str | None = None


def subject(keep: Keep, kind: str, id_: str) -> Subject | None:
    """A site, system, unit, valve, visit or action; None where there is none of that id."""
    row = keep.connection.execute(_query(kind, id_)).first()
    if row is None:
        return None
    title, site_id, *place = row
    return Subject(title=str(title), site_id=site_id, place=" · ".join(str(part) for part in place))


def _query(kind: str, id_: str) -> Select[Any]:
    in_site = SYSTEMS.join(SITES, SITES.c.id == SYSTEMS.c.site_id)
    if kind == "site":
        return select(SITES.c.name, SITES.c.id).where(SITES.c.id == id_)
    if kind == "system":
        return select(SYSTEMS.c.name, SITES.c.id, SITES.c.name).select_from(in_site).where(SYSTEMS.c.id == id_)
    table, title = {
        "unit": (UNITS, UNITS.c.name),
        "valve": (VALVES, VALVES.c.label),
        "visit": (VISITS, VISITS.c.date),
        "action": (ACTIONS, ACTIONS.c.action),
    }[kind]
    joined = in_site.join(table, table.c.system_id == SYSTEMS.c.id)
    return select(title, SITES.c.id, SITES.c.name, SYSTEMS.c.name).select_from(joined).where(table.c.id == id_)
