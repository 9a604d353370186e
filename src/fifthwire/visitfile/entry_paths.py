"""Where an entry of a visit stands: `visit`, `specs/NAME`, `valves/KEY`, `valves/KEY/readings`, `work` ...

A valve's KEY is its label when it was first added, and an entry whose table holds a list of its own gives its id as
KEY of that list, so that two devices that add to the same thing write the same path.
"""

from functools import lru_cache
from typing import Final

from fifthwire.model.fields import Entry, FieldNote, Kind, describe
from fifthwire.model.record import record
from fifthwire.model.valve import Measurement, Valve
from fifthwire.model.visit import Visit

FILE_PATH: Final = "file"
"""What a file of a later version says outside the tables known here, and that version."""
READING: Final = "reading"
"""Key under which the body of an entry of `.../readings` holds its row: wire, wire, ohms or "open"."""
READINGS: Final = "readings"
PATHS_REMEMBERED: Final = 4096
"""A visit has some hundred of them.  Our choice."""
_EMPTY: Final = "%e"
"""A name without a character."""


@record(kw_only=False)
class PathKind:
    """What may stand at a path."""

    record: type | None
    """Of the table; None for a row of readings, and for `file`."""
    is_single: bool
    """One table, of which the latest addition counts; else a row of a list."""

    @property
    def is_stamped(self) -> bool:
        """Whether the table itself says its id, device, time, person, and what it strikes out."""
        return self.record is not None and issubclass(self.record, Entry)


def quoted(name: str) -> str:
    """A name as one step of a path.

    >>> quoted("IU1/gas 100%"), unquoted("IU1%2Fgas 100%25")
    ('IU1%2Fgas 100%25', 'IU1/gas 100%')
    """
    return name.replace("%", "%25").replace("/", "%2F") or _EMPTY


def unquoted(step: str) -> str:
    """The name again."""
    return "" if step == _EMPTY else step.replace("%2F", "/").replace("%25", "%")


@lru_cache(maxsize=PATHS_REMEMBERED)
def kind_of(path: str) -> PathKind | None:
    """What may stand at a path; None where nothing may.

    >>> kind_of("valves/OU1-main/movement").is_single, kind_of("work").is_single, kind_of("works")
    (True, False, None)
    """
    steps = path.split("/")
    if not all(steps):
        return None
    if steps == [FILE_PATH]:
        return PathKind(None, True)
    note = _notes(Visit).get(steps[0])
    if note is None:
        return None
    if steps[0] == "valves":
        return _kind_in_valve(steps[1:])
    if note.kind is Kind.TABLE:
        return PathKind(note.record, True) if len(steps) == 2 else None
    return PathKind(note.record, note.kind is Kind.RECORD) if len(steps) == 1 else None


def _kind_in_valve(steps: list[str]) -> PathKind | None:
    match steps:
        case [_]:
            return PathKind(Valve, True)
        case [_, "readings"] | [_, "measurements", _, "readings"]:
            return PathKind(None, False)
        case [_, "measurements"]:
            return PathKind(Measurement, False)
        case [_, key]:
            note = _notes(Valve).get(key)
            return PathKind(note.record, True) if note is not None and note.kind is Kind.RECORD else None
    return None


def _notes(of: type) -> dict[str, FieldNote]:
    return {note.key: note for note in describe(of)}


def valve_key(path: str) -> str | None:
    """The KEY of the valve that a path leads into; None where it leads elsewhere."""
    steps = path.split("/")
    return steps[1] if len(steps) > 1 and steps[0] == "valves" else None
