"""Entries into the visit that they say together, whatever the order in which they came.

Two devices may each add what is right alone and cannot stand together (a spec struck out here, a valve that names it
there). Such an entry is left out, or the one key of it, and a doubt says so: a visit is always readable.
"""

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, Final, Protocol

from fifthwire.model.assessment import Reason
from fifthwire.model.canonical import is_derived
from fifthwire.model.errors import Problem, VisitFileError
from fifthwire.model.fields import Kind, describe
from fifthwire.model.record import record
from fifthwire.model.visit import VISIT_FORMAT, Visit
from fifthwire.visitfile.entry_paths import FILE_PATH, READING, READINGS, kind_of, quoted, unquoted, valve_key
from fifthwire.visitfile.entry_sets import AnEntry, Standing, list_order, standing
from fifthwire.visitfile.reading import read_visit
from fifthwire.visitfile.records import FORMAT_KEY
from fifthwire.visitfile.version import MAJOR

NAMED_KEYS: Final = ("spec", "meter", "curve")
"""Keys that name another table: without it the key is left out, and the rest of the table still counts."""


class AWholeEntry(AnEntry, Protocol):
    """An entry with what it says."""

    @property
    def body(self) -> Mapping[str, Any]: ...
    @property
    def device(self) -> str | None: ...
    @property
    def by(self) -> str | None: ...


@record(kw_only=False)
class Doubt:
    """An addition, or a key of one, that cannot stand beside the others."""

    entry_id: str
    path: str
    key: str
    """The key that is left out; empty where the whole addition is."""
    message: str
    hint: str = ""

    @property
    def words(self) -> str:
        """What it is and what was made of it, in one line."""
        made = f"{self.key} is left out" if self.key else "this addition is not used"
        return f"{self.path}: {self.message}; {made}"


@record(kw_only=False)
class Assembled:
    """A visit put together."""

    visit: Visit
    warnings: tuple[Reason, ...]
    """Of its reading, as of any visit."""
    doubts: tuple[Doubt, ...]
    """What cannot stand together, and what was made of it."""
    standing: Standing


def put_together(entries: Iterable[AWholeEntry]) -> Visit:
    """The visit that a set of entries says.

    Raises
    ------
    VisitFileError
        If no entry says where and when the visit was.
    """
    return assemble(entries).visit


def assemble(entries: Iterable[AWholeEntry], *, name: str = "the visit") -> Assembled:
    """The visit that a set of entries says, and what of it cannot stand.

    Parameters
    ----------
    entries : iterable
        In any order.
    name : str
        What messages call it.

    Raises
    ------
    VisitFileError
        If no entry says where and when the visit was.
    """
    held = list(entries)
    which = standing(held)
    builder = _Builder(held, which)
    doubts: list[Doubt] = []
    while True:
        tree = builder.tree()
        try:
            read = read_visit(json.dumps(tree, ensure_ascii=False), name=name, syntax="json")
        except VisitFileError as err:
            told = [one for one in map(builder.leave_out, err.problems) if one is not None]
            if not told:
                raise
            doubts += told
        else:
            return Assembled(read.visit, read.warnings, tuple(doubts), which)


