"""Sites, systems and valves as the lists show them: with what is open there, and what is known of each now."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, Final

from sqlalchemy import ColumnElement, Row, Select, and_, exists, func, not_, or_, select

from fifthwire.model.kept.page import Page
from fifthwire.model.kept.places import (
    VALVE_MARKS,
    Site,
    SiteRow,
    SystemPlace,
    SystemRow,
    ValveNow,
    ValvePlace,
    ValveRow,
    WindingPoint,
)
from fifthwire.register.rows import one_page, paged, record_of
from fifthwire.register.search import holds, in_index
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import SITES, SYSTEMS, UNITS, VALVES
from fifthwire.register.tables.todo import ACTIONS
from fifthwire.register.tables.visits import VERDICTS, VISITS, WINDING_POINTS
from fifthwire.register.valves import UNIT_ORDER
from fifthwire.register.words import question_words

NOT_CHECKED: Final = "not-checked"
_NOW: Final = and_(VERDICTS.c.valve_id == VALVES.c.id, VERDICTS.c.is_now)
_VERDICT_FIELDS: Final = (
    "visit_id", "date", "mark", "word_code", "cause", "probability", "action", "urgency", "meanwhile", "because",
    "winding_verdict",
)  # fmt: skip


def list_sites(keep: Keep, *, site_ids: tuple[str, ...] | None = None, page: int = 1) -> Page[SiteRow]:
    """Sites by name; only those of `site_ids` where these are given."""
    query = select(SITES).where(*_within(SITES.c.id, site_ids)).order_by(SITES.c.name)
    rows, n_rows = one_page(keep, query, page)
    ids = [row.id for row in rows]
    systems = _counts(keep, select(SYSTEMS.c.site_id, func.count()).where(SYSTEMS.c.site_id.in_(ids)))
    in_systems = SYSTEMS.join(VALVES, VALVES.c.system_id == SYSTEMS.c.id)
    of_valves = select(SYSTEMS.c.site_id, func.count()).select_from(in_systems).where(SYSTEMS.c.site_id.in_(ids))
    valves = _counts(keep, of_valves)
    open_ = select(ACTIONS.c.site_id, func.count()).where(ACTIONS.c.site_id.in_(ids), ACTIONS.c.state == "open")
    is_open, is_urgent = _counts(keep, open_), _counts(keep, open_.where(ACTIONS.c.urgency == "now"))
    visited = SYSTEMS.join(VISITS, VISITS.c.system_id == SYSTEMS.c.id)
    last = select(SYSTEMS.c.site_id, func.max(VISITS.c.date)).select_from(visited).where(SYSTEMS.c.site_id.in_(ids))
    last_visit = _counts(keep, last)
    found = [
        SiteRow(
            site=record_of(Site, row),
            n_systems=systems.get(row.id, 0),
            n_valves=valves.get(row.id, 0),
            n_open_now=is_urgent.get(row.id, 0),
            n_open=is_open.get(row.id, 0),
            last_visit=last_visit.get(row.id),
        )
        for row in rows
    ]
    return paged(found, page, n_rows)


def list_systems(
    keep: Keep, *, site_id: str | None = None, site_ids: tuple[str, ...] | None = None, page: int = 1
) -> Page[SystemRow]:
    """Systems by site and name."""
    query = select(SYSTEMS, *_labelled(SITES, "at")).join(SITES, SITES.c.id == SYSTEMS.c.site_id)
    conditions = [*_within(SYSTEMS.c.site_id, site_ids), *([SYSTEMS.c.site_id == site_id] if site_id else [])]
    ordered = query.where(*conditions).order_by(SITES.c.name, SYSTEMS.c.name)
    rows, n_rows = one_page(keep, ordered, page, select(SYSTEMS.c.id).where(*conditions))
    return paged(_system_rows(keep, rows), page, n_rows)


def systems_called(
    keep: Keep, name_or_id: str, *, site_id: str | None = None, site_ids: tuple[str, ...] | None = None
) -> tuple[SystemPlace, ...]:
    """The systems that have a name or an id, by site."""
    query = select(SYSTEMS).where(or_(SYSTEMS.c.name == name_or_id, SYSTEMS.c.id == name_or_id))
    narrowed = query.where(*_within(SYSTEMS.c.site_id, site_ids), *([SYSTEMS.c.site_id == site_id] if site_id else []))
    return tuple(record_of(SystemPlace, row) for row in keep.connection.execute(narrowed.order_by(SYSTEMS.c.site_id)))


def _system_rows(keep: Keep, rows: Sequence[Row[Any]]) -> list[SystemRow]:
    ids = [row.id for row in rows]
    units = _counts(keep, select(UNITS.c.system_id, func.count()).where(UNITS.c.system_id.in_(ids)))
    valves = _counts(keep, select(VALVES.c.system_id, func.count()).where(VALVES.c.system_id.in_(ids)))
    of_open = select(ACTIONS.c.system_id, func.count()).where(ACTIONS.c.system_id.in_(ids), ACTIONS.c.state == "open")
    is_open = _counts(keep, of_open)
    last = _counts(keep, select(VISITS.c.system_id, func.max(VISITS.c.date)).where(VISITS.c.system_id.in_(ids)))
    worst = worst_marks(keep, ids)
    return [
        SystemRow(
            system=record_of(SystemPlace, row),
            site=_prefixed(Site, row, "at"),
            n_units=units.get(row.id, 0),
            n_valves=valves.get(row.id, 0),
            n_open=is_open.get(row.id, 0),
            last_visit=last.get(row.id),
            worst=worst.get(row.id),
        )
        for row in rows
    ]


def worst_marks(keep: Keep, system_ids: Sequence[str]) -> Mapping[str, str]:
    """The worst mark of each system's valves; a system without any judgement has none."""
    query = select(VALVES.c.system_id, VERDICTS.c.mark).join(VERDICTS, _NOW).where(VALVES.c.system_id.in_(system_ids))
    worst: dict[str, str] = {}
    for system_id, mark in keep.connection.execute(query.distinct()):
        worst[system_id] = min(worst.get(system_id, mark), mark, key=VALVE_MARKS.index)
    return worst


