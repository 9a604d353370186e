"""Whatever is sent as an addition: it is kept and the visit can be read, or it is refused and nothing is kept."""

import shutil

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.soak.killed_writer import N_ENTRIES, visit_text

from fifthwire.model.errors import FifthwireError
from fifthwire.model.kept.people import alone
from fifthwire.model.kept.visits import EntryDraft
from fifthwire.register.store import open_register
from fifthwire.visitfile.entry_words import entry_words
from fifthwire.workflow.judging import judge_visit
from fifthwire.workflow.visit_merging import receive_additions
from fifthwire.workflow.visits_kept import add_entry, import_visit_file, visit_file, visit_of

OWNER = alone("rt")
TEXTS = st.text(max_size=8)
NAMES = st.sampled_from(
    ["visit", "system", "specs", "meters", "curves", "valves", "work", "notes", "snapshot", "snapshots", "readings",
     "measurements", "inspection", "movement", "board", "IU00-valve", "clip", "file", "sensors", "evidence", ""]
)  # fmt: skip
PATHS = st.one_of(
    st.lists(NAMES | TEXTS, min_size=1, max_size=5).map("/".join),
    st.sampled_from(["valves/IU00-valve", "valves/IU00-valve/readings", "specs/clip", "notes", "visit", "valves/new"]),
)
KEYS = st.one_of(
    st.sampled_from(
        ["id", "unit", "role", "head", "text", "reading", "readings", "date", "site", "system", "time_zone", "spec",
         "winding", "resistance", "at", "entry", "voids", "by", "when", "measured_at", "about", "meter", "altitude"]
    ),
    TEXTS,
)  # fmt: skip
SCALARS = st.one_of(
    st.none(), st.booleans(), st.integers(-(10**20), 10**20), st.floats(), TEXTS,
    st.sampled_from(["open", "46 ohm", "2026-05-12", "indoor", "clip-on", "unipolar-5", "IU00-valve", "as-found"]),
)  # fmt: skip
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3), max_leaves=6
)
BODIES = st.dictionaries(KEYS, VALUES, max_size=5)
VALID = (
    ("notes", {"about": "IU00-valve", "text": "a"}),
    ("work", {"valve": "IU00-valve", "done": "cleaned"}),
    ("valves/IU00-valve/readings", {"reading": ["5", "1", 46.1]}),
    ("valves/IU00-valve/inspection", {"rust": "light", "seated": True}),
    ("valves/IU00-valve/measurements", {"when": "after-cleaning"}),
    ("valves/IU00-valve", {"id": "IU00-valve", "unit": "IU00", "role": "indoor", "head": "clip-on", "spec": "clip"}),
    ("valves/new", {"id": "new", "unit": "IU90", "role": "indoor", "head": "bolt-on"}),
    ("specs/clip", {"winding": "unipolar-5", "resistance": "46 ohm", "at": "20 degC"}),
    ("meters/m", {"accuracy": "0.9 % + 2 digits", "resolution": 0.1}),
    ("system", {"refrigerant": "R410A", "mode": "cooling"}),
    ("snapshot", {"suction_pressure": "118 psig", "ambient": 33}),
    ("visit", {"date": "2026-05-12", "site": "Quayside House", "system": "QH-1", "time_zone": "Europe/London"}),
)


@st.composite
def additions(draw):
    """A good addition with up to two of its keys changed, taken out or put in; or anything at all."""
    if draw(st.integers(0, 3)) == 0:
        return draw(PATHS), draw(BODIES)
    path, body = draw(st.sampled_from(VALID))
    body = dict(body)
    for _ in range(draw(st.integers(0, 2))):
        key = draw(st.sampled_from(sorted(body)) | KEYS) if body else draw(KEYS)
        if draw(st.booleans()):
            body[key] = draw(VALUES)
        else:
            body.pop(key, None)
    return path, body


@pytest.fixture(scope="module")
def kept(tmp_path_factory, sqlite_template):
    path = tmp_path_factory.mktemp("any") / "r.sqlite"
    shutil.copyfile(sqlite_template, path)
    with open_register(str(path)) as register:
        yield register, import_visit_file(register, OWNER, visit_text(0), "0.visit.json").kept.id


def is_readable(register, visit_id):
    whole = visit_of(register, OWNER, visit_id)
    assert whole.kept.n_entries == len(whole.entries)
    assert all(entry_words(one.path, one.body) for one in whole.entries)
    visit_file(register, OWNER, visit_id, "toml")
    return whole


@settings(max_examples=120, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(additions())
def test_any_addition_is_kept_readable_or_refused(kept, addition):
    register, visit_id = kept
    path, body = addition
    before = is_readable(register, visit_id)
    try:
        add_entry(register, OWNER, visit_id, path, body)
    except FifthwireError as err:
        assert err.message
        assert is_readable(register, visit_id).kept == before.kept
    else:
        assert is_readable(register, visit_id).doubts == before.doubts


@settings(max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(TEXTS, additions(), st.none() | TEXTS), max_size=3))
def test_whatever_another_device_sends_the_visit_can_be_read(kept, sent):
    register, visit_id = kept
    entries = [EntryDraft(id=id_, path=path, body=body, voids=voids) for id_, (path, body), voids in sent]
    try:
        receive_additions(register, OWNER, visit_id, entries)
    except FifthwireError as err:
        assert err.message
    is_readable(register, visit_id)


def test_what_came_of_it_can_still_be_judged(kept):
    register, visit_id = kept
    good = [EntryDraft(id="good", path="notes", body={"text": "a"}), EntryDraft(id="bad", path="notes", body={"a": 1})]

    received = receive_additions(register, OWNER, visit_id, good)

    assert received.n_added == 2
    assert [doubt for doubt in received.doubts if doubt.startswith("notes")]
    assert len(judge_visit(register, OWNER, visit_id).assessment["valves"]) >= 12
    assert is_readable(register, visit_id).kept.n_entries > N_ENTRIES + 30, "hardly anything was kept: try other bodies"