class _Builder:
    """The tree of a visit file out of entries; what is left out stays left out."""

    def __init__(self, entries: list[Any], which: Standing) -> None:
        self._which = which
        self._targets = {one.voids for one in entries if one.voids}
        self._unnamed = {one.id for one in entries if not _says_its_id(one.path)}
        self._left_out: set[Any] = set()
        self._keys_left_out: set[Any] = set()
        self._by_path: dict[str, list[Any]] = defaultdict(list)
        self._sources: dict[tuple[str, ...], Any] = {}
        for one in sorted(entries, key=list_order):
            if one.id not in which.superseded:
                self._by_path[one.path].append(one)
        self._valve_keys = list(dict.fromkeys(valve_key(path) for path in self._by_path if valve_key(path)))

    def tree(self) -> dict[str, Any]:
        """The tree of the entries that are not left out."""
        self._sources.clear()
        tree: dict[str, Any] = {FORMAT_KEY: f"{VISIT_FORMAT}/{MAJOR}"}
        for one in self._counting(FILE_PATH):
            tree.update(one.body)
        for note in describe(Visit):
            if note.key == "valves":
                self._put(tree, note.key, self._valves())
            elif note.kind is Kind.RECORD:
                for one in self._single(note.key, keep_struck=note.required):
                    tree[note.key] = self._row(one, (note.key,))
            elif note.kind is Kind.TABLE:
                self._put(tree, note.key, self._named(note.key))
            else:
                self._put(tree, note.key, self._rows(note.key, (note.key,)))
        return tree

    def _put(self, table: dict[str, Any], key: str, value: Any) -> None:
        if value:
            table[key] = value

    def _counting(self, path: str) -> list[Any]:
        held = self._by_path.get(path, ())
        return [one for one in held if one.id not in self._left_out and one.id not in self._which.struck]

    def _single(self, path: str, *, keep_struck: bool = False) -> list[Any]:
        """The entry of a single table; where all are struck out and it must be there, the last of them."""
        counting = self._counting(path)
        if counting or not keep_struck:
            return counting[-1:]
        return [one for one in self._by_path.get(path, ()) if one.id not in self._left_out][-1:]

    def _named(self, key: str) -> dict[str, Any]:
        paths = [path for path in self._by_path if path.startswith(f"{key}/")]
        ordered = sorted(paths, key=lambda path: list_order(self._by_path[path][0]))
        return {
            unquoted(path.partition("/")[2]): self._row(one, (key, unquoted(path.partition("/")[2])))
            for path in ordered
            for one in self._single(path)
        }

    def _rows(self, path: str, steps: tuple[Any, ...]) -> list[Any]:
        """Rows of a list; struck ones too where the row itself can say so."""
        kind = kind_of(path)
        if kind is None or not kind.is_stamped:
            held = self._counting(path)
        else:
            held = [one for one in self._by_path.get(path, ()) if one.id not in self._left_out]
        return [self._row(one, (*steps, at)) for at, one in enumerate(held)]

    def _row(self, one: Any, steps: tuple[Any, ...]) -> Any:
        self._sources[tuple(map(str, steps))] = one
        kind = kind_of(one.path)
        if kind is not None and kind.record is None and READING in one.body and one.path != FILE_PATH:
            return one.body[READING]
        row = {key: value for key, value in one.body.items() if (one.id, key) not in self._keys_left_out}
        return {**self._stamp(one), **row} if kind is not None and kind.is_stamped else row

    def _stamp(self, one: Any) -> dict[str, Any]:
        is_id_needed = not is_derived(one.id) or one.id in self._targets
        said = {
            "entry": one.id if is_id_needed else None,
            "device": one.device,
            "at": None if one.at_utc is None else _moment(one.at_utc),
            "by": one.by,
            "voids": None if one.voids in self._unnamed else one.voids,  # what it strikes out stands in no file
        }
        return {key: value for key, value in said.items() if value is not None}

    def _valves(self) -> list[Any]:
        first = {key: self._by_path.get(f"valves/{key}", []) for key in self._valve_keys}
        keys = sorted((key for key, held in first.items() if held), key=lambda key: list_order(first[key][0]))
        tables: list[Any] = []
        for key in keys:
            for one in self._single(f"valves/{key}", keep_struck=True):
                tables.append(self._valve(str(key), one, ("valves", len(tables))))
        return tables

    def _valve(self, key: str, one: Any, steps: tuple[Any, ...]) -> dict[str, Any]:
        path = f"valves/{key}"
        table: dict[str, Any] = self._row(one, steps)
        self._put(table, READINGS, self._rows(f"{path}/{READINGS}", (*steps, READINGS)))
        self._put(table, "measurements", self._measurements(f"{path}/measurements", steps))
        for inner in ("inspection", "movement", "board"):
            for single in self._single(f"{path}/{inner}"):
                table[inner] = self._row(single, (*steps, inner))
        return table

    def _measurements(self, path: str, steps: tuple[Any, ...]) -> list[Any]:
        held = [one for one in self._by_path.get(path, ()) if one.id not in self._left_out]
        made = []
        for at, one in enumerate(held):
            here = (*steps, "measurements", at)
            table = self._row(one, here)
            self._put(table, READINGS, self._rows(f"{path}/{quoted(one.id)}/{READINGS}", (*here, READINGS)))
            made.append(table)
        return made

    def leave_out(self, problem: Problem) -> Doubt | None:
        """Leave out the entry, or the key of it, that a problem names; None where that was done before."""
        steps = _steps(problem.place)
        for end in range(len(steps), 0, -1):
            one = self._sources.get(steps[:end])
            if one is None:
                continue
            key = steps[end] if len(steps) > end and steps[end] in NAMED_KEYS else ""
            left_out = self._keys_left_out if key else self._left_out
            what: Any = (one.id, key) if key else one.id
            if what in left_out:
                return None
            left_out.add(what)
            return Doubt(one.id, one.path, key, problem.message, problem.hint)
        return None


def _says_its_id(path: str) -> bool:
    """Whether a table at this path can say its id in a file; a reading, a spec or a look cannot."""
    kind = kind_of(path)
    return kind is not None and kind.is_stamped


def _steps(pointer: str) -> tuple[str, ...]:
    return tuple(part.replace("~1", "/").replace("~0", "~") for part in pointer.split("/")[1:])


def _moment(at_utc: datetime) -> str:
    return at_utc.replace(tzinfo=None).isoformat() + "Z"
