"""Visits and their entries: added, never edited."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from sqlalchemy import Select, func, select, update

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.visits import EntryDraft, EntryKept, VisitKept
from fifthwire.model.visit import Visit
from fifthwire.register.entries import standing
from fifthwire.register.ids import new_id
from fifthwire.register.places import LOOK
from fifthwire.register.rows import in_parts, one_page, paged, put, record_of
from fifthwire.register.search import SearchText, let_find
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import SITES, SYSTEMS
from fifthwire.register.tables.visits import ENTRIES, FILES, VALVES, VISITS


def add_visit(keep: Keep, system_id: str, identity: str, visit: Visit, by: str) -> str:
    """Keep a new visit, still without entries, and give its id.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    system_id : str
        The system that was visited.
    identity : str
        What stays the same however often its file travels.
    visit : Visit
        Says when, by whom and why.
    by : str
        Who adds it.
    """
    id_ = new_id(keep.now_utc)
    row = {
        "id": id_,
        "system_id": system_id,
        "identity": identity,
        "is_signed": False,
        "n_issues": 0,
        "n_entries": 0,
        "version": 0,
        "added_utc": keep.now_utc,
        "added_by": by,
        **_of_header(visit),
    }
    put(keep, VISITS, [row])
    return id_


def _of_header(visit: Visit) -> dict[str, Any]:
    return {
        "date": visit.header.date,
        "technician": visit.header.technician,
        "reason": visit.header.reason,
        "n_valves": sum(not valve.is_void for valve in visit.valves),
    }


def visit(keep: Keep, visit_id: str) -> VisitKept:
    """A visit by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    row = keep.connection.execute(_query().where(VISITS.c.id == visit_id)).first()
    if row is None:
        raise NotFound(f"No visit has the id {visit_id}.", LOOK)
    return record_of(VisitKept, row)


def hold(keep: Keep, visit_id: str) -> VisitKept:
    """A visit by its id, held so that nobody else adds to it before this transaction ends.

    Raises
    ------
    NotFound
        If there is none.
    """
    keep.connection.execute(select(VISITS.c.id).where(VISITS.c.id == visit_id).with_for_update()).first()
    return visit(keep, visit_id)


def identity_kept(keep: Keep, visit_id: str) -> str:
    """What stays the same however often the visit's file travels."""
    return str(keep.connection.execute(select(VISITS.c.identity).where(VISITS.c.id == visit_id)).scalar_one())


def visit_of_identity(keep: Keep, system_id: str, identity: str) -> VisitKept | None:
    """The visit of a system that a file belongs to."""
    query = _query().where(VISITS.c.system_id == system_id, VISITS.c.identity == identity)
    row = keep.connection.execute(query).first()
    return None if row is None else record_of(VisitKept, row)


def visits_on(keep: Keep, system_id: str, day: date) -> tuple[VisitKept, ...]:
    """The visits to a system on one day."""
    query = _query().where(VISITS.c.system_id == system_id, VISITS.c.date == day).order_by(VISITS.c.id)
    return tuple(record_of(VisitKept, row) for row in keep.connection.execute(query))


def last_visit(keep: Keep, system_id: str, *, until: date | None = None) -> VisitKept | None:
    """The latest visit to a system."""
    query = _query().where(VISITS.c.system_id == system_id, *([VISITS.c.date <= until] if until else []))
    row = keep.connection.execute(query.order_by(VISITS.c.date.desc(), VISITS.c.id.desc()).limit(1)).first()
    return None if row is None else record_of(VisitKept, row)


def list_visits(
    keep: Keep,
    *,
    site_id: str | None = None,
    system_id: str | None = None,
    site_ids: tuple[str, ...] | None = None,
    page: int = 1,
) -> Page[VisitKept]:
    """Visits, the latest first.

    Parameters
    ----------
    keep : Keep
        A transaction.
    site_id, system_id : str, optional
        Only of these.
    site_ids : tuple of str or None
        Only of these sites; None: of all.
    page : int
        From 1.
    """
    conditions = [
        *([SYSTEMS.c.site_id == site_id] if site_id else []),
        *([VISITS.c.system_id == system_id] if system_id else []),
        *([SYSTEMS.c.site_id.in_(site_ids)] if site_ids is not None else []),
    ]
    is_of_site = site_id is not None or site_ids is not None
    counted = VISITS.join(SYSTEMS, SYSTEMS.c.id == VISITS.c.system_id) if is_of_site else VISITS
    count = select(VISITS.c.id).select_from(counted).where(*conditions)
    ordered = _query().where(*conditions).order_by(VISITS.c.date.desc(), VISITS.c.id.desc())
    rows, n_rows = one_page(keep, ordered, page, count)
    return paged((record_of(VisitKept, row) for row in rows), page, n_rows)


def _query() -> Select[Any]:
    return (
        select(VISITS, SYSTEMS.c.site_id, SYSTEMS.c.name.label("system"), SITES.c.name.label("site"))
        .join(SYSTEMS, SYSTEMS.c.id == VISITS.c.system_id)
        .join(SITES, SITES.c.id == SYSTEMS.c.site_id)
    )


def drafts_of(keep: Keep, visit_id: str, *, until_seq: int | None = None) -> tuple[EntryKept, ...]:
    """Every entry of a visit in the order of its addition, which of them count not worked out yet."""
    query = select(ENTRIES).where(ENTRIES.c.visit_id == visit_id).order_by(ENTRIES.c.seq)
    if until_seq is not None:
        query = query.where(ENTRIES.c.seq <= until_seq)
    return tuple(record_of(EntryKept, row) for row in keep.connection.execute(query))


