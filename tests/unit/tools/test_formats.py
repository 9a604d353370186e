import subprocess
import sys
from pathlib import Path

from fifthwire.model.fields import Kind, describe
from fifthwire.model.visit import Visit
from fifthwire.visitfile import read_visit

ROOT = Path(__file__).parent.parent.parent.parent
PAGE = (ROOT / "docs" / "formats" / "visit.md").read_text("utf-8")


def test_the_pages_of_the_formats_are_current():
    done = subprocess.run([sys.executable, ROOT / "tools" / "formats.py", "--check"], capture_output=True, text=True)

    assert (done.returncode, done.stderr) == (0, "")


def keys_and_tables(record: type) -> set[str]:
    names = {note.key for note in describe(record)}
    return names.union(*(keys_and_tables(note.record) for note in describe(record) if note.record is not None))


def test_the_page_names_every_key_of_a_visit():
    missing = {key for key in keys_and_tables(Visit) if f"`{key}`" not in PAGE and f"{key}" not in PAGE}

    assert missing == set()


def test_the_page_has_a_heading_for_every_table():
    for note in describe(Visit):
        brackets = "[[" if note.kind is Kind.LIST else "["
        assert f"### `{brackets}{note.key}" in PAGE or note.key == "snapshots"
    for table in ("snapshot.valves", "snapshot.units", "snapshot.outdoor", "valves.measurements", "valves.board"):
        assert f"{table}" in PAGE


def test_the_example_of_the_page_uses_every_key_but_those_of_a_choice():
    text = (ROOT / "docs" / "formats" / "every-key.visit.toml").read_text("utf-8")
    elsewhere = {"barometer", "ranges", "to", "r25", "beta", "steinhart", "snapshots", "subcooler"}
    of_entries = {"entry", "device", "at", "by", "voids", "target_superheat", "target_subcooling"}

    read_visit(text, name="every-key.visit.toml", syntax="toml")

    unused = {key for key in keys_and_tables(Visit) if f"{key} = " not in text and f"{key}" not in text}
    assert unused <= elsewhere | of_entries
