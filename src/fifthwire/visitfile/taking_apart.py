"""A visit into its entries: one addition for each of its tables, with an id that is the same on every device."""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any, Final

from fifthwire.model.canonical import canonical_json, derived_id
from fifthwire.model.fields import Kind, describe
from fifthwire.model.kept.visits import EntryDraft
from fifthwire.model.visit import VISIT_FORMAT, Visit, VisitHeader
from fifthwire.visitfile.entry_paths import FILE_PATH, READING, READINGS, kind_of, quoted
from fifthwire.visitfile.records import FORMAT_KEY
from fifthwire.visitfile.version import MAJOR
from fifthwire.visitfile.writing import table_of

STAMP: Final = ("entry", "device", "at", "by", "voids")
"""Keys by which a table says what an entry keeps beside its body."""


def identity_of(header: VisitHeader) -> str:
    """What stays the same however often a visit's file travels: its id, else where and when it was.

    >>> from datetime import date
    >>> identity_of(VisitHeader(id="v1", date=date(2026, 5, 12), site="A", system="B"))
    'v1'
    """
    return header.id or derived_id("visit", header.site, header.system, header.date.isoformat())


def take_apart(visit: Visit) -> tuple[EntryDraft, ...]:
    """The entries of a visit.

    An entry has the id that its table gives, else one worked out from the visit, its path, what it says, and which of
    several alike it is: the same file gives the same entries every time.

    Parameters
    ----------
    visit : Visit
        As read.

    Returns
    -------
    tuple[EntryDraft, ...]
        In the order of the file.
    """
    tree = table_of(visit)
    parts = _Parts(identity_of(visit.header), frozenset(_given_ids(tree)))
    for note in describe(Visit):
        table = tree.pop(note.key, None)
        if table is None:
            continue
        if note.kind is Kind.RECORD:
            parts.add(note.key, table)
        elif note.kind is Kind.TABLE:
            for name, row in table.items():
                parts.add(f"{note.key}/{quoted(name)}", row)
        elif note.key == "valves":
            _add_valves(table, parts)
        else:
            for position, row in enumerate(table):
                parts.add(note.key, row, position)
    if tree or visit.format_minor:
        parts.add(FILE_PATH, {FORMAT_KEY: f"{VISIT_FORMAT}/{MAJOR}.{visit.format_minor}", **tree})
    return tuple(parts.found)


class _Parts:
    """Entries gathered from one visit."""

    def __init__(self, identity: str, given: frozenset[str]) -> None:
        self.found: list[EntryDraft] = []
        self._identity = identity
        self._given = given
        self._ids: set[str] = set()
        self._alike: Counter[tuple[str, str]] = Counter()

    def add(self, path: str, table: Mapping[str, Any], position: int = 0) -> str:
        """Add a table, and give the id of its entry."""
        kind = kind_of(path)
        is_stamped = kind is not None and kind.is_stamped
        stamp = {key: table[key] for key in STAMP if is_stamped and key in table}
        body = {key: value for key, value in table.items() if key not in stamp}
        given = stamp.get("entry")
        if given is not None and given in self._ids:  # two tables of one id: the second is kept too
            body["entry"], given = given, None
        id_ = given or self._worked_out(path, canonical_json(table))
        self._ids.add(id_)
        self.found.append(
            EntryDraft(
                id=id_,
                path=path,
                body=body,
                position=position,
                at_utc=datetime.fromisoformat(stamp["at"]) if "at" in stamp else None,
                device=stamp.get("device"),
                by=stamp.get("by"),
                voids=stamp.get("voids"),
            )
        )
        return id_

    def _worked_out(self, path: str, says: str) -> str:
        """The id of the next table alike; one that another table of the file gives as its own is passed over."""
        while True:
            self._alike[path, says] += 1
            id_ = derived_id(self._identity, path, says, str(self._alike[path, says]))
            if id_ not in self._given:
                return id_


def _given_ids(tree: Any) -> Iterator[str]:
    """Every id that a table of the file gives."""
    rows = tree.values() if isinstance(tree, dict) else tree if isinstance(tree, list) else ()
    if isinstance(tree, dict) and isinstance(tree.get("entry"), str):
        yield tree["entry"]
    for inner in rows:
        if isinstance(inner, dict | list):
            yield from _given_ids(inner)


def _add_valves(tables: list[dict[str, Any]], parts: _Parts) -> None:
    labels: Counter[str] = Counter()
    for position, table in enumerate(tables):
        label = table["id"]
        labels[label] += 1
        nth = labels[label]
        key = quoted(label) if nth == 1 else quoted(f"{label}#{nth}")
        _add_valve(f"valves/{key}", table, position, parts)


def _add_valve(path: str, table: dict[str, Any], position: int, parts: _Parts) -> None:
    inner = {key: value for key, value in table.items() if _has_path(path, key)}
    parts.add(path, {key: value for key, value in table.items() if key not in inner}, position)
    for key, value in inner.items():
        if key == READINGS:
            _add_readings(f"{path}/{READINGS}", value, parts)
        elif isinstance(value, list):
            for at, row in enumerate(value):
                _add_measurement(f"{path}/{key}", row, at, parts)
        else:
            parts.add(f"{path}/{key}", value)


def _add_measurement(path: str, table: dict[str, Any], position: int, parts: _Parts) -> None:
    own = {key: value for key, value in table.items() if key != READINGS}
    id_ = parts.add(path, own, position)
    _add_readings(f"{path}/{quoted(id_)}/{READINGS}", table.get(READINGS, ()), parts)


def _add_readings(path: str, rows: Any, parts: _Parts) -> None:
    for position, row in enumerate(rows):
        parts.add(path, {READING: row}, position)


def _has_path(path: str, key: str) -> bool:
    return kind_of(f"{path}/{key}") is not None
