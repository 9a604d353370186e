"""Kept visits: list them, show one whole, begin one, add to it, strike out of it, take it out as a file."""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from typing import Any

from fifthwire.model.canonical import is_derived
from fifthwire.model.errors import Conflict, InputError, NotFound
from fifthwire.model.fields import describe
from fifthwire.model.kept.entry_words import entry_words
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import EntryDraft, EntryKept, PhotographKept, VisitKept, VisitWhole
from fifthwire.model.nearest import nearest
from fifthwire.model.visit import Visit
from fifthwire.register import issues, judgements, photographs, valves, visits
from fifthwire.register.entries import assemble, kind_of, list_order, unquoted, valve_key
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile import template, visit_to_json
from fifthwire.workflow.judging import judge_visit
from fifthwire.workflow.matching import match_valves
from fifthwire.workflow.permission import Deed, require
from fifthwire.workflow.signing import issue_report, sign_off
from fifthwire.workflow.visit_import import import_visit_file, preview_visit_file
from fifthwire.workflow.visit_start import new_visit

__all__ = [
    "add_entry",
    "import_visit_file",
    "issue_report",
    "judge_visit",
    "list_visits",
    "new_visit",
    "preview_visit_file",
    "sign_off",
    "visit_file",
    "visit_of",
    "void_entry",
]

TOP_PATHS = tuple(note.key for note in describe(Visit))
LONGEST_ID = 80
"""Characters of an entry's id that a device may give.  Our choice."""


def list_visits(
    register: Register, who: Person, *, site_id: str | None = None, system_id: str | None = None, page: int = 1
) -> Page[VisitKept]:
    """The visits at the person's sites, the latest first.

    Raises
    ------
    NotFound
        If the site is none of the person's.
    """
    require(who, "read", site_id=site_id)
    with register.reading() as keep:
        return visits.list_visits(keep, site_id=site_id, system_id=system_id, site_ids=who.site_ids, page=page)


def visit_of(register: Register, who: Person, visit_id: str) -> VisitWhole:
    """A visit with every entry, judgement, issue and photograph.

    Raises
    ------
    NotFound
        If there is no such visit at the person's sites.
    """
    with register.reading() as keep:
        kept = _allowed(keep, who, visit_id, "read")
        drafts = visits.drafts_of(keep, visit_id)
        put_together = assemble(drafts, name="the visit")
        return VisitWhole(
            kept=kept,
            visit=put_together.visit,
            entries=visits.marked(drafts),
            judgements=judgements.judgements_of(keep, visit_id),
            issues=issues.issues_of(keep, visit_id),
            photographs=_photographs(keep, visit_id, put_together.visit),
            valve_ids=visits.valve_ids_of(keep, visit_id),
            doubts=tuple(one.words for one in put_together.doubts),
        )


def _photographs(keep: Keep, visit_id: str, visit: Visit) -> tuple[PhotographKept, ...]:
    """Those that hang on the visit, and those that its file names and the register has."""
    hung = {one.sha256: one for one in photographs.photographs_about(keep, "visit", [visit_id])}
    for named in visit.photographs:
        if named.sha256 not in hung and not named.is_void:
            with suppress(NotFound):  # a file may come without its pictures
                hung[named.sha256] = photographs.photograph(keep, named.sha256)
    return tuple(hung.values())


def _allowed(keep: Keep, who: Person, visit_id: str, deed: Deed) -> VisitKept:
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
        If nothing may stand there, or what it says cannot be.
    Conflict
        If somebody has said something else there since; both are in the error.
    NotFound
        If there is no such visit at the person's sites.
    """
    _require_path(path, entry)
    with register.adding() as keep:
        _allowed(keep, who, visit_id, "add")
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
        _allowed(keep, who, visit_id, "add")
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


def visit_file(register: Register, who: Person, visit_id: str, syntax: str) -> bytes:
    """A visit as a file, which any register takes in again.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id : str
        The visit.
    syntax : str
        toml | json

    Raises
    ------
    InputError
        If the syntax is neither.
    NotFound
        If there is no such visit at the person's sites.
    """
    if syntax not in ("toml", "json"):
        raise InputError(f"{syntax} is no form of a visit file.", "Ask for toml or json.")
    with register.reading() as keep:
        _allowed(keep, who, visit_id, "read")
        visit = assemble(sorted(visits.drafts_of(keep, visit_id), key=list_order), name="the visit").visit
        named = replace(visit, header=replace(visit.header, id=visits.identity_kept(keep, visit_id)))
    return (visit_to_json(named) if syntax == "json" else template(named)).encode("utf-8")
