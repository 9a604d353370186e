"""Add to a kept visit and strike out of it: what stood there before stays, and is shown struck."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from fifthwire.model.canonical import is_derived
from fifthwire.model.errors import Conflict, InputError, NotFound
from fifthwire.model.fields import describe
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import EntryDraft, EntryKept, VisitKept
from fifthwire.model.nearest import nearest
from fifthwire.model.visit import Visit
from fifthwire.register import valves, visits
from fifthwire.register.entries import assemble, kind_of, unquoted, valve_key
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile.entry_words import entry_words
from fifthwire.workflow.matching import match_valves
from fifthwire.workflow.permission import Deed, require

TOP_PATHS = tuple(note.key for note in describe(Visit))
LONGEST_ID = 80
"""Characters of an entry's id that a device may give.  Our choice."""


def allowed_visit(keep: Keep, who: Person, visit_id: str, deed: Deed) -> VisitKept:
    """A visit that the person may do something to.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    NotAllowed
        If their role may not.
    """
    kept = visits.visit(keep, visit_id)
    require(who, deed, site_id=kept.site_id)
    return kept


def add_entry(
    register: Register,
    who: Person,
    visit_id: str,
    path: str,
    body: Mapping[str, Any],
    *,
    entry: str | None = None,
    expected_version: int | None = None,
    at_utc: datetime | None = None,
    device: str | None = None,
) -> EntryKept:
    """Add one table to a visit. What stood there before stays, and is shown struck.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor; the entry bears their name.
    visit_id : str
        The visit.
    path : str
        Where it stands: `valves/KEY/readings`, `valves/KEY/movement`, `notes` ...
    body : mapping
        The keys of the table as in a visit file; of a reading `{"reading": [wire, wire, ohms or "open"]}`.
    entry : str, optional
        Its id, where the device gave one: adding the same entry again changes nothing.
    expected_version : int, optional
        Version of the visit that the person saw: what was said at the same place since is a conflict.
    at_utc : datetime, optional
        When it was written, where that was earlier.
    device : str, optional
        What it was written on.

    Raises
    ------
    InputError
        If nothing may stand there, what it says cannot be, or the visit has no such valve.
    Conflict
        If somebody has said something else there since; both are in the error.
    NotFound
        If there is no such visit at the person's sites.
    """
    _require_path(path, entry)
    with register.adding() as keep:
        allowed_visit(keep, who, visit_id, "add")
        kept = visits.hold(keep, visit_id)
        held = visits.drafts_of(keep, visit_id)
        draft = EntryDraft(
            id=entry or new_id(keep.now_utc),
            path=path,
            body=dict(body),
            position=_position(held, path),
            at_utc=at_utc or keep.now_utc,
            device=device,
            by=who.name,
        )
        again = next((one for one in held if one.id == draft.id), None)
        if again is not None:
            return _same_again(again, draft)
        if entry is None:
            _require_valve(held, path)
        _require_unchanged(held, draft, expected_version)
        return _added(keep, who, kept, held, draft)


def _require_path(path: str, entry: str | None) -> None:
    if kind_of(path) is None or path == "file":
        near = nearest(
            path.split("/")[0], ("visit", "system", "valves", "work", "notes", "snapshot", "meters", "specs")
        )
        raise InputError(f"{path[:80]} is no place in a visit.", f"Did you mean {near}?" if near else "")
    if entry is not None and (not 0 < len(entry) <= LONGEST_ID or not entry.isprintable() or is_derived(entry)):
        raise InputError(f"{entry[:20]!r} cannot be the id of an entry.", f"Give 1 to {LONGEST_ID} characters.")


def _require_valve(held: tuple[EntryKept, ...], path: str) -> None:
    """Refuse what a person says of a valve that the visit does not have: it would be kept, and count nowhere.

    A device that gives its entries ids may send them in any order, the valve last.
    """
    key = valve_key(path)
    labels = {unquoted(str(valve_key(one.path))) for one in held if _is_valve(one.path)}
    if key is None or _is_valve(path) or unquoted(key) in labels:
        return
    near = nearest(unquoted(key), sorted(labels))
    raise InputError(
        f"The visit has no valve {unquoted(key)[:80]}. Nothing was kept.",
        f"Did you mean {near}?" if near else f"Add the valve first, at valves/{key[:80]}.",
    )


