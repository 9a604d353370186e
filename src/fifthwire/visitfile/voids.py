"""Entries that strike out others: a correction is a new entry, and the old one is kept, shown struck and not used."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from fifthwire.model.fields import Entry, Kind, describe
from fifthwire.model.visit import Visit
from fifthwire.visitfile.places import Steps
from fifthwire.visitfile.problems import Problems


def mark_voids(visit: Visit, problems: Problems) -> Visit:
    """The visit with every entry marked that a standing entry strikes out."""
    entries = list(_entries((), visit))
    _warn_of_twice(entries, problems)
    if not any(entry.voids for _, entry in entries):
        return visit
    void = void_ids([(entry.entry, entry.voids) for _, entry in entries])
    known = {entry.entry for _, entry in entries if entry.entry}
    for steps, entry in entries:
        if entry.voids and entry.voids not in known:
            problems.warn((*steps, "voids"), "visit.voids-unknown", entry=entry.voids)
    marked: Visit = _marked(visit, void)
    return marked


def _warn_of_twice(entries: list[tuple[Steps, Entry]], problems: Problems) -> None:
    seen: set[str] = set()
    for steps, entry in entries:
        if entry.entry and entry.entry in seen:
            problems.warn((*steps, "entry"), "visit.entry-twice", entry=entry.entry)
        elif entry.entry:
            seen.add(entry.entry)


def void_ids(entries: Sequence[tuple[str | None, str | None]]) -> frozenset[str]:
    """Ids struck out by an entry that itself stands; where entries strike out each other in a ring, all are void.

    Parameters
    ----------
    entries : sequence of (str or None, str or None)
        Id of each entry, and id of the entry that it strikes out.

    Examples
    --------
    >>> sorted(void_ids([("a", None), ("b", "a"), ("c", "b")]))
    ['b']
    """
    targets = {entry: voids for entry, voids in entries if entry and voids}
    waiting: dict[str, int] = {}
    for entry, voids in entries:
        if voids and entry:
            waiting[voids] = waiting.get(voids, 0) + 1
    void = {voids for entry, voids in entries if voids and not entry}
    ready = [name for name in targets if not waiting.get(name)]
    decided: set[str] = set()
    while ready:
        name = ready.pop()
        decided.add(name)
        target = targets.get(name)
        if target is None:
            continue
        if name not in void:
            void.add(target)
        waiting[target] -= 1
        if waiting[target] == 0:
            ready.append(target)
    return frozenset(void | {name for name in waiting if name not in decided and name in targets})


def _entries(steps: Steps, record: Any) -> Iterator[tuple[Steps, Entry]]:
    if isinstance(record, Entry):
        yield steps, record
    for note in describe(type(record)):
        if note.kind is Kind.LIST:
            for index, row in enumerate(getattr(record, note.name)):
                yield from _entries((*steps, note.key, index), row)
        elif note.kind is Kind.RECORD and (one := getattr(record, note.name)) is not None:
            yield from _entries((*steps, note.key), one)


def _marked(record: Any, void: frozenset[str]) -> Any:
    changes: dict[str, Any] = {}
    for note in describe(type(record)):
        held = getattr(record, note.name)
        if note.kind is Kind.LIST and held:
            changes[note.name] = tuple(_marked(row, void) for row in held)
        elif note.kind is Kind.RECORD and isinstance(held, Entry):
            changes[note.name] = _marked(held, void)
    if isinstance(record, Entry) and record.entry in void:
        changes["is_void"] = True
    return replace(record, **changes) if changes else record
