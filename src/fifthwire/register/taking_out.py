"""The register's tables as rows for other programs, row by row, so that a large one needs no memory."""

from collections.abc import Callable, Iterator
from datetime import date, datetime
from typing import Any, Final

from sqlalchemy import ColumnElement, Select, func, select

from fifthwire.model.record import record
from fifthwire.register.store import Keep
from fifthwire.register.tables.manuals import METERS, SPEC_REVISIONS
from fifthwire.register.tables.notes import NOTES
from fifthwire.register.tables.photographs import PHOTOGRAPH_LINKS, PHOTOGRAPHS
from fifthwire.register.tables.places import HEADS, NO_NUMBER, SITES, SYSTEMS, UNITS, VALVES
from fifthwire.register.tables.todo import ACTIONS, FINDINGS
from fifthwire.register.tables.visits import VERDICTS, VISITS, WINDING_POINTS

ROWS_AT_ONCE: Final = 1000
"""Rows that are held at one time.  Our choice."""
_AT_SITE: Final = (SITES.c.name.label("site"), SYSTEMS.c.name.label("system"))
_AT_VALVE: Final = (*_AT_SITE, UNITS.c.name.label("unit"), VALVES.c.label.label("valve"))
_SYSTEMS: Final = SYSTEMS.join(SITES, SITES.c.id == SYSTEMS.c.site_id)
_UNITS: Final = _SYSTEMS.join(UNITS, UNITS.c.system_id == SYSTEMS.c.id)
_VALVES: Final = _UNITS.join(VALVES, VALVES.c.unit_id == UNITS.c.id)


@record(kw_only=False)
class TakenTable:
    """One table of an export."""

    name: str
    headings: tuple[str, ...]
    rows: Iterator[tuple[Any, ...]]


def tables(keep: Keep, site_id: str | None, site_ids: tuple[str, ...] | None) -> Iterator[TakenTable]:
    """Every table that holds what people know, in the order of its subject.

    Parameters
    ----------
    keep : Keep
        A transaction.
    site_id : str or None
        Only of this site; manuals and meters belong to none and are always there.
    site_ids : tuple of str or None
        Only of these sites.
    """
    wanted = [
        *([SITES.c.id == site_id] if site_id else []),
        *([SITES.c.id.in_(site_ids)] if site_ids is not None else []),
    ]
    for name, query in _QUERIES.items():
        asked = query().where(*wanted) if name not in _OF_NO_SITE else query()
        if name in _OF_NO_SITE and name not in _ALWAYS and wanted:
            continue
        yield TakenTable(name, tuple(column.name for column in asked.selected_columns), _rows(keep, asked))


def _rows(keep: Keep, query: Select[Any]) -> Iterator[tuple[Any, ...]]:
    result = keep.connection.execution_options(yield_per=ROWS_AT_ONCE).execute(query)
    return (tuple(_plain(value) for value in row) for row in result)


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return " | ".join(str(one) for one in value)
    if isinstance(value, dict):
        from fifthwire.model.canonical import canonical_json

        return canonical_json(value)
    return value


def _sites() -> Select[Any]:
    return select(SITES).order_by(SITES.c.name)


def _systems() -> Select[Any]:
    columns = (SITES.c.name.label("site"), SYSTEMS)
    return select(*columns).select_from(_SYSTEMS).order_by(SITES.c.name, SYSTEMS.c.name)


def _units() -> Select[Any]:
    ordered = (SITES.c.name, SYSTEMS.c.name, UNITS.c.kind, UNITS.c.position)
    return select(*_AT_SITE, UNITS).select_from(_UNITS).order_by(*ordered)


def _valves() -> Select[Any]:
    """As an import takes it in again."""
    spec = select(SPEC_REVISIONS.c.name).where(SPEC_REVISIONS.c.spec_id == VALVES.c.spec_id)
    latest = spec.order_by(SPEC_REVISIONS.c.revision.desc()).limit(1).scalar_subquery()
    on_it = _VALVES.outerjoin(HEADS, (HEADS.c.valve_id == VALVES.c.id) & HEADS.c.is_present)
    columns: tuple[ColumnElement[Any], ...] = (
        SITES.c.name.label("site"), SYSTEMS.c.name.label("system"), UNITS.c.name.label("unit"), VALVES.c.role,
        func.nullif(VALVES.c.number, NO_NUMBER).label("number"), VALVES.c.label, VALVES.c.kind, VALVES.c.head,
        VALVES.c.access, latest.label("spec"),
        HEADS.c.part_label, HEADS.c.since.label("head_installed"), UNITS.c.kind.label("unit_kind"), UNITS.c.room,
        UNITS.c.branch_unit, UNITS.c.capacity_kw, SYSTEMS.c.refrigerant,
    )  # fmt: skip
    ordered = (SITES.c.name, SYSTEMS.c.name, UNITS.c.kind, UNITS.c.position, VALVES.c.role, VALVES.c.number)
    return select(*columns).select_from(on_it).order_by(*ordered)