def list_valves(
    keep: Keep,
    *,
    site_id: str | None = None,
    system_id: str | None = None,
    mark: str | None = None,
    text: str | None = None,
    site_ids: tuple[str, ...] | None = None,
    page: int = 1,
) -> Page[ValveRow]:
    """Valves by label, with what is known of each now.

    Parameters
    ----------
    keep : Keep
        A transaction.
    site_id, system_id : str, optional
        Only of this site or system.
    mark : str, optional
        Only of this mark; a valve that was never judged is "not-checked".
    text : str, optional
        Only those that hold words starting so, as the search finds them.
    site_ids : tuple of str or None
        Only of these sites; None: of all.
    page : int
        From 1.
    """
    words = question_words(text or "")
    conditions = [
        *([SYSTEMS.c.site_id == site_id] if site_id else []),
        *([VALVES.c.system_id == system_id] if system_id else []),
        *_within(SYSTEMS.c.site_id, site_ids),
        *([_has_mark(mark)] if mark else []),
        *([holds(keep, words, "valve", VALVES.c.id)] if words else []),
    ]
    joined = VALVES.join(SYSTEMS, SYSTEMS.c.id == VALVES.c.system_id)
    at_sites = site_id is not None or site_ids is not None
    ids = select(VALVES.c.id).select_from(joined if at_sites else VALVES).where(*conditions)
    order = (VALVES.c.label, VALVES.c.id)
    count = ids
    if len(conditions) == 1 and words:
        count = in_index(keep, words, "valve")
    elif len(conditions) == 1 and mark and mark != NOT_CHECKED:
        count = _judged_so(mark)
    of_page, n_rows = one_page(keep, ids.order_by(*order), page, count)  # which first, then what: late pages cost alike
    whole = _valve_query().where(VALVES.c.id.in_([row.id for row in of_page])).order_by(*order)
    return paged((_valve_row(row) for row in keep.connection.execute(whole)), page, n_rows)


def valve_rows_of(keep: Keep, system_id: str) -> tuple[ValveRow, ...]:
    """All valves of a system in the order of its units."""
    query = _valve_query().where(VALVES.c.system_id == system_id)
    ordered = query.order_by(UNIT_ORDER, UNITS.c.position, UNITS.c.name, VALVES.c.role, VALVES.c.number)
    return tuple(_valve_row(row) for row in keep.connection.execute(ordered))


