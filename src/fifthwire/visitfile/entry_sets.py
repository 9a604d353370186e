"""Sets of entries: which of them count, and how two sets become one whatever the order."""

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Final, Protocol, TypeVar

from fifthwire.model.canonical import canonical_json
from fifthwire.model.kept.visits import EntryDraft
from fifthwire.model.record import record
from fifthwire.visitfile.entry_paths import kind_of
from fifthwire.visitfile.voids import void_ids

EARLIEST_UTC: Final = datetime.min.replace(tzinfo=UTC)
"""Of an entry that does not say when it was added: before any that does."""


class AnEntry(Protocol):
    """An entry, kept or not yet."""

    @property
    def id(self) -> str: ...
    @property
    def path(self) -> str: ...
    @property
    def at_utc(self) -> datetime | None: ...
    @property
    def position(self) -> int: ...
    @property
    def voids(self) -> str | None: ...


_E = TypeVar("_E", bound=AnEntry)


@record(kw_only=False)
class Standing:
    """Which entries of a set count."""

    struck: Mapping[str, str]
    """Id of each entry that is struck out, and of one that strikes it out."""
    superseded: Mapping[str, str]
    """Id of each entry whose table a later one says anew, and of the one that counts."""

    def instead_of(self, id_: str) -> str | None:
        """Id of what strikes an entry out or counts in its place; None where the entry counts."""
        return self.struck.get(id_) or self.superseded.get(id_)


def standing(entries: Iterable[AnEntry]) -> Standing:
    """Which entries of a set count: none that is struck out, and of a single table only the latest."""
    held = sorted(entries, key=addition_order)
    pairs = [(one.id, one.voids) for one in held if one.voids]
    void = void_ids(pairs) if pairs else frozenset()
    by_target = {voids: id_ for id_, voids in sorted(pairs, reverse=True) if id_ not in void}
    struck = {id_: by_target.get(id_, id_) for id_ in void}
    latest: dict[str, str] = {}
    superseded: dict[str, str] = {}
    singles = [one for one in held if one.id not in void and _is_single(one.path)]
    for one in singles:
        latest[one.path] = one.id
    for one in singles:
        if latest[one.path] != one.id:
            superseded[one.id] = latest[one.path]
    return Standing(struck, superseded)


def addition_order(entry: AnEntry) -> tuple[datetime, str]:
    """When an entry was added, then its id: the same on every device."""
    return (entry.at_utc or EARLIEST_UTC, entry.id)


def list_order(entry: AnEntry) -> tuple[int, datetime, str]:
    """Where an entry stands in its list."""
    return (entry.position, *addition_order(entry))


def _is_single(path: str) -> bool:
    kind = kind_of(path)
    return kind is not None and kind.is_single


def merged(*sets: Iterable[EntryDraft]) -> tuple[EntryDraft, ...]:
    """The union of sets of entries, by id.

    Entries are added, never edited, so two of one id say the same; should they not, both devices take the same one.
    """
    held: dict[str, EntryDraft] = {}
    for entries in sets:
        for entry in entries:
            other = held.get(entry.id)
            held[entry.id] = entry if other is None or _spelled(entry) < _spelled(other) else other
    return tuple(sorted(held.values(), key=lambda one: one.id))


def _spelled(entry: EntryDraft) -> tuple[str, ...]:
    at = "" if entry.at_utc is None else entry.at_utc.isoformat()
    said = canonical_json(dict(entry.body))
    return (entry.path, at, said, f"{entry.position:09d}", entry.device or "", entry.by or "", entry.voids or "")
