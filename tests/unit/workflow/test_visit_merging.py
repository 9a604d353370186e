"""Two devices write in one visit apart from each other, and have the same visit once they have exchanged it."""

import shutil

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.soak.killed_writer import visit_text

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.people import Person, alone
from fifthwire.model.kept.visits import EntryDraft
from fifthwire.register.store import open_register
from fifthwire.workflow.visit_merging import additions_after, receive_additions
from fifthwire.workflow.visits_kept import add_entry, import_visit_file, visit_of, void_entry

OWNER, NORTH, SOUTH = (
    alone("rt"),
    Person(id="n", name="N", role="technician"),
    Person(id="s", name="S", role="technician"),
)
PATHS = ("valves/IU00-valve/readings", "valves/IU00-valve/inspection", "valves/IU01-valve/movement", "notes", "work")
BODIES = {
    "valves/IU00-valve/readings": lambda n: {"reading": ["5", "1", 46.0 + n]},
    "valves/IU00-valve/inspection": lambda n: {"rust": ("none", "light", "heavy")[n % 3]},
    "valves/IU01-valve/movement": lambda n: {"hand_magnet": ("moves", "stuck")[n % 2]},
    "notes": lambda n: {"text": f"Note {n}."},
    "work": lambda n: {"valve": "IU00-valve", "done": ("cleaned", "reseated")[n % 2]},
}


def exchange(one, visit_one, other, visit_other):
    """Each receives what the other has."""
    receive_additions(one, OWNER, visit_one, additions_after(other, OWNER, visit_other))
    receive_additions(other, OWNER, visit_other, additions_after(one, OWNER, visit_one))


def said(whole):
    """What a visit says, in itself and of each entry: not when and in which order a register received it."""
    return whole.visit, {(one.id, one.is_void, one.instead) for one in whole.entries}, set(whole.doubts)


@pytest.fixture
def pair(register, tmp_path, sqlite_template):
    """A register of the office on either engine and one of a phone, which both took the same visit in."""
    shutil.copyfile(sqlite_template, tmp_path / "phone.sqlite")
    with open_register(str(tmp_path / "phone.sqlite")) as phone:
        ids = [import_visit_file(one, OWNER, visit_text(0), "0.visit.json").kept.id for one in (register, phone)]
        yield register, ids[0], phone, ids[1]


def test_what_each_added_stands_in_both_after_the_exchange(pair):
    office, at_office, phone, at_phone = pair
    add_entry(office, NORTH, at_office, "notes", {"text": "From the office."})
    add_entry(phone, SOUTH, at_phone, "valves/IU00-valve/readings", {"reading": ["5", "2", 46.9]})

    exchange(office, at_office, phone, at_phone)

    whole = visit_of(office, OWNER, at_office)
    assert said(whole) == said(visit_of(phone, OWNER, at_phone))
    assert {one.by for one in whole.entries} >= {"N", "S"}
    assert receive_additions(office, OWNER, at_office, additions_after(phone, OWNER, at_phone)).n_added == 0


def test_only_what_came_after_a_version_is_sent(pair):
    office, at_office, phone, at_phone = pair
    version = visit_of(office, OWNER, at_office).kept.version
    added = add_entry(office, NORTH, at_office, "notes", {"text": "New."})

    sent = additions_after(office, OWNER, at_office, version)

    assert [one.id for one in sent] == [added.id]
    assert receive_additions(phone, OWNER, at_phone, sent).n_added == 1


def test_what_cannot_stand_together_is_kept_with_a_doubt_on_both(pair):
    office, at_office, phone, at_phone = pair
    spec = next(one for one in visit_of(office, OWNER, at_office).entries if one.path == "specs/clip")
    void_entry(office, NORTH, at_office, spec.id, "the wrong page")
    valve = {"id": "IU50", "unit": "IU50", "role": "indoor", "head": "clip-on", "spec": "clip"}
    add_entry(phone, SOUTH, at_phone, "valves/IU50", valve)

    exchange(office, at_office, phone, at_phone)

    whole = visit_of(office, OWNER, at_office)
    assert said(whole) == said(visit_of(phone, OWNER, at_phone))
    assert any("valves/IU50" in doubt for doubt in whole.doubts)
    assert [of.id for of in whole.visit.valves][-1] == "IU50"


def test_something_else_under_a_known_id_is_named_and_not_written_over(pair):
    office, at_office, phone, at_phone = pair
    add_entry(office, NORTH, at_office, "notes", {"text": "One."}, entry="same")
    add_entry(phone, SOUTH, at_phone, "notes", {"text": "Another."}, entry="same")

    received = receive_additions(office, OWNER, at_office, additions_after(phone, OWNER, at_phone))

    assert (received.n_added, received.differing) == (0, ("same",))
    assert "One." in [note.text for note in visit_of(office, OWNER, at_office).visit.notes]


@pytest.mark.parametrize(
    "entry",
    [
        EntryDraft(id="a", path="nowhere", body={}),
        EntryDraft(id="a\0", path="notes", body={"text": "a"}),
        EntryDraft(id="a", path="specs/a\0", body={"winding": "unipolar-5"}),
        EntryDraft(id="", path="notes", body={"text": "a"}),
        EntryDraft(id="a", path="notes", body={"text": float("nan")}),
        EntryDraft(id="a", path="notes", body={"text": b"bytes"}),
        EntryDraft(id="a", path="notes", body={"text": "\ud800"}),
    ],
)
def test_what_is_no_entry_is_refused_whole(pair, entry):
    office, at_office, *_ = pair
    good = EntryDraft(id="good", path="notes", body={"text": "a"})

    with pytest.raises(InputError, match=r"no place|no table|cannot be shown"):
        receive_additions(office, OWNER, at_office, [good, entry])

    assert "good" not in {one.id for one in visit_of(office, OWNER, at_office).entries}


def test_a_malformed_body_is_kept_as_a_doubt_and_the_visit_stays_readable(pair):
    office, at_office, *_ = pair

    received = receive_additions(office, OWNER, at_office, [EntryDraft(id="a", path="notes", body={"texts": 5})])

    assert received.n_added == 1
    assert "notes" in received.doubts[0]
    assert len(visit_of(office, OWNER, at_office).visit.valves) == 12


def test_who_does_not_look_after_the_site_receives_and_sends_nothing(pair):
    office, at_office, *_ = pair
    stranger = Person(id="s", name="S", role="owner", site_ids=())

    with pytest.raises(NotFound):
        additions_after(office, stranger, at_office)
    with pytest.raises(NotFound):
        receive_additions(office, stranger, at_office, [])


@settings(max_examples=10, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.tuples(st.booleans(), st.sampled_from([*PATHS, "strike"]), st.integers(0, 9)), max_size=10),
    st.sets(st.integers(0, 9)),
)
def test_any_additions_exchanged_at_any_time_give_one_visit(pair, steps, exchanges):
    office, at_office, phone, at_phone = pair
    for number, (is_office, path, n) in enumerate(steps):
        one, visit_id = (office, at_office) if is_office else (phone, at_phone)
        if path == "strike":
            live = [of for of in visit_of(one, OWNER, visit_id).entries if not of.is_void and of.path != "visit"]
            void_entry(one, NORTH, visit_id, live[n % len(live)].id, f"Struck {number}.")
        else:
            add_entry(one, SOUTH, visit_id, path, BODIES[path](n))
        if number in exchanges:
            exchange(office, at_office, phone, at_phone)
    exchange(office, at_office, phone, at_phone)

    assert said(visit_of(office, OWNER, at_office)) == said(visit_of(phone, OWNER, at_phone))
