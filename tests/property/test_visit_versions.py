"""Versions of one visit file, taken in one after another: what counts is the newest, and what the page added."""

import json
import shutil

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fifthwire.model.kept.people import alone
from fifthwire.register.store import open_register
from fifthwire.workflow.visits_kept import add_entry, import_visit_file, list_visits, visit_file, visit_of

OWNER = alone("rt")
STRIKES = ("Not in ", "Stands in ")
"""How notes begin that a later file makes of what it has not, or has again."""
ROWS = st.lists(st.sampled_from(["a", "b", "c", "d"]), max_size=5)
READINGS = st.lists(st.tuples(st.sampled_from("1234"), st.sampled_from([46.0, 46.5, "open"])), max_size=5)
VERSIONS = st.tuples(ROWS, READINGS, st.sampled_from(["none", "light", None]), st.sampled_from(["RT", None]))
STEPS = st.lists(st.one_of(VERSIONS, st.sampled_from(["page-note", "page-reading"])), min_size=1, max_size=6)


def text_of(version, has_id):
    notes, readings, rust, technician = version
    header = {
        "date": "2026-05-12",
        "site": "A",
        "system": "B",
        "id": "v1" if has_id else None,
        "technician": technician,
    }
    valve = {"id": "V", "unit": "U", "role": "main", "head": "clip-on"}
    valve["readings"] = [["5", wire, ohm] for wire, ohm in readings]
    if rust is not None:
        valve["inspection"] = {"rust": rust}
    tree = {
        "format": "fifthwire/visit/1",
        "visit": {key: value for key, value in header.items() if value is not None},
        "valves": [valve],
        "notes": [{"text": text} for text in notes],
    }
    return json.dumps(tree).encode()


def said(whole):
    """What counts: notes that stand and strike nothing out, readings, what was seen, who was there."""
    visit = whole.visit
    (valve,) = visit.valves
    return (
        sorted(note.text for note in visit.notes if not note.is_void and not note.text.startswith(STRIKES)),
        sorted((of.wire_b, of.ohm is None, of.ohm or 0.0) for of in valve.readings),
        None if valve.inspection is None else valve.inspection.rust,
        visit.header.technician,
    )


def expected(version, page_notes, page_readings):
    notes, readings, rust, technician = version
    shown = [(wire, ohm == "open", 0.0 if ohm == "open" else ohm) for wire, ohm in readings]
    return sorted([*notes, *page_notes]), sorted([*shown, *page_readings]), rust, technician


@pytest.fixture(scope="module")
def home(tmp_path_factory, sqlite_template):
    return tmp_path_factory.mktemp("versions"), sqlite_template


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(VERSIONS, STEPS, st.booleans())
def test_the_visit_is_what_the_newest_version_says_and_what_the_page_added(home, first, steps, has_id):
    directory, template = home
    path = directory / "r.sqlite"
    for ending in ("", "-wal", "-shm"):
        path.with_name(path.name + ending).unlink(missing_ok=True)
    shutil.copyfile(template, path)
    seen, page_notes, page_readings, newest = [], [], [], first
    with open_register(str(path), create=False) as register:
        kept = import_visit_file(register, OWNER, text_of(first, has_id), "0.visit.json").kept
        seen.append(text_of(first, has_id))
        for number, step in enumerate(steps):
            if step == "page-note":
                add_entry(register, OWNER, kept.id, "notes", {"text": f"page {number}"})
                page_notes.append(f"page {number}")
            elif step == "page-reading":
                add_entry(register, OWNER, kept.id, "valves/V/readings", {"reading": ["5", "p", number]})
                page_readings.append(("p", False, number or 0.0))
            else:
                content = text_of(step, has_id)
                done = import_visit_file(register, OWNER, content, f"{number}.visit.json", answers={"visit": kept.id})
                assert done.kept.id == kept.id
                if content in seen:
                    assert (done.n_added, done.n_struck) == (0, 0)
                else:
                    newest = step
                seen.append(content)
            whole = visit_of(register, OWNER, kept.id)
            assert said(whole) == expected(newest, page_notes, page_readings)
            assert whole.doubts == ()
        before = visit_of(register, OWNER, kept.id)
        import_visit_file(register, OWNER, visit_file(register, OWNER, kept.id, "json"), "export.visit.json")
        assert said(visit_of(register, OWNER, kept.id)) == said(before)
        assert list_visits(register, OWNER).n_rows == 1
