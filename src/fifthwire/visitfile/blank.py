"""A visit file ready to fill in: what is known is written, every other key stands as a line that is not read yet.

Lines of words begin with "# "; lines that become a key when their sign is taken away begin with "#" and no space.
"""

from collections.abc import Iterator
from typing import Any, Final

from fifthwire.model.fields import Entry, FieldNote, FileRecord, Kind, describe
from fifthwire.model.visit import VISIT_FORMAT, Visit, VisitHeader
from fifthwire.visitfile.examples import NAMES, example_of
from fifthwire.visitfile.places import bare_or_quoted
from fifthwire.visitfile.toml_text import toml_value
from fifthwire.visitfile.version import MAJOR

HEADING: Final = """\
# A visit. Write down what you looked at, and nothing else: what is left out was not looked at, which is not "fine".
# Lines that begin with # are not read; take the # away in front of a key to use it.
"""
_WIDTH: Final = 44
"""Columns before a line's remark.  Our choice."""
_LONGEST: Final = 120
"""Columns of a line.  Our choice."""
_OF_ENTRIES: Final = tuple(note.key for note in describe(Entry))
_LEFT_OUT: Final = ("snapshots", "photographs", "evidence")
"""Tables that programs write, and a second form of one: shown on the page of the format."""
_SAMPLE_KEYS: Final[dict[str, tuple[str, ...]]] = {
    "Curve": ("table",),
    "Meter": ("accuracy", "resolution", "serial", "leads", "check_resistor", "calibrated"),
    "Snapshot": ("minutes_running", "state", "ambient", "outdoor", "valves", "units"),
    "OutdoorReadings": (
        "suction_pressure", "discharge_pressure", "suction_temperature", "liquid_temperature", "compressors",
    ),
    "UnitReadings": ("on", "opening", "liquid_pipe", "gas_pipe", "return_air", "supply_air"),
    "Measurement": ("when", "measured_at", "readings", "head_temperature"),
}  # fmt: skip
"""Where a sample shows fewer keys than there are."""
_TO_FILL: Final = (
    "suspected", "head_temperature", "head_temperature_from", "common", "plug_off", "readings", "insulation",
    "insulation_test", "inspection", "movement", "board",
)  # fmt: skip
"""Of a known valve: what a visit finds out."""
_EMPTY: Final = '""'
_METER_TO_FILL: Final = ("leads", "check_resistor")
_IN_LINE: Final = {
    "inspection": ("rust", "pitted", "cracks", "seated", "connector"),
    "movement": ("stem", "stem_mm", "felt", "hand_magnet"),
    "board": ("when", "supply", "pulses"),
}
"""Of a known valve's tables: the keys that most visits fill in."""
_OTHER_KIND: Final = {"clip-on": ("stem", "stem_mm", "cracks"), "bolt-on": ("seated", "hand_magnet")}
"""What a head of this kind does not have."""


def template(known: Visit | None = None) -> str:
    """A visit file with everything known written and the rest ready to be filled in.

    Parameters
    ----------
    known : Visit | None
        What is known before the visit: the system, its valves, specs and meters. Left out: nothing.

    Returns
    -------
    str
        TOML; once `date`, `site` and `system` stand in it, it reads without a problem, and equal to what was known.
    """
    parts = [HEADING + f'format = "{VISIT_FORMAT}/{MAJOR}"\n']
    for note in describe(Visit):
        value = getattr(known, note.name) if known is not None else None
        if note.key not in _LEFT_OUT or value:
            parts.append("\n".join(_part(note, value)) + "\n")
    return "\n".join(parts)


def _part(note: FieldNote, value: Any) -> Iterator[str]:
    """One table, or one family of tables, under its heading."""
    assert note.record is not None, "a visit holds nothing but tables"
    yield f"# -- {note.key.replace('_', ' ')}: {note.help}"
    if note.kind is Kind.RECORD and note.key in ("visit", "system"):
        yield from _filled(note.record, f"[{note.key}]", value, None)
    elif value is None or value in ((), {}):
        yield from _sample(note, note.key)
    elif note.kind is Kind.LIST:
        for index, row in enumerate(value):
            yield from _listed(note, row, is_first=index == 0)
    elif note.kind is Kind.TABLE:
        for name, row in value.items():
            to_fill = _METER_TO_FILL if note.key == "meters" else ()
            yield from _filled(note.record, f"[{note.key}.{bare_or_quoted(name)}]", row, to_fill)
    else:
        yield from _filled(note.record, f"[{note.key}]", value, ())