def _judged_so(mark: str) -> Select[Any]:
    """The valves of a mark, to be counted from the index of verdicts alone."""
    return select(VERDICTS.c.valve_id).where(VERDICTS.c.is_now, VERDICTS.c.mark == mark)


def _has_mark(mark: str) -> ColumnElement[bool]:
    """Whether the valve's present verdict has a mark; without one it counts as not checked."""
    judged = VERDICTS.alias("judged")  # the query around this one may hold the same table
    of_valve = exists().where(judged.c.valve_id == VALVES.c.id, judged.c.is_now)
    return of_valve.where(judged.c.mark == mark) if mark != NOT_CHECKED else not_(of_valve.where(judged.c.mark != mark))


def _valve_query() -> Select[Any]:
    return (
        select(
            VALVES,
            UNITS.c.name.label("unit"),
            *_labelled(SITES, "at"),
            *_labelled(SYSTEMS, "of"),
            *(VERDICTS.c[name].label(f"now_{name}") for name in _VERDICT_FIELDS),
        )
        .join(UNITS, UNITS.c.id == VALVES.c.unit_id)
        .join(SYSTEMS, SYSTEMS.c.id == VALVES.c.system_id)
        .join(SITES, SITES.c.id == SYSTEMS.c.site_id)
        .outerjoin(VERDICTS, _NOW)
    )


def _valve_row(row: Row[Any]) -> ValveRow:
    return ValveRow(
        valve=record_of(ValvePlace, row, number=row.number or None),
        site=_prefixed(Site, row, "at"),
        system=_prefixed(SystemPlace, row, "of"),
        now=None if row.now_visit_id is None else _now(row),
    )


def _now(row: Row[Any]) -> ValveNow:
    said = {name: getattr(row, f"now_{name}") for name in _VERDICT_FIELDS}
    return ValveNow(**{**said, "valve_id": row.id, "because": tuple(said["because"])})


def verdicts_of(keep: Keep, valve_id: str) -> tuple[ValveNow, ...]:
    """What each visit's latest judgement says of a valve, newest first."""
    query = select(VERDICTS).where(VERDICTS.c.valve_id == valve_id)
    rows = keep.connection.execute(query.order_by(VERDICTS.c.date.desc(), VERDICTS.c.visit_id.desc()))
    return tuple(record_of(ValveNow, row, because=tuple(row.because)) for row in rows)


def now_of(keep: Keep, valve_id: str) -> ValveNow | None:
    """What is known of a valve now."""
    row = keep.connection.execute(select(VERDICTS).where(VERDICTS.c.valve_id == valve_id, VERDICTS.c.is_now)).first()
    return None if row is None else record_of(ValveNow, row, because=tuple(row.because))


def points_of(keep: Keep, valve_id: str) -> tuple[WindingPoint, ...]:
    """Every winding of a valve's heads over the years, oldest first."""
    query = select(WINDING_POINTS).where(WINDING_POINTS.c.valve_id == valve_id)
    order = (WINDING_POINTS.c.date, WINDING_POINTS.c.visit_id, WINDING_POINTS.c.wire_a, WINDING_POINTS.c.wire_b)
    rows = keep.connection.execute(query.order_by(*order))
    return tuple(record_of(WindingPoint, row, wires=(row.wire_a, row.wire_b)) for row in rows)


def last_visit_of(keep: Keep, system_id: str) -> date | None:
    """The day of the latest visit to a system."""
    return keep.connection.execute(select(func.max(VISITS.c.date)).where(VISITS.c.system_id == system_id)).scalar()


def _within(column: ColumnElement[Any], site_ids: tuple[str, ...] | None) -> list[ColumnElement[bool]]:
    return [] if site_ids is None else [column.in_(site_ids)]


def _counts(keep: Keep, query: Select[Any]) -> dict[str, Any]:
    """What a query of two columns gives for each value of its first."""
    key = query.selected_columns[0]
    return {row[0]: row[1] for row in keep.connection.execute(query.group_by(key))}


def _labelled(table: Any, prefix: str) -> list[Any]:
    return [column.label(f"{prefix}_{column.name}") for column in table.c]


def _prefixed(cls: Any, row: Row[Any], prefix: str) -> Any:
    """A record from those columns of a row whose names begin with a prefix."""
    return cls(**{name: getattr(row, f"{prefix}_{name}") for name in cls.__dataclass_fields__})