def _position(held: tuple[EntryKept, ...], path: str) -> int:
    """Where a single table stood before; else behind the rows of its list."""
    there = [one for one in held if one.path == path]
    kind = kind_of(path)
    if kind is not None and kind.is_single and there:
        return min(one.position for one in there)
    siblings = there or ([one for one in held if _is_valve(one.path)] if _is_valve(path) else [])
    return max((one.position for one in siblings), default=-1) + 1


def _is_valve(path: str) -> bool:
    return path.count("/") == 1 and valve_key(path) is not None


def _same_again(again: EntryKept, draft: EntryDraft) -> EntryKept:
    if (again.path, again.body) == (draft.path, draft.body):
        return again
    raise Conflict(
        "An entry of that id says something else already.",
        "It was not written over. Give what you add an id of its own.",
        theirs=again,
        yours=draft,
    )


def _require_unchanged(held: tuple[EntryKept, ...], draft: EntryDraft, expected_version: int | None) -> None:
    kind = kind_of(draft.path)
    if expected_version is None or kind is None or not kind.is_single:
        return
    since = [one for one in held if one.path == draft.path and one.seq > expected_version]
    if since and since[-1].body != draft.body:
        raise Conflict(
            f"{since[-1].by or 'Somebody'} has written the same thing since you opened it: "
            f"{entry_words(since[-1].path, since[-1].body)}.",
            "Yours was not written. Both are shown: take what is right from each and save again.",
            theirs=since[-1],
            yours=draft,
        )


def _added(keep: Keep, who: Person, kept: VisitKept, held: tuple[EntryKept, ...], draft: EntryDraft) -> EntryKept:
    """Add an entry that can stand beside the others."""
    put_together = assemble((*held, draft), name="the visit")
    wrong = next((one for one in put_together.doubts if one.entry_id == draft.id), None)
    if wrong is not None:
        raise InputError(f"{entry_words(draft.path, draft.body)}: {wrong.message}", wrong.hint)
    (added,) = visits.add_entries(keep, kept, [draft])
    visits.settle(keep, kept, put_together.visit, 1)
    _follow(keep, kept, put_together.visit)
    return next(one for one in visits.marked((*held, added)) if one.id == added.id)


def _follow(keep: Keep, kept: VisitKept, visit: Visit) -> None:
    """Know which valve of the register a valve is that was added on the page; one that is new stays without."""
    known = visits.valve_ids_of(keep, kept.id)
    if any(valve.id not in known for valve in visit.valves):
        there = valves.valves_of(keep, kept.system_id)
        visits.map_valves(keep, kept.id, match_valves(visit.valves, there, {}, known).known)


def void_entry(register: Register, who: Person, visit_id: str, entry_id: str, why: str) -> EntryKept:
    """Strike an entry out: it is kept and shown struck, with the reason, and not used.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id, entry_id : str
        The visit and the entry.
    why : str
        The reason, which stands as a note in the visit.

    Returns
    -------
    EntryKept
        The note that strikes it out.

    Raises
    ------
    InputError
        If there is no reason, or the entry is struck out already.
    NotFound
        If there is no such visit at the person's sites, or no such entry in it.
    """
    if not why.strip():
        raise InputError("Striking out needs a reason.", "Say what is wrong with it.")
    with register.adding() as keep:
        allowed_visit(keep, who, visit_id, "add")
        kept = visits.hold(keep, visit_id)
        held = visits.entries_of(keep, visit_id)
        struck = next((one for one in held if one.id == entry_id), None)
        if struck is None:
            raise NotFound(f"The visit has no entry {entry_id}.", "Look at the list of its entries.")
        if struck.is_void:
            raise InputError("It does not count any more already.", "Nothing was changed.")
        key = valve_key(struck.path)
        draft = EntryDraft(
            id=new_id(keep.now_utc),
            path="notes",
            body={**({"about": unquoted(key)} if key else {}), "text": why.strip()},
            position=_position(held, "notes"),
            at_utc=keep.now_utc,
            by=who.name,
            voids=entry_id,
        )
        return _added(keep, who, kept, held, draft)