def _listed(note: FieldNote, row: FileRecord, *, is_first: bool) -> Iterator[str]:
    to_fill = _TO_FILL if note.key == "valves" else ()
    if not is_first:
        yield ""
    yield from _filled(type(row), f"[[{note.key}]]", row, to_fill, with_help=is_first and bool(to_fill))


def _filled(
    record: type, header: str, row: Any, to_fill: tuple[str, ...] | None, *, with_help: bool | None = None
) -> Iterator[str]:
    """A table: its known keys, then those to fill in (None: all of them), then the tables inside it."""
    says = to_fill is None if with_help is None else with_help
    yield header
    inner = []
    for note in describe(record):
        value = getattr(row, note.name) if row is not None else None
        is_known = not (value is None or value in ((), {}) or value == getattr(record, note.name, None))
        if is_known and note.record is not None:
            inner.append((note, value))
        elif is_known or (note.required and note.kind is Kind.TEXT and record is VisitHeader):
            yield commented_line(
                f"{note.key} = {toml_value(note, value) if is_known else _EMPTY}", note if says else None
            )
        elif _is_offered(note, to_fill):
            yield _offer(note, row, with_help=says)
    for note, value in inner:
        yield from _inner(note, value, header.strip("[]"))


def _is_offered(note: FieldNote, to_fill: tuple[str, ...] | None) -> bool:
    if to_fill is None:
        return note.record is None
    return note.key in to_fill


def _inner(note: FieldNote, value: Any, path: str) -> Iterator[str]:
    assert note.record is not None, "only tables stand inside a table"
    path = f"{path}.{note.key}"
    if note.kind is Kind.RECORD:
        yield from _filled(note.record, f"[{path}]", value, ())
    elif note.kind is Kind.LIST:
        for row in value:
            yield from _filled(note.record, f"[[{path}]]", row, ())
    else:
        for name, row in value.items():
            yield from _filled(note.record, f"[{path}.{bare_or_quoted(name)}]", row, ())


def _offer(note: FieldNote, row: Any, *, with_help: bool) -> str:
    """A key that is not used yet; a table inside a valve as one line."""
    if note.record is None:
        return commented_line(f"#{note.key} = {example_of(note)}", note if with_help else None)
    not_here = _OTHER_KIND.get(getattr(row, "head", None) or "", ())
    shown = _IN_LINE[note.key]
    inside = [inner for inner in describe(note.record) if inner.key in shown and inner.key not in not_here]
    pairs = [f"{inner.key} = {'true' if inner.special == 'pulses' else example_of(inner)}" for inner in inside]
    return commented_line(f"#{note.key} = {{ {', '.join(pairs)} }}", note if with_help else None)


def _sample(note: FieldNote, path: str) -> Iterator[str]:
    """A table that is not used yet, with the keys it may have."""
    assert note.record is not None, "only tables are sampled as a whole"
    if note.kind is Kind.TABLE:
        path = f"{path}.{NAMES[note.key]}"
    yield f"#[[{path}]]" if note.kind is Kind.LIST else f"#[{path}]"
    shown = _SAMPLE_KEYS.get(note.record.__name__)
    of_entries = _OF_ENTRIES if issubclass(note.record, Entry) else ()
    notes = [of for of in describe(note.record) if of.key not in of_entries and (shown is None or of.key in shown)]
    for inner in notes:
        if inner.record is None:
            yield commented_line(f"#{inner.key} = {example_of(inner)}", inner)
    for inner in notes:
        if inner.record is not None:
            yield from _sample(inner, f"{path}.{inner.key}")


def commented_line(text: str, note: FieldNote | None) -> str:
    """A line with its remark: what the key means, and the words it may hold; before it where the line would be long."""
    if note is None:
        return text
    needed = "needed: " if note.required else ""
    words = f": {' | '.join(note.choices)}" if len(note.choices) > 1 else ""
    remark = f"# {needed}{note.help}{words}"
    line = f"{text:<{_WIDTH}}  {remark}"
    return line if len(line) <= _LONGEST else "\n".join([*_wrapped(remark), text])


def _wrapped(remark: str) -> list[str]:
    lines = [""]
    for word in remark.split(" "):
        if len(lines[-1]) + len(word) >= _LONGEST:
            lines.append("#  ")
        lines[-1] += f" {word}" if lines[-1] else word
    return lines
