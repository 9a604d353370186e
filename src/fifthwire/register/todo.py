"""What is to do at the valves, and what was found there."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any, Final

from sqlalchemy import Row, Select, select, update

from fifthwire.model.choices import URGENCIES
from fifthwire.model.errors import NotFound
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.todo import Action, Found
from fifthwire.model.record import record
from fifthwire.register.ids import new_id
from fifthwire.register.places import LOOK
from fifthwire.register.rows import in_parts, one_page, paged, put, record_of, values_of
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import SITES, SYSTEMS, UNITS, VALVES
from fifthwire.register.tables.todo import ACTIONS, FINDINGS

OPEN: Final = "open"
CLOSED: Final = "closed"


@record
class Wanted:
    """What a judgement asks to be done at a valve."""

    valve_id: str
    site_id: str
    system_id: str
    action: str
    why: tuple[str, ...] = ()
    urgency: str = "planned"
    meanwhile: str = "none"
    parts: str | None = None


def want(keep: Keep, visit_id: str, day: date, wanted: Iterable[Wanted]) -> tuple[str, ...]:
    """Open an action for each; where the valve has an open one already, say there what is asked for now.

    An action stays open since the day it was first asked for, until somebody says what was found. A judgement of an
    earlier visit than the one that asks now changes nothing.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    visit_id : str
        The visit that was judged.
    day : date
        Its date.
    wanted : iterable of Wanted
        At most one a valve.

    Returns
    -------
    tuple of str
        Ids of the actions.
    """
    given = list(wanted)
    known = _open_of(keep, [one.valve_id for one in given])
    ids, new = [], []
    for one in given:
        row = known.get(one.valve_id)
        if row is None:
            ids.append(new_id(keep.now_utc))
            new.append(_new_row(one, ids[-1], visit_id, day))
        else:
            ids.append(row.id)
            _ask_again(keep, row, one, visit_id, day)
    put(keep, ACTIONS, new)
    return tuple(ids)


def _open_of(keep: Keep, valve_ids: Sequence[str]) -> dict[str, Row[Any]]:
    """The open action of each valve that has one, with the date of the visit that asks for it."""
    found = {}
    for ids in in_parts(valve_ids):
        query = select(ACTIONS).where(ACTIONS.c.valve_id.in_(ids), ACTIONS.c.state == OPEN)
        found.update({row.valve_id: row for row in keep.connection.execute(query)})
    return found


def _new_row(one: Wanted, id_: str, visit_id: str, day: date) -> dict[str, Any]:
    rank = URGENCIES.index(one.urgency)
    more = {"id": id_, "visit_id": visit_id, "since": day, "asked": day, "urgency_rank": rank, "state": OPEN}
    return values_of(one, ACTIONS, **more)


def _ask_again(keep: Keep, row: Row[Any], one: Wanted, visit_id: str, day: date) -> None:
    if row.asked > day:
        keep.connection.execute(update(ACTIONS).where(ACTIONS.c.id == row.id).values(since=min(row.since, day)))
        return
    rank, since = URGENCIES.index(one.urgency), min(row.since, day)
    values = values_of(one, ACTIONS, visit_id=visit_id, asked=day, since=since, urgency_rank=rank)
    keep.connection.execute(update(ACTIONS).where(ACTIONS.c.id == row.id).values(values))


def action(keep: Keep, action_id: str) -> Action:
    """An action by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    row = keep.connection.execute(_query().where(ACTIONS.c.id == action_id)).first()
    if row is None:
        raise NotFound(f"No action has the id {action_id}.", LOOK)
    return _actions(keep, [row])[0]


def list_actions(
    keep: Keep,
    *,
    site_id: str | None = None,
    system_id: str | None = None,
    valve_id: str | None = None,
    urgency: str | None = None,
    state: str | None = OPEN,
    site_ids: tuple[str, ...] | None = None,
    page: int = 1,
) -> Page[Action]:
    """Actions, the urgent and then the oldest first.

    Parameters
    ----------
    keep : Keep
        A transaction.
    site_id, system_id, valve_id, urgency : str, optional
        Only of these.
    state : str or None
        open | closed; None: both.
    site_ids : tuple of str or None
        Only of these sites; None: of all.
    page : int
        From 1.
    """
    given = {"site_id": site_id, "system_id": system_id, "valve_id": valve_id, "urgency": urgency, "state": state}
    conditions = [ACTIONS.c[name] == value for name, value in given.items() if value]
    if site_ids is not None:
        conditions.append(ACTIONS.c.site_id.in_(site_ids))
    order = (ACTIONS.c.urgency_rank, ACTIONS.c.since, ACTIONS.c.id)
    count = select(ACTIONS.c.id).where(*conditions)
    rows, n_rows = one_page(keep, _query().where(*conditions).order_by(*order), page, count)
    return paged(_actions(keep, rows), page, n_rows)


def actions_of(keep: Keep, *, valve_id: str | None = None, system_id: str | None = None) -> tuple[Action, ...]:
    """Every action of a valve, open and closed, newest first; or every open one of a system, urgent ones first."""
    if valve_id is not None:
        rows = keep.connection.execute(
            _query().where(ACTIONS.c.valve_id == valve_id).order_by(ACTIONS.c.since.desc(), ACTIONS.c.id.desc())
        )
    else:
        of = (ACTIONS.c.system_id == system_id, ACTIONS.c.state == OPEN)
        rows = keep.connection.execute(
            _query().where(*of).order_by(ACTIONS.c.urgency_rank, ACTIONS.c.since, ACTIONS.c.id)
        )
    return tuple(_actions(keep, rows.all()))


def _query() -> Select[Any]:
    return (
        select(
            ACTIONS,
            SITES.c.name.label("site"),
            SYSTEMS.c.name.label("system"),
            UNITS.c.name.label("unit"),
            VALVES.c.label.label("valve"),
        )
        .join(VALVES, VALVES.c.id == ACTIONS.c.valve_id)
        .join(UNITS, UNITS.c.id == VALVES.c.unit_id)
        .join(SYSTEMS, SYSTEMS.c.id == ACTIONS.c.system_id)
        .join(SITES, SITES.c.id == ACTIONS.c.site_id)
    )


def _actions(keep: Keep, rows: Sequence[Row[Any]]) -> list[Action]:
    found = _findings(keep, [row.id for row in rows])
    made = []
    for row in rows:
        first, *later = found.get(row.id, ()) or (None,)
        made.append(
            record_of(
                Action, row, why=tuple(row.why), found=first, later_found=tuple(one for one in later if one is not None)
            )
        )
    return made


def _findings(keep: Keep, action_ids: Sequence[str]) -> Mapping[str, list[Found]]:
    """What was found at each action, in the order in which it was entered."""
    found: dict[str, list[Found]] = {}
    for ids in in_parts(action_ids):
        query = select(FINDINGS).where(FINDINGS.c.action_id.in_(ids)).order_by(FINDINGS.c.at_utc, FINDINGS.c.id)
        for row in keep.connection.execute(query):
            found.setdefault(row.action_id, []).append(record_of(Found, row))
    return found


def add_finding(keep: Keep, action_id: str, found: Found) -> None:
    """Add what was found, and close the action; an earlier finding stays beside it."""
    put(keep, FINDINGS, [values_of(found, FINDINGS, id=new_id(keep.now_utc), action_id=action_id)])
    keep.connection.execute(update(ACTIONS).where(ACTIONS.c.id == action_id).values(state=CLOSED))
