"""Writes docs/formats/ from the notes of the records: `make docs`. With --check it only says whether it is current."""

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from fifthwire.model import choices
from fifthwire.model.fields import Entry, FieldNote, Kind, describe
from fifthwire.model.plant import Plant
from fifthwire.model.units import OTHER_SPELLINGS, UNITS
from fifthwire.model.visit import Visit
from fifthwire.model.words import word
from fifthwire.visitfile import plant_schema, schema
from fifthwire.visitfile.examples import NAMES, example_of

ROOT: Final = Path(__file__).parent.parent
FORMATS: Final = ROOT / "docs" / "formats"
TEXTS: Final = Path(__file__).parent / "formats"
_ENTRY_KEYS: Final = tuple(note.key for note in describe(Entry))


def visit_page() -> str:
    """The page of the visit file."""
    parts = [
        (TEXTS / "visit.md").read_text("utf-8"),
        "\n".join(_units()),
        "## The keys, table by table\n",
        "\n".join(_every_table(Visit)),
        "## Every key once\n\nInvented, and not one consistent visit: [every-key.visit.toml](every-key.visit.toml).\n",
        "```toml\n" + (FORMATS / "every-key.visit.toml").read_text("utf-8") + "```\n",
    ]
    return "\n".join(parts)


def plant_page() -> str:
    """The page of the plant file."""
    parts = [
        (TEXTS / "plant.md").read_text("utf-8"),
        "## The keys, table by table\n",
        "### The top of the file\n",
        "\n".join(_key_table([note for note in describe(Plant) if note.record is None])),
        "\n".join(_every_table(Plant)),
        "## An example\n\nInvented: [example.plant.toml](example.plant.toml).\n",
        "```toml\n" + (FORMATS / "example.plant.toml").read_text("utf-8") + "```\n",
    ]
    return "\n".join(parts)


def _units() -> Iterator[str]:
    yield "| measures | units | also written |"
    yield "|---|---|---|"
    for of in dict.fromkeys(unit.of for unit in UNITS):
        names = [unit.name for unit in UNITS if unit.of == of and unit.name != "frac"]
        others = [spelling for spelling, name in OTHER_SPELLINGS.items() if name in names]
        yield f"| {of.partition(' ')[2]} | {_code(names)} | {_code(others)} |"
    yield ""


def _every_table(record: type) -> Iterator[str]:
    seen: set[tuple[type, str]] = set()
    waiting: list[tuple[str, FieldNote]] = [("", note) for note in describe(record) if note.record is not None]
    while waiting:
        path, note = waiting.pop(0)
        assert note.record is not None, "only tables are waiting"
        path = f"{path}.{note.key}".removeprefix(".")
        name = f"{path}.{NAMES[note.key]}" if note.kind is Kind.TABLE else path
        if (note.record, note.key) in seen or note.key == "snapshots":
            continue
        seen.add((note.record, note.key))
        yield from _one_table(note, name)
        inner = [(name, of) for of in describe(note.record) if of.record is not None]
        waiting = inner + waiting


def _one_table(note: FieldNote, name: str) -> Iterator[str]:
    assert note.record is not None, "only tables have a heading"
    heading = f"[[{name}]]" if note.kind is Kind.LIST else f"[{name}]"
    yield f"### `[{name}]` or `[[{name}]]`\n" if note.or_one else f"### `{heading}`\n"
    yield f"{_sentence(note.help)}\n"
    is_entry = issubclass(note.record, Entry)
    notes = [of for of in describe(note.record) if of.record is None and not (is_entry and of.key in _ENTRY_KEYS)]
    yield from _key_table(notes)


def _key_table(notes: list[FieldNote]) -> Iterator[str]:
    if not notes:
        return
    yield "| key | holds | means | for example |"
    yield "|---|---|---|---|"
    for note in notes:
        needed = " **Needed.**" if note.required else ""
        limits = f" {_limits(note)}" if _limits(note) else ""
        means = f"{_cell(_sentence(note.help))}{limits}{needed}"
        yield f"| `{note.key}` | {_holds(note)} | {means} | `{example_of(note)}` |"
    yield ""


def _holds(note: FieldNote) -> str:
    if note.choices:
        return _code(note.choices)
    if note.unit:
        return f"{note.kind.value} [{note.unit}]"
    return {Kind.SPECIAL: "see the example", Kind.FLAG: "true or false", Kind.INTEGER: "whole number"}.get(
        note.kind, note.kind.value
    )


def _limits(note: FieldNote) -> str:
    parts = [
        f"{sign} {limit:g}"
        for sign, limit in (("from", note.low), ("above", note.above), ("to", note.high))
        if limit is not None
    ]
    return f"{' '.join(parts)}.".capitalize() if parts else ""


def assessment_page() -> str:
    """The page of the assessment: its text, and the words that its keys may hold."""
    text = (TEXTS / "assessment.md").read_text("utf-8")
    parts = []
    for title, words in (
        ("`winding.verdict`", choices.WINDING_VERDICTS),
        ("`winding.causes`", choices.WINDING_CAUSES),
        ("`causes` of a valve", choices.VALVE_CAUSES),
        ("`system.causes`", choices.SYSTEM_CAUSES),
        ("`action`", choices.ACTIONS),
        ("`urgency`", choices.URGENCIES),
        ("`meanwhile`", choices.MEANWHILE),
        ("`floodback`", choices.FLOODBACK),
        ("`sensors.verdict`", choices.SENSOR_VERDICTS),
    ):
        rows = "\n".join(f"| `{key}` | {word(key)} |" for key in words)
        parts.append(f"### {title}\n\n| word | people see |\n|---|---|\n{rows}\n")
    return text + "\n" + "\n".join(parts)


def pages() -> dict[Path, str]:
    """Every generated file and what it should hold."""
    return {
        FORMATS / "visit.md": visit_page(),
        FORMATS / "visit.schema.json": json.dumps(schema(), ensure_ascii=False, indent=1) + "\n",
        FORMATS / "plant.md": plant_page(),
        FORMATS / "plant.schema.json": json.dumps(plant_schema(), ensure_ascii=False, indent=1) + "\n",
        FORMATS / "assessment.md": assessment_page(),
    }


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _code(words: list[str] | tuple[str, ...]) -> str:
    return ", ".join(f"`{one}`" for one in words)


def main() -> int:
    """Write what is generated, or say what is not current."""
    stale = [path for path, text in pages().items() if not path.exists() or path.read_text("utf-8") != text]
    if "--check" in sys.argv[1:]:
        for path in stale:
            print(f"{path.relative_to(ROOT)} is not current: make docs writes it", file=sys.stderr)
        return 1 if stale else 0
    for path in stale:
        path.write_text(pages()[path], "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
