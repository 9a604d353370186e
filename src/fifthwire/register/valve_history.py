"""What the visits say was done and proved at one valve, and the pictures of it."""

from datetime import date
from typing import Any, Final

from sqlalchemy import Row, and_, or_, select

from fifthwire.model.followup import Proof, Work
from fifthwire.model.kept.visits import PhotographKept
from fifthwire.model.kept.whole import ProofPoint, WorkPoint
from fifthwire.register.entries import list_order, standing
from fifthwire.register.rows import record_of
from fifthwire.register.store import Keep
from fifthwire.register.tables import visits as table
from fifthwire.register.tables.photographs import PHOTOGRAPH_LINKS, PHOTOGRAPHS
from fifthwire.visitfile.parts import part_from_table

_ENTRIES: Final = table.ENTRIES


def work_of(keep: Keep, valve_id: str) -> tuple[WorkPoint, ...]:
    """What was done to a valve, oldest first."""
    rows = _standing_of(keep, valve_id, "work", "valve")
    return tuple(WorkPoint(date=day, visit_id=row.visit_id, work=part_from_table(Work, row.body)) for day, row in rows)


def proofs_of(keep: Keep, valve_id: str) -> tuple[ProofPoint, ...]:
    """What showed whether a repair of a valve works, oldest first."""
    rows = _standing_of(keep, valve_id, "proofs", "valve")
    return tuple(
        ProofPoint(date=day, visit_id=row.visit_id, proof=part_from_table(Proof, row.body)) for day, row in rows
    )


def photographs_of(keep: Keep, valve_id: str) -> tuple[PhotographKept, ...]:
    """Pictures added to a valve, or to a visit about it; newest first."""
    of_visits = [row.body.get("sha256") for _, row in _standing_of(keep, valve_id, "photographs", "about")]
    of_valve = (PHOTOGRAPH_LINKS.c.about_kind == "valve", PHOTOGRAPH_LINKS.c.about_id == valve_id)
    linked = select(PHOTOGRAPH_LINKS.c.sha256).where(*of_valve)
    query = select(PHOTOGRAPHS).where(or_(PHOTOGRAPHS.c.sha256.in_(linked), PHOTOGRAPHS.c.sha256.in_(of_visits)))
    rows = keep.connection.execute(query.order_by(PHOTOGRAPHS.c.at_utc.desc(), PHOTOGRAPHS.c.sha256))
    return tuple(record_of(PhotographKept, row) for row in rows)


def _standing_of(keep: Keep, valve_id: str, path: str, key: str) -> list[tuple[date, Row[Any]]]:
    """The entries of one list that name the valve and are not struck out, each with the day of its visit."""
    of_valve = table.VALVES.join(table.VISITS, table.VISITS.c.id == table.VALVES.c.visit_id)
    query = select(_ENTRIES, table.VISITS.c.date, table.VALVES.c.label).select_from(
        of_valve.join(_ENTRIES, _ENTRIES.c.visit_id == table.VISITS.c.id)
    )
    asked = and_(table.VALVES.c.valve_id == valve_id, or_(_ENTRIES.c.path == path, _ENTRIES.c.voids.is_not(None)))
    by_visit: dict[str, list[Row[Any]]] = {}
    for row in keep.connection.execute(query.where(asked).order_by(table.VISITS.c.date, table.VISITS.c.id)):
        by_visit.setdefault(row.visit_id, []).append(row)
    found = []
    for rows in by_visit.values():
        counts = standing(rows)
        found += [
            (row.date, row)
            for row in sorted(rows, key=list_order)
            if row.path == path and row.body.get(key) == row.label and counts.instead_of(row.id) is None
        ]
    return found
