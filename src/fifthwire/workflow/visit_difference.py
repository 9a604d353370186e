"""What a visit file adds to the visit that is kept, and what of an earlier file of it is gone."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from fifthwire.model.canonical import canonical_json, derived_id, is_derived
from fifthwire.model.kept.visits import EntryDraft, EntryKept
from fifthwire.model.record import record
from fifthwire.visitfile.entry_paths import kind_of, unquoted, valve_key
from fifthwire.visitfile.entry_sets import standing
from fifthwire.visitfile.entry_words import entry_words

HEADER = "visit"


@record
class EarlierFile:
    """The file of a visit that was taken in last."""

    name: str = ""
    entry_ids: frozenset[str] = frozenset()


@record
class Difference:
    """Of a file against what is kept."""

    added: tuple[EntryDraft, ...]
    gone: tuple[EntryKept, ...]
    revived: tuple[EntryKept, ...]
    """Strikes of an earlier file that are struck out in turn: what they struck stands in the file again."""
    same: tuple[str, ...]
    """Ids of kept entries that stand in the file as they are."""

    @property
    def is_nothing(self) -> bool:
        """Whether the file changes nothing."""
        return not self.added and not self.gone and not self.revived


def difference(
    drafts: Sequence[EntryDraft], kept: Sequence[EntryKept], earlier: EarlierFile, identity: str
) -> Difference:
    """What a file adds and what it no longer has.

    A row is known by its id, else by what it says. One that says something else under the id of a kept one is an
    addition that strikes that out: nothing kept is edited.

    Parameters
    ----------
    drafts : sequence of EntryDraft
        The file, taken apart.
    kept : sequence of EntryKept
        Every entry of the visit.
    earlier : EarlierFile
        The file before this one: only what stood in it can be gone.
    identity : str
        Of the visit.
    """
    by_id = {one.id: one for one in kept}
    by_content = _live_by_content(kept, {draft.id for draft in drafts})
    struck_in_file = standing(drafts).struck
    added: list[EntryDraft] = []
    same: set[str] = set()
    revived: dict[str, EntryKept] = {}
    for draft in drafts:
        held = by_id.get(draft.id)
        if held is None and is_derived(draft.id):
            held = _taken(by_content, draft, identity)
        if held is None:
            added.append(draft)
        elif _says(held.path, held.body, identity) != _says(draft.path, draft.body, identity):
            same.add(held.id)
            anew = _instead_of(draft, held, identity)
            added += [] if anew.id in by_id else [anew]
        else:
            same.add(held.id)
            strike = _strike_of_a_file(held, by_id)
            if strike is not None and held.id not in earlier.entry_ids and draft.id not in struck_in_file:
                revived[strike.id] = strike
    gone = tuple(by_id[id_] for id_ in sorted(earlier.entry_ids - same) if id_ in by_id and not by_id[id_].is_void)
    return Difference(added=tuple(added), gone=gone, revived=tuple(revived.values()), same=tuple(sorted(same)))


def _says(path: str, body: Mapping[str, object], identity: str) -> tuple[str, str]:
    """What an entry says; a header that gives the visit's own identity as its id says nothing new by that."""
    if path == HEADER and body.get("id") == identity:
        body = {key: value for key, value in body.items() if key != "id"}
    return path, canonical_json(dict(body))


def _live_by_content(kept: Sequence[EntryKept], ids: set[str]) -> dict[tuple[str, str], list[EntryKept]]:
    found: dict[tuple[str, str], list[EntryKept]] = defaultdict(list)
    for one in kept:
        if not one.is_void and one.id not in ids:
            found[one.path, canonical_json(dict(one.body))].append(one)
    return found


def _taken(by_content: dict[tuple[str, str], list[EntryKept]], draft: EntryDraft, identity: str) -> EntryKept | None:
    held = by_content.get((draft.path, canonical_json(dict(draft.body))))
    if held:
        return held.pop(0)
    if draft.path != HEADER:
        return None
    return next(
        (
            rows.pop(0)
            for (path, _), rows in by_content.items()
            if path == HEADER and rows and _says(path, rows[0].body, identity) == _says(path, draft.body, identity)
        ),
        None,
    )


def _instead_of(draft: EntryDraft, held: EntryKept, identity: str) -> EntryDraft:
    id_ = derived_id(identity, draft.path, canonical_json(dict(draft.body)), "instead of", held.id)
    return replace(draft, id=id_, voids=held.id)


def _strike_of_a_file(held: EntryKept, by_id: Mapping[str, EntryKept]) -> EntryKept | None:
    """The strike that an earlier file made by not having the entry any more."""
    strike = by_id.get(held.instead or "")
    is_of_file = strike is not None and strike.voids == held.id and is_derived(strike.id) and strike.path == "notes"
    return strike if is_of_file else None


def strikes(
    found: Difference, identity: str, name: str, by: str, now_utc: datetime, position: int
) -> tuple[EntryDraft, ...]:
    """Additions that strike out what is gone, and those earlier strikes whose entry stands in the file again.

    Parameters
    ----------
    found : Difference
        Of the file.
    identity, name : str
        Of the visit, and of the file.
    by : str
        Who takes the file in.
    now_utc : datetime
        When.
    position : int
        Behind the notes that there are.
    """
    texts = [(one, f"Not in {name} any more: {entry_words(one.path, one.body)}") for one in found.gone]
    texts += [(one, f"Stands in {name} again.") for one in found.revived]
    return tuple(
        EntryDraft(
            id=derived_id(identity, "struck", one.id, text, now_utc.isoformat()),
            path="notes",
            body={**_about(one), "text": text},
            position=position + at,
            at_utc=now_utc,
            by=by,
            voids=one.id,
        )
        for at, (one, text) in enumerate(texts)
    )


def _about(entry: EntryKept) -> dict[str, str]:
    key = valve_key(entry.path)
    return {"about": unquoted(key)} if key else {}


def timed(draft: EntryDraft, now_utc: datetime) -> EntryDraft:
    """A single table of a later file is of the moment it is taken in: it counts in place of the earlier ones."""
    kind = kind_of(draft.path)
    return replace(draft, at_utc=now_utc) if kind is not None and kind.is_single and draft.at_utc is None else draft