def _at_valve(table: Any, *ordered: ColumnElement[Any]) -> Select[Any]:
    joined = _VALVES.join(table, table.c.valve_id == VALVES.c.id)
    return select(*_AT_VALVE, table).select_from(joined).order_by(VALVES.c.id, *ordered)


def _findings() -> Select[Any]:
    joined = _VALVES.join(ACTIONS, ACTIONS.c.valve_id == VALVES.c.id).join(
        FINDINGS, FINDINGS.c.action_id == ACTIONS.c.id
    )
    return select(*_AT_VALVE, FINDINGS).select_from(joined).order_by(FINDINGS.c.at_utc, FINDINGS.c.id)


def _visits() -> Select[Any]:
    joined = _SYSTEMS.join(VISITS, VISITS.c.system_id == SYSTEMS.c.id)
    return select(*_AT_SITE, VISITS).select_from(joined).order_by(VISITS.c.date, VISITS.c.id)


def _site_notes() -> Select[Any]:
    joined = SITES.join(NOTES, NOTES.c.site_id == SITES.c.id)
    return select(SITES.c.name.label("site"), NOTES).select_from(joined).order_by(NOTES.c.at_utc, NOTES.c.id)


def _other_notes() -> Select[Any]:
    return select(NOTES).where(NOTES.c.site_id.is_(None)).order_by(NOTES.c.at_utc, NOTES.c.id)


def _manuals() -> Select[Any]:
    return select(SPEC_REVISIONS).order_by(SPEC_REVISIONS.c.name, SPEC_REVISIONS.c.revision)


def _photographs() -> Select[Any]:
    joined = PHOTOGRAPHS.outerjoin(PHOTOGRAPH_LINKS, PHOTOGRAPH_LINKS.c.sha256 == PHOTOGRAPHS.c.sha256)
    columns = (PHOTOGRAPHS, PHOTOGRAPH_LINKS.c.about_kind, PHOTOGRAPH_LINKS.c.about_id)
    return select(*columns).select_from(joined).order_by(PHOTOGRAPHS.c.sha256)


_QUERIES: Final[dict[str, Callable[[], Select[Any]]]] = {
    "sites": _sites,
    "systems": _systems,
    "units": _units,
    "valves": _valves,
    "heads": lambda: _at_valve(HEADS, HEADS.c.since, HEADS.c.id),
    "visits": _visits,
    "verdicts": lambda: _at_valve(VERDICTS, VERDICTS.c.date),
    "windings": lambda: _at_valve(WINDING_POINTS, WINDING_POINTS.c.date, WINDING_POINTS.c.wire_a),
    "actions": lambda: _at_valve(ACTIONS, ACTIONS.c.since, ACTIONS.c.id),
    "findings": _findings,
    "notes": _site_notes,
    "manuals": _manuals,
    "meters": lambda: select(METERS).order_by(METERS.c.serial),
    "notes-on-manuals": _other_notes,
    "photographs": _photographs,
}
_OF_NO_SITE: Final = ("manuals", "meters", "notes-on-manuals", "photographs")
_ALWAYS: Final = ("manuals", "meters", "notes-on-manuals")
"""Those that are taken out with one site as well."""


def visits_at(keep: Keep, site_id: str | None, site_ids: tuple[str, ...] | None) -> list[tuple[str, str, str, date]]:
    """Every visit: id, site, system, date; oldest first."""
    wanted = [
        *([SITES.c.id == site_id] if site_id else []),
        *([SITES.c.id.in_(site_ids)] if site_ids is not None else []),
    ]
    joined = _SYSTEMS.join(VISITS, VISITS.c.system_id == SYSTEMS.c.id)
    query = select(VISITS.c.id, *_AT_SITE, VISITS.c.date).select_from(joined).where(*wanted)
    return [tuple(row) for row in keep.connection.execute(query.order_by(VISITS.c.date, VISITS.c.id))]


def photograph_hashes(keep: Keep) -> list[tuple[str, str]]:
    """Every photograph: SHA-256 and media type."""
    rows = keep.connection.execute(
        select(PHOTOGRAPHS.c.sha256, PHOTOGRAPHS.c.media_type).order_by(PHOTOGRAPHS.c.sha256)
    )
    return [tuple(row) for row in rows]
