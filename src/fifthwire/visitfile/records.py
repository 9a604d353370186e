"""Tables of a file into records, driven by nothing but the notes of the records' fields."""

from typing import Any, Final

from fifthwire.model.errors import InputError
from fifthwire.model.fields import FieldNote, Kind
from fifthwire.model.nearest import nearest
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.grammars import GRAMMARS
from fifthwire.visitfile.places import Steps, shortened
from fifthwire.visitfile.values import SCALARS, shown

_UNREAD: Final = object()
"""What a value is that could not be read: its problem has been noted, and the record keeps the default."""
FORMAT_KEY: Final = "format"


def read_record(record: type, table: Any, steps: Steps, context: Context) -> Any:
    """A record from a table; what cannot be read is a problem by its place, and the rest is read all the same.

    Parameters
    ----------
    record : type
        Whose fields carry notes.
    table : Any
        What the file holds there.
    steps : Steps
        Where it stands.
    context : Context
        Of this reading; gathers the problems.

    Returns
    -------
    Any
        The record, or None where the file holds no table there.
    """
    if not isinstance(table, dict):
        context.problems.add(steps, f"{shown(table)} stands where a table is needed", _table_hint(steps))
        return None
    notes = context.notes(record)
    values: dict[str, Any] = {}
    extra: dict[str, Any] = {}
    for key, written in table.items():
        note = notes.get(key)
        if note is None:
            _take_unknown(key, written, (*steps, key), notes, extra, context)
            continue
        value = _read_field(note, written, (*steps, key), context)
        if value is not _UNREAD:
            values[note.name] = value
    for note in notes.values():
        if note.required and note.name not in values:
            values[note.name] = None
            if note.key not in table:
                context.problems.add((*steps, note.key), f"{note.key} is missing", _missing_hint(note))
    return record(extra=extra, **values)


def _read_field(note: FieldNote, written: Any, steps: Steps, context: Context) -> Any:
    try:
        scalar = SCALARS.get(note.kind)
        if scalar is not None:
            return scalar(written, note, context)
        if note.kind is Kind.SPECIAL:
            value = GRAMMARS[note.special](written, steps, context)
            return _UNREAD if value is None else value
    except InputError as err:
        context.problems.add_error(steps, err)
        return _UNREAD
    assert note.record is not None, "tables and arrays of tables name their record"
    if note.kind is Kind.LIST and note.or_one and isinstance(written, dict):
        one = read_record(note.record, written, steps, context)
        return (one,) if one is not None else _UNREAD
    if note.kind is Kind.LIST:
        return _read_list(note.record, written, steps, context)
    if note.kind is Kind.TABLE:
        return _read_named(note.record, written, steps, context)
    return read_record(note.record, written, steps, context) or _UNREAD


def _read_list(record: type, written: Any, steps: Steps, context: Context) -> Any:
    if not isinstance(written, list):
        name = steps[-1]
        hint = f"write [[{name}]], with two brackets on each side" if isinstance(written, dict) else "write tables"
        context.problems.add(steps, f"{shown(written)} stands where an array of tables is needed", hint)
        return _UNREAD
    rows = (read_record(record, row, (*steps, index), context) for index, row in enumerate(written))
    return tuple(row for row in rows if row is not None)


def _read_named(record: type, written: Any, steps: Steps, context: Context) -> Any:
    if not isinstance(written, dict):
        hint = f"write [{steps[-1]}.NAME]" if isinstance(written, list) else "write one table a name"
        context.problems.add(steps, f"{shown(written)} stands where tables by name are needed", hint)
        return _UNREAD
    rows = {name: read_record(record, row, (*steps, name), context) for name, row in written.items()}
    return {name: row for name, row in rows.items() if row is not None}


def _take_unknown(
    key: str, written: Any, steps: Steps, notes: dict[str, FieldNote], extra: dict[str, Any], context: Context
) -> None:
    """An unknown key: kept where the file is of a higher minor version, else a problem."""
    if not steps[:-1] and key == FORMAT_KEY:
        return
    if context.keeps_unknown:
        extra[key] = written
        context.problems.warn(steps, "visit.key-of-later-version", key=shortened(key))
        return
    near = nearest(key, notes)
    hint = f"did you mean {near}?" if near else f"known here are {', '.join(notes)}"
    context.problems.add(steps, f"{shortened(key)} is no key known here", hint)


def _table_hint(steps: Steps) -> str:
    name = next((step for step in reversed(steps) if isinstance(step, str)), "")
    return f"write [{name}] and its keys below" if name else ""


def _missing_hint(note: FieldNote) -> str:
    if note.kind is Kind.RECORD:
        return f"add [{note.key}]: {note.help}"
    example = f"{note.key} = {note.example}" if note.example else note.key
    one = f" (one of {', '.join(note.choices)})" if note.choices else ""
    return f"add {example}: {note.help}{one}"
