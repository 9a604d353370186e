"""What was made of visits: judgements beside one another, what each says of a valve now, and every winding's value."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from sqlalchemy import bindparam, delete, select, update

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.places import HeadInstance, ValveNow, WindingPoint
from fifthwire.model.kept.visits import Judgement
from fifthwire.register.ids import new_id
from fifthwire.register.place_rows import NOT_CHECKED
from fifthwire.register.places import LOOK
from fifthwire.register.rows import in_parts, put, record_of, values_of
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import HEADS
from fifthwire.register.tables.visits import JUDGEMENTS, VERDICTS, WINDING_POINTS


def add_judgement(keep: Keep, judgement: Judgement) -> Judgement:
    """Keep a judgement beside those before it."""
    put(keep, JUDGEMENTS, [values_of(judgement, JUDGEMENTS)])
    return judgement


def judgement(keep: Keep, judgement_id: str) -> Judgement:
    """A judgement by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    row = keep.connection.execute(select(JUDGEMENTS).where(JUDGEMENTS.c.id == judgement_id)).first()
    if row is None:
        raise NotFound(f"No judgement has the id {judgement_id}.", LOOK)
    return record_of(Judgement, row)


def judgements_of(keep: Keep, visit_id: str) -> tuple[Judgement, ...]:
    """Every judgement of a visit, newest first."""
    query = select(JUDGEMENTS).where(JUDGEMENTS.c.visit_id == visit_id)
    rows = keep.connection.execute(query.order_by(JUDGEMENTS.c.at_utc.desc(), JUDGEMENTS.c.id.desc()))
    return tuple(record_of(Judgement, row) for row in rows)


def put_verdicts(keep: Keep, visit_id: str, judgement_id: str, verdicts: Sequence[ValveNow]) -> None:
    """What the latest judgement of a visit says of its valves, in place of what an earlier one said.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    visit_id, judgement_id : str
        Of the visit and the judgement.
    verdicts : sequence of ValveNow
        One a valve.
    """
    before = [row.valve_id for row in keep.connection.execute(_valves_judged(visit_id))]
    keep.connection.execute(delete(VERDICTS).where(VERDICTS.c.visit_id == visit_id))
    rows = [
        values_of(one, VERDICTS, judgement_id=judgement_id, because=list(one.because), is_now=False) for one in verdicts
    ]
    put(keep, VERDICTS, rows)
    _mark_latest(keep, sorted({*before, *(one.valve_id for one in verdicts)}))


def _valves_judged(visit_id: str) -> Any:
    return select(VERDICTS.c.valve_id).where(VERDICTS.c.visit_id == visit_id)


def _mark_latest(keep: Keep, valve_ids: Sequence[str]) -> None:
    """Of each valve's verdicts mark that of its latest visit; one that did not look at the valve says nothing new."""
    for ids in in_parts(valve_ids):
        columns = (VERDICTS.c.valve_id, VERDICTS.c.visit_id, VERDICTS.c.date, VERDICTS.c.mark, VERDICTS.c.is_now)
        rows = keep.connection.execute(select(*columns).where(VERDICTS.c.valve_id.in_(ids))).all()
        latest: dict[str, tuple[bool, date, str]] = {}
        for row in rows:
            latest[row.valve_id] = max(latest.get(row.valve_id, _weight(row)), _weight(row))
        wrong = [row for row in rows if row.is_now != (latest[row.valve_id] == _weight(row))]
        if wrong:
            wrong.sort(key=lambda row: not row.is_now)  # the one before steps back first: only one counts at any time
            at = (VERDICTS.c.valve_id == bindparam("valve"), VERDICTS.c.visit_id == bindparam("visit"))
            changes = [{"valve": row.valve_id, "visit": row.visit_id, "now": not row.is_now} for row in wrong]
            keep.connection.execute(update(VERDICTS).where(*at).values(is_now=bindparam("now")), changes)


def _weight(row: Any) -> tuple[bool, date, str]:
    """Which of two verdicts on a valve counts: the later visit's, unless nothing was looked at there."""
    return (row.mark != NOT_CHECKED, row.date, row.visit_id)


def put_points(keep: Keep, visit_id: str, points: Mapping[str, Iterable[WindingPoint]]) -> None:
    """Every winding's value of a visit, in place of what an earlier judgement of it said.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    visit_id : str
        The visit.
    points : mapping
        The points of each valve, by its id.
    """
    keep.connection.execute(delete(WINDING_POINTS).where(WINDING_POINTS.c.visit_id == visit_id))
    rows = [
        values_of(one, WINDING_POINTS, valve_id=valve_id, wire_a=one.wires[0], wire_b=one.wires[1])
        for valve_id, held in points.items()
        for one in held
    ]
    put(keep, WINDING_POINTS, rows)


def new_head(
    keep: Keep, valve_id: str, heads: Sequence[HeadInstance], day: date, part_label: str | None
) -> tuple[HeadInstance, ...]:
    """A head fitted on a day: it ends the one that was there, and takes over what was measured later.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    valve_id : str
        The valve.
    heads : sequence of HeadInstance
        Those known of it, in any order.
    day : date
        When it was fitted.
    part_label : str or None
        As printed on it.

    Returns
    -------
    tuple of HeadInstance
        Those known of it now. Visits may come in any order: a head fitted between two known ones goes between them.
    """
    if any(one.since == day for one in heads):
        return tuple(heads)
    covering = next((one for one in heads if _covers(one, day)), None)
    made = HeadInstance(
        id=new_id(keep.now_utc),
        valve_id=valve_id,
        since=day,
        until=None if covering is None else covering.until,
        part_label=part_label,
        is_present=covering is None or covering.is_present,
    )
    put(keep, HEADS, [values_of(made, HEADS)])
    if covering is None:
        return (*heads, made)
    ended = replace(covering, until=day, is_present=False)
    keep.connection.execute(update(HEADS).where(HEADS.c.id == ended.id).values(until=day, is_present=False))
    of_it = (WINDING_POINTS.c.valve_id == valve_id, WINDING_POINTS.c.head_id == covering.id)
    later = (*of_it, WINDING_POINTS.c.date > day)
    keep.connection.execute(update(WINDING_POINTS).where(*later).values(head_id=made.id))
    return (*(one for one in heads if one.id != covering.id), ended, made)


def head_fitted(
    keep: Keep, valve_id: str, heads: Sequence[HeadInstance], day: date, part_label: str | None
) -> tuple[HeadInstance, ...]:
    """A visit says since when the head it found has been there: of one that nobody knew the day of, or a new one."""
    covering = next((one for one in heads if _covers(one, day)), None)
    if covering is None or covering.since is not None or _was_read_by(keep, covering.id, day):
        return new_head(keep, valve_id, heads, day, part_label)
    known = replace(covering, since=day, part_label=covering.part_label or part_label)
    keep.connection.execute(update(HEADS).where(HEADS.c.id == known.id).values(values_of(known, HEADS)))
    return tuple(known if one.id == known.id else one for one in heads)


def _was_read_by(keep: Keep, head_id: str, day: date) -> bool:
    query = select(WINDING_POINTS.c.visit_id).where(WINDING_POINTS.c.head_id == head_id, WINDING_POINTS.c.date <= day)
    return keep.connection.execute(query.limit(1)).first() is not None


def _covers(head: HeadInstance, day: date) -> bool:
    return (head.since is None or head.since < day) and (head.until is None or head.until > day)
