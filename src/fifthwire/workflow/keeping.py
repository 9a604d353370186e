"""Put readings into a visit file and leave everything else as the person wrote it: comments, order, layout.

The new text is read back before it is written: unless it says exactly what the old one said, plus the readings, the
file is left alone.
"""

import json
from dataclasses import replace
from typing import Any

from fifthwire.model.record import record
from fifthwire.model.valve import PairReading, Valve
from fifthwire.visitfile import read_visit
from fifthwire.workflow.files import file_error, read_file, write_file
from fifthwire.workflow.states import readings_of, with_readings_of, with_state
from fifthwire.workflow.visits import OpenVisit


@record
class ReadingsKept:
    """A visit file with readings of one valve put in."""

    opened: OpenVisit
    """As it was before the first of them."""
    written: bytes
    """As it stands on the disk."""


def keep_readings(
    kept: ReadingsKept, valve_id: str, readings: tuple[PairReading, ...], *, state: int | None, when: str | None
) -> ReadingsKept:
    """Write readings into the file: those of the file first, then these.

    Parameters
    ----------
    kept : ReadingsKept
        The file as opened, and as it was last written.
    valve_id : str
        Label of the valve.
    readings : tuple[PairReading, ...]
        All that were taken since the file was opened.
    state : int or None
        Which of the valve's further measurements; None: `readings`.
    when : str or None
        State of that measurement, where it has to be made.

    Raises
    ------
    VisitFileError
        If somebody else has changed the file since, or it cannot be written.
    """
    opened = kept.opened
    if read_file(opened.name) != kept.written:
        raise file_error(opened.name, "was changed by somebody else meanwhile; it was left alone", _by_hand(readings))
    at = next(at for at, valve in enumerate(opened.visit.valves) if valve.id == valve_id)
    content = with_readings(opened, at, readings, state=state, when=when) if readings else opened.content
    write_file(opened.name, content, overwrite=True)
    return ReadingsKept(opened=opened, written=content)


def with_readings(
    opened: OpenVisit, at: int, readings: tuple[PairReading, ...], *, state: int | None, when: str | None = None
) -> bytes:
    """The text of a visit file with readings added to its valve number `at`.

    Raises
    ------
    VisitFileError
        If the file is laid out so that they cannot be added without moving something else.
    """
    rows = [[of.wire_a, of.wire_b, "open" if of.ohm is None else of.ohm] for of in readings]
    edit = _edited_json if opened.syntax == "json" else _edited_toml
    content = edit(opened.content, at, rows, state, when)
    meant = _meant(opened.visit.valves[at], readings, state, when)
    read = read_visit(content, name=opened.name, syntax=opened.syntax).visit
    expected = replace(opened.visit, valves=(*opened.visit.valves[:at], meant, *opened.visit.valves[at + 1 :]))
    if read != expected:
        raise file_error(
            opened.name, "is laid out so that readings cannot be put in; it was left alone", _by_hand(readings)
        )
    return content


def _by_hand(readings: tuple[PairReading, ...]) -> str:
    rows = ", ".join(f'["{of.wire_a}", "{of.wire_b}", {_shown(of)}]' for of in readings)
    return f"Write them in by hand: {rows}"


def _shown(reading: PairReading) -> str:
    return '"open"' if reading.ohm is None else repr(reading.ohm)


def _meant(valve: Valve, readings: tuple[PairReading, ...], state: int | None, when: str | None) -> Valve:
    valve = with_state(valve, state, when)
    return with_readings_of(valve, state, readings_of(valve, state) + readings)


def _edited_json(content: bytes, at: int, rows: list[list[Any]], state: int | None, when: str | None) -> bytes:
    text = content.decode("utf-8-sig")
    document = json.loads(text)
    holder = document["valves"][at]
    if state is not None:
        states = holder.setdefault("measurements", [])
        if state == len(states):
            states.append({"when": when})
        holder = states[state]
    holder["readings"] = holder.get("readings", []) + rows
    return (json.dumps(document, indent=_indent_of(text), ensure_ascii=False) + "\n").encode()


def _indent_of(text: str) -> int | str | None:
    """Spaces or tabs before the first key; None where the file is one line."""
    for line in text.splitlines()[1:]:
        if line.strip():
            blank = line[: len(line) - len(line.lstrip())]
            return blank if "\t" in blank else (len(blank) or None)
    return None


def _edited_toml(content: bytes, at: int, rows: list[list[Any]], state: int | None, when: str | None) -> bytes:
    import tomlkit  # only where a file is edited: it costs 15 ms

    document: Any = tomlkit.parse(content.decode("utf-8-sig"))
    holder = document["valves"][at]
    if state is not None:
        if state == len(holder.get("measurements", [])):
            made = tomlkit.table()
            made["when"] = when
            if "measurements" not in holder:
                holder["measurements"] = tomlkit.aot()
            holder["measurements"].append(made)
        holder = holder["measurements"][state]
    if "readings" not in holder:
        holder["readings"] = _new_array(rows)
    else:
        for row in rows:
            holder["readings"].append(row)
    return str(tomlkit.dumps(document)).encode()


def _new_array(rows: list[list[Any]]) -> Any:
    import tomlkit

    array = tomlkit.array()
    for row in rows:
        array.add_line(row, indent="  ")
    array.add_line(indent="")
    return array
