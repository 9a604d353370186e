"""A visit as JSON that reads back equal: the same keys, bare numbers in the units of the format."""

import json
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, time
from math import inf, isinf, nextafter
from typing import Any, Final

from fifthwire.model.fields import FieldNote, Kind, describe
from fifthwire.model.running import Opening
from fifthwire.model.valve import Insulation, PairReading
from fifthwire.model.visit import VISIT_FORMAT, Accuracy, Tolerance, Visit
from fifthwire.visitfile.records import FORMAT_KEY
from fifthwire.visitfile.version import MAJOR


def visit_to_json(visit: Visit) -> str:
    """The text of a `*.visit.json` file.

    Parameters
    ----------
    visit : Visit
        Any visit; keys of a later version that it carries are written back.

    Returns
    -------
    str
        JSON that `read_visit` reads into an equal visit.
    """
    minor = f".{visit.format_minor}" if visit.format_minor else ""
    tree = {FORMAT_KEY: f"{VISIT_FORMAT}/{MAJOR}{minor}", **table_of(visit)}
    return json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def table_of(record: Any) -> dict[str, Any]:
    """A record as its table: keys left out where nothing was said."""
    table: dict[str, Any] = {}
    for note in describe(type(record)):
        value = getattr(record, note.name)
        if value is None or value in ((), {}):
            continue
        written = as_written(note, value)
        if written != {} or value != getattr(type(record), note.name, None):  # an empty table that is there, is there
            table[note.key] = written
    table.update({key: plain(value) for key, value in record.extra.items()})
    return table


def as_written(note: FieldNote, value: Any) -> Any:
    """A field's value as it stands in a file."""
    if note.kind is Kind.SPECIAL:
        return _SPECIALS.get(note.special, plain)(value)
    if note.kind is Kind.RECORD:
        return table_of(value)
    if note.kind is Kind.LIST:
        return [table_of(row) for row in value]
    if note.kind is Kind.TABLE:
        return {name: table_of(row) for name, row in value.items()}
    return plain(value)


def plain(value: Any) -> Any:
    """A value of a file as JSON holds it."""
    if isinstance(value, datetime):
        is_utc = value.tzinfo is UTC
        return value.replace(tzinfo=None).isoformat() + "Z" if is_utc else value.isoformat()
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [plain(inner) for inner in value]
    return value


def percent_of(frac: float) -> str:
    """The percentage that reads back as exactly this share.

    Examples
    --------
    >>> percent_of(0.07), percent_of(0.1)
    ('7 %', '10 %')
    """
    near = frac * 100.0
    for digits in (6, 9, 12, 15, 16, 17):
        text = f"{near:.{digits}g}"
        if float(text) / 100.0 == frac:
            return f"{text} %"
    return f"{nextafter(near, inf if near / 100.0 < frac else -inf)!r} %"


def _tolerance(value: Tolerance) -> Any:
    return value.ohm if value.frac is None else percent_of(value.frac)


def _accuracy(value: Accuracy) -> str:
    digits = f" + {value.digits:g} digits" if value.digits else ""
    return percent_of(value.of_reading_frac) + digits


def _opening(value: Opening) -> Any:
    return value.pulses if value.frac is None else percent_of(value.frac)


def _insulation(value: Insulation) -> Any:
    return f">{value.mohm!r} Mohm" if value.is_at_least else value.mohm


def _reading(value: PairReading) -> list[Any]:
    return [value.wire_a, value.wire_b, "open" if value.ohm is None else value.ohm]


def _wires(value: tuple[str, ...]) -> Any:
    return value[0] if len(value) == 1 else list(value)


_SPECIALS: Final[Mapping[str, Callable[[Any], Any]]] = {
    "tolerance": _tolerance,
    "accuracy": _accuracy,
    "opening": _opening,
    "opening-pair": lambda pair: [_opening(one) for one in pair],
    "insulation": _insulation,
    "readings": lambda rows: [_reading(row) for row in rows],
    "wires": _wires,
    "ohm-or-open": lambda ohm: "open" if isinf(ohm) else ohm,
}
"""Those whose record does not look as the file does."""
