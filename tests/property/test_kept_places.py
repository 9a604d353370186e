"""Whatever people write of places, manuals, meters, notes and findings comes back as it was, from either engine."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fifthwire.model.choices import ACCESS, HEADS, PROOF_KINDS, PROOF_RESULTS, REFRIGERANTS, ROLES, URGENCIES
from fifthwire.model.errors import InputError
from fifthwire.model.kept.manuals import MeterKept, SpecRevision
from fifthwire.model.kept.notes import Note
from fifthwire.model.kept.places import UNIT_KINDS, HeadInstance, Site, SystemPlace, UnitPlace, ValvePlace
from fifthwire.model.kept.todo import FOUND_CAUSES, FOUND_HOW, Found
from fifthwire.model.visit import Accuracy, Meter, MeterRange, Spec, Tolerance
from fifthwire.register import manuals, notes, places, todo, valves
from fifthwire.register.search import SearchText, let_find, search
from fifthwire.register.tables.visits import VISITS
from fifthwire.register.words import words_of
from fifthwire.workflow.list_rows import read_rows
from fifthwire.workflow.list_tables import as_text, neutral, read_table, write_table

SEVERAL = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
NUMBERS = count(1)
TEXT = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"), max_size=60)
NAME = TEXT.filter(str.strip)
MAYBE_TEXT = st.none() | TEXT
FLOAT = st.none() | st.floats(allow_nan=False, allow_infinity=False, width=64)
DAY = st.none() | st.dates()
MOMENT = st.datetimes(
    min_value=datetime(1900, 1, 1),
    max_value=datetime(2200, 1, 1),
    timezones=st.sampled_from([UTC, timezone(timedelta(hours=5, minutes=45)), timezone(-timedelta(hours=7))]),
)


def unique(name):
    """The same name, and never twice."""
    return f"{name}#{next(NUMBERS)}"


def fresh_id():
    return f"id{next(NUMBERS):024d}"


@pytest.fixture
def keeping(register):
    """A transaction that is kept open for all examples, on each engine in turn."""
    with register.adding() as keep:
        places.add_site(keep, Site(id="s", name="S", time_zone="UTC"))
        places.add_system(keep, SystemPlace(id="y", site_id="s", name="Y"))
        yield keep


@SEVERAL
@given(name=NAME, altitude=FLOAT, address=MAYBE_TEXT, refrigerant=st.none() | st.sampled_from(REFRIGERANTS))
def test_sites_and_systems_come_back(keeping, name, altitude, address, refrigerant):
    site = Site(id=fresh_id(), name=unique(name), time_zone="Europe/London", altitude_m=altitude, address=address)
    system = SystemPlace(
        id=fresh_id(), site_id=site.id, name=name, refrigerant=refrigerant, installed=2014, is_heat_recovery=True
    )
    places.add_site(keeping, site)
    places.add_system(keeping, system)

    assert (places.site(keeping, site.id), places.site_named(keeping, site.name)) == (site, site)
    assert (places.system(keeping, system.id), places.system_named(keeping, site.id, name)) == (system, system)


@SEVERAL
@given(
    name=NAME,
    kind=st.sampled_from(UNIT_KINDS),
    room=MAYBE_TEXT,
    capacity=FLOAT,
    role=st.sampled_from(ROLES),
    number=st.none() | st.integers(1, 99),
    head=st.sampled_from(HEADS),
    access=st.none() | st.sampled_from(ACCESS),
    since=DAY,
)
def test_units_valves_and_heads_come_back(keeping, name, kind, room, capacity, role, number, head, access, since):
    unit = UnitPlace(
        id=fresh_id(), system_id="y", name=unique(name), kind=kind, position=3, room=room, capacity_kw=capacity
    )
    valve = ValvePlace(
        id=fresh_id(), system_id="y", unit_id=unit.id, unit=unit.name, role=role, number=number, label=unique(name),
        head=head, access=access,
    )  # fmt: skip
    fitted = HeadInstance(id=fresh_id(), valve_id=valve.id, since=since, part_label=room, is_present=True)
    valves.add_unit(keeping, unit)
    valves.add_valve(keeping, valve)
    valves.add_heads(keeping, [fitted])

    assert (valves.unit(keeping, unit.id), valves.valve(keeping, valve.id)) == (unit, valve)
    assert valves.heads_of(keeping, valve.id) == (fitted,)


PERCENT = st.integers(1, 90_000).map(lambda thousandths: float(f"{thousandths / 1000}") / 100.0)
TOLERANCES = st.builds(Tolerance, frac=PERCENT) | st.builds(Tolerance, ohm=st.floats(0.1, 90.0))
SPECS = st.builds(
    Spec,
    winding=st.sampled_from(["unipolar-5", "unipolar-6", "bipolar-4", "single-2"]),
    resistance_ohm=st.none() | st.floats(0.01, 1e6),
    tolerance=st.none()
    | st.builds(Tolerance, frac=st.floats(0.001, 0.9))
    | st.builds(Tolerance, ohm=st.floats(0.1, 90)),
    at_c=st.none() | st.floats(-50.0, 90.0),
    full_stroke_pulses=st.none() | st.floats(1.0, 1e5),
    source=MAYBE_TEXT,
)
ACCURACIES = st.builds(Accuracy, of_reading_frac=PERCENT, digits=st.integers(0, 9).map(float))
RANGES = st.builds(MeterRange, to_ohm=st.none() | st.floats(1.0, 1e6), accuracy=st.none() | ACCURACIES)
METERS = st.builds(
    Meter,
    accuracy=st.none() | ACCURACIES,
    resolution_ohm=st.none() | st.floats(0.001, 10.0),
    ranges=st.lists(RANGES, max_size=3).map(tuple),
    serial=st.none() | NAME,
    calibrated=DAY,
)


@SEVERAL
@given(name=NAME, spec=SPECS, title=MAYBE_TEXT, page=MAYBE_TEXT, at_utc=MOMENT)
def test_revisions_of_the_manual_come_back(keeping, name, spec, title, page, at_utc):
    first = SpecRevision(
        id=fresh_id(), spec_id=fresh_id(), name=unique(name), revision=1, spec=spec, title=title, page=page, by=name,
        at_utc=at_utc.astimezone(UTC),
    )  # fmt: skip
    second = replace(first, id=fresh_id(), revision=2, page=title)
    manuals.add_spec(keeping, first)
    manuals.revise_spec(keeping, second)

    assert manuals.revisions(keeping, first.spec_id) == (second, first)
    assert manuals.spec_named(keeping, first.name) == second


@SEVERAL
@given(serial=NAME, name=MAYBE_TEXT, meter=METERS, at_utc=MOMENT)
def test_meters_come_back(keeping, serial, name, meter, at_utc):
    kept = MeterKept(
        id=fresh_id(), serial=unique(serial), name=name, meter=meter, by="RT", at_utc=at_utc.astimezone(UTC)
    )
    manuals.add_meter(keeping, kept)

    assert manuals.meter(keeping, kept.id) == manuals.meter_of_serial(keeping, kept.serial) == kept


@SEVERAL
@given(text=NAME, tags=st.lists(NAME, max_size=4).map(tuple), by=NAME, at_utc=MOMENT)
def test_notes_come_back(keeping, text, tags, by, at_utc):
    note = Note(
        id=fresh_id(), about_kind="site", about_id=fresh_id(), text=text, tags=tags, by=by,
        at_utc=at_utc.astimezone(UTC),
    )  # fmt: skip
    notes.add_note(keeping, note, site_id="s", title="S", place="")

    assert notes.notes_of(keeping, "site", note.about_id) == (note,)


@SEVERAL
@given(
    cause=st.sampled_from(FOUND_CAUSES),
    how=st.sampled_from(FOUND_HOW),
    proof=st.none() | st.sampled_from(PROOF_KINDS),
    result=st.none() | st.sampled_from(PROOF_RESULTS),
    urgency=st.sampled_from(URGENCIES),
    why=st.lists(TEXT, max_size=3).map(tuple),
    note=MAYBE_TEXT,
    day=st.dates(),
    at_utc=MOMENT,
)
def test_actions_and_what_was_found_come_back(keeping, cause, how, proof, result, urgency, why, note, day, at_utc):
    unit = UnitPlace(id=fresh_id(), system_id="y", name=unique("U"), kind="outdoor", position=1)
    valve = ValvePlace(
        id=fresh_id(), system_id="y", unit_id=unit.id, unit=unit.name, role="main", label=unique("V"), head="clip-on"
    )
    valves.add_unit(keeping, unit)
    valves.add_valve(keeping, valve)
    visit_id = fresh_id()
    row = {
        "id": visit_id, "system_id": "y", "identity": visit_id, "date": day, "reason": "planned", "is_signed": False,
        "n_issues": 0, "n_valves": 0, "n_entries": 0, "version": 1, "added_utc": at_utc, "added_by": "RT",
    }  # fmt: skip
    keeping.connection.execute(VISITS.insert().values(row))
    found = Found(
        cause=cause, seen_by="RT", how=how, proof_kind=proof, proof_result=result, note=note, date=day, by="RT",
        at_utc=at_utc.astimezone(UTC),
    )  # fmt: skip
    wanted = todo.Wanted(
        valve_id=valve.id, site_id="s", system_id="y", action="replace-head", why=why, urgency=urgency, parts=note
    )
    (action_id,) = todo.want(keeping, visit_id, day, [wanted])
    todo.add_finding(keeping, action_id, found)

    kept = todo.action(keeping, action_id)
    assert (kept.found, kept.state, kept.later_found) == (found, "closed", ())
    assert (kept.why, kept.urgency, kept.parts, kept.since) == (why, urgency, note, day)


@SEVERAL
@given(text=NAME, asked=TEXT)
def test_any_text_is_found_by_its_own_words_and_any_question_is_answered(keeping, text, asked):
    about = fresh_id()
    let_find(keeping, [SearchText(kind="note", about_id=about, site_id="s", title="", body=text)])

    search(keeping, asked)
    words = words_of(text)
    if words:
        by_words = search(keeping, " ".join(words[:12]))
        assert by_words.n_rows >= 1
        assert by_words.n_rows > 1 or by_words.rows[0].id == about


CELL = TEXT.map(lambda text: " ".join(text.split()))


@settings(max_examples=100, deadline=None)
@given(cell=TEXT)
def test_a_cell_comes_back_as_it_went_out_and_is_never_run(cell):
    assert as_text(neutral(cell)) == cell.strip()
    assert not neutral(cell).startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


@settings(max_examples=25, deadline=None)
@given(rows=st.lists(st.lists(CELL, min_size=2, max_size=2), max_size=6), suffix=st.sampled_from([".csv", ".xlsx"]))
def test_a_table_comes_back_as_it_went_out(rows, suffix):
    printable = [["".join(sign if sign.isprintable() else "?" for sign in cell) for cell in row] for row in rows]
    read = read_table(write_table(suffix, ["a", "b"], printable), f"list{suffix}")

    wanted = [["a", "b"], *([cell.strip() for cell in row] for row in printable)]
    while wanted and not any(wanted[-1]):
        wanted.pop()
    assert [row + [""] * (2 - len(row)) for row in read] == wanted


@settings(max_examples=80, deadline=None)
@given(content=st.binary(max_size=200) | TEXT.map(str.encode) | st.binary(max_size=60).map(lambda end: b"PK\3\4" + end))
def test_any_file_is_a_table_or_is_refused_in_words(content):
    try:
        table = read_table(content, "list.csv")
    except InputError as err:
        assert "list.csv" in err.message
        return
    read = read_rows(table, site="S")
    assert read.problems or read.rows or len(table) <= 1