def entries_of(keep: Keep, visit_id: str, *, until_seq: int | None = None) -> tuple[EntryKept, ...]:
    """Every entry of a visit in the order of its addition; those that do not count are marked.

    Parameters
    ----------
    keep : Keep
        A transaction.
    visit_id : str
        The visit.
    until_seq : int or None
        Only the first so many additions: the visit as it stood then.
    """
    return marked(drafts_of(keep, visit_id, until_seq=until_seq))


def marked(entries: Sequence[EntryKept]) -> tuple[EntryKept, ...]:
    """The same entries, those that do not count marked with what counts instead."""
    which = standing(entries)
    if not which.struck and not which.superseded:
        return tuple(entries)
    return tuple(
        entry if instead is None else replace(entry, is_void=True, instead=instead)
        for entry in entries
        for instead in [which.instead_of(entry.id)]
    )


def add_entries(keep: Keep, kept: VisitKept, drafts: Iterable[EntryDraft]) -> tuple[EntryKept, ...]:
    """Add entries to a visit that is held; none of their ids may stand in it yet.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    kept : VisitKept
        As `hold` gave it.
    drafts : iterable of EntryDraft
        What is added.
    """
    added = tuple(_kept(keep, kept.id, draft, seq) for seq, draft in enumerate(drafts, start=kept.version + 1))
    put(keep, ENTRIES, [_row(entry) for entry in added])
    return added


def _kept(keep: Keep, visit_id: str, draft: EntryDraft, seq: int) -> EntryKept:
    return EntryKept(
        id=draft.id,
        visit_id=visit_id,
        path=draft.path,
        body=draft.body,
        position=draft.position,
        at_utc=draft.at_utc,
        device=draft.device,
        by=draft.by,
        voids=draft.voids,
        received_utc=keep.now_utc,
        seq=seq,
    )


def _row(entry: EntryKept) -> dict[str, Any]:
    return {column.name: getattr(entry, column.name) for column in ENTRIES.c}


def settle(keep: Keep, kept: VisitKept, visit: Visit, n_added: int) -> VisitKept:
    """Write down what the list of visits shows, once entries were added: counts, day, technician, whether it is signed.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    kept : VisitKept
        As `hold` gave it.
    visit : Visit
        What the entries say together now.
    n_added : int
        How many were added.
    """
    n_entries = kept.version + n_added
    changed: dict[str, Any] = {
        "n_entries": n_entries,
        "version": n_entries,
        "is_signed": kept.is_signed and n_added == 0,
    }
    keep.connection.execute(update(VISITS).where(VISITS.c.id == kept.id).values(**changed, **_of_header(visit)))
    now = replace(kept, **changed, **_of_header(visit))
    let_find(keep, [_search_text(now, visit)])
    return now


def _search_text(kept: VisitKept, visit: Visit) -> SearchText:
    notes = [note.text for note in visit.notes if not note.is_void]
    return SearchText(
        kind="visit",
        about_id=kept.id,
        site_id=kept.site_id,
        title=f"{kept.system}, {kept.date.isoformat()}",
        place=f"{kept.site} · {kept.system}",
        body=" · ".join([kept.reason, kept.technician or "", *notes]),
    )


def map_valves(keep: Keep, visit_id: str, valve_ids: Mapping[str, str]) -> None:
    """Write down which valve of the register stands under which label; what was written before stays."""
    known = valve_ids_of(keep, visit_id)
    rows = [
        {"visit_id": visit_id, "label": label, "valve_id": valve_id}
        for label, valve_id in valve_ids.items()
        if label not in known
    ]
    put(keep, VALVES, rows)


def valve_ids_of(keep: Keep, visit_id: str) -> dict[str, str]:
    """Which valve of the register stands under which label of the visit."""
    query = select(VALVES.c.label, VALVES.c.valve_id).where(VALVES.c.visit_id == visit_id)
    return {row.label: row.valve_id for row in keep.connection.execute(query)}


def visits_of_valve(keep: Keep, valve_id: str) -> dict[str, str]:
    """Label of a valve in each visit that names it, by the visit's id."""
    query = select(VALVES.c.visit_id, VALVES.c.label).where(VALVES.c.valve_id == valve_id)
    return {row.visit_id: row.label for row in keep.connection.execute(query)}


def add_file(keep: Keep, visit_id: str, name: str, sha256: str, entry_ids: Sequence[str], by: str) -> None:
    """Write down that a file was taken in, and which entries stood in it."""
    row = {
        "id": new_id(keep.now_utc),
        "visit_id": visit_id,
        "name": name,
        "sha256": sha256,
        "entry_ids": list(entry_ids),
        "at_utc": keep.now_utc,
        "by": by,
    }
    put(keep, FILES, [row])


def has_file(keep: Keep, visit_id: str, sha256: str) -> bool:
    """Whether this very file was taken in before."""
    query = select(FILES.c.id).where(FILES.c.visit_id == visit_id, FILES.c.sha256 == sha256)
    return keep.connection.execute(query).first() is not None


def entries_of_last_file(keep: Keep, visit_id: str) -> tuple[str, Sequence[str]]:
    """Name of the file that was taken in last, and the ids of the entries in it."""
    query = select(FILES.c.name, FILES.c.entry_ids).where(FILES.c.visit_id == visit_id)
    row = keep.connection.execute(query.order_by(FILES.c.id.desc()).limit(1)).first()
    return ("", ()) if row is None else (row.name, row.entry_ids)


def count_entries(keep: Keep, visit_ids: Sequence[str]) -> int:
    """How many entries these visits have together."""
    return sum(
        int(keep.connection.execute(select(func.count()).where(ENTRIES.c.visit_id.in_(ids))).scalar_one())
        for ids in in_parts(visit_ids)
    )
