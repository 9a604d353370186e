"""A visit filled in on the page: what stands where, the next two pins, what two people write at once."""

from datetime import date

import pytest
from pytest import approx

from fifthwire.model.errors import Conflict, InputError, NotAllowed, NotFound
from fifthwire.model.kept.people import Person, alone
from fifthwire.workflow import places, valves
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.manuals import add_spec
from fifthwire.workflow.visit_fill import filling, valve_filling
from fifthwire.workflow.visit_say import merged, say_how_it_runs, say_of_system, say_of_valve, take_reading
from fifthwire.workflow.visits_kept import add_entry, new_visit, visit_of, void_entry

OWNER = alone("rt")
READER = Person(id="r", name="R", role="reader")
PRIORS = load_priors()


@pytest.fixture
def visit_id(register) -> str:
    """A visit of a system with one outdoor and one indoor valve, before anything was looked at."""
    site = places.add_site(register, OWNER, name="Quayside House", time_zone="Europe/London")
    system = places.add_system(register, OWNER, site_id=site.id, name="QH-1", refrigerant="R410A")
    outdoor = valves.add_unit(register, OWNER, system_id=system.id, name="OU1", kind="outdoor")
    indoor = valves.add_unit(register, OWNER, system_id=system.id, name="IU/07", kind="indoor")
    spec = add_spec(
        register, OWNER, name="clip", spec={"winding": "unipolar-5", "resistance": "62 ohm", "tolerance": "10 %"}
    )
    more = {"head": "clip-on", "spec_id": spec.spec_id}
    valves.add_valve(register, OWNER, unit_id=outdoor.id, role="main", label="OU1-main", **more)
    valves.add_valve(register, OWNER, unit_id=indoor.id, role="indoor", label="IU/07 valve", **more)
    return new_visit(register, OWNER, system.id, date(2026, 5, 12)).id


def touched(register, visit_id, label, pins, shown, when="as-found"):
    return take_reading(register, OWNER, visit_id, label, pins, shown, when=when)


def asked(register, visit_id, label, **more):
    return valve_filling(register, OWNER, visit_id, label, priors=PRIORS, **more)


def test_the_list_names_every_valve_and_what_is_written_down_of_it(register, visit_id):
    touched(register, visit_id, "OU1-main", ("5", "1"), 64.9)
    say_of_valve(register, OWNER, visit_id, "OU1-main", "look", {"rust": "light"})
    lines = {line.label: line for line in filling(register, OWNER, visit_id).lines}

    assert lines.keys() == {"OU1-main", "IU/07 valve"}
    assert (lines["OU1-main"].n_readings, lines["OU1-main"].is_looked_at, lines["OU1-main"].is_moved) == (
        1,
        True,
        False,
    )
    assert lines["IU/07 valve"].n_readings == 0 and not lines["IU/07 valve"].is_looked_at


def test_a_step_of_making_safe_is_done_once_all_that_confirms_it_is_there(register, visit_id):
    add_entry(register, OWNER, visit_id, "confirmations", {"what": "locked-out"})
    half = {step.code: step for step in filling(register, OWNER, visit_id).before}
    add_entry(register, OWNER, visit_id, "confirmations", {"what": "proved-dead"})
    whole = {step.code: step for step in filling(register, OWNER, visit_id).before}

    assert not half["safe.lock-out"].is_done and whole["safe.lock-out"].is_done
    assert whole["safe.lock-out"].confirmations == (("locked-out", "rt"), ("proved-dead", "rt"))
    assert not whole["safe.unplug"].is_done  # nothing confirms it
    assert "safe.lock-out" not in asked(register, visit_id, "OU1-main").unsafe


def test_the_first_pair_is_named_before_anything_is_read(register, visit_id):
    of = asked(register, visit_id, "OU1-main")

    assert of.step is not None and of.session is not None
    assert of.step.next_pins is not None and set(of.step.next_pins) <= set(of.session.pins)
    assert of.readings == () and of.when == "as-found"


def test_pins_are_asked_for_until_nothing_is_left_to_settle(register, visit_id):
    ohms = {frozenset(("5", pin)): 62.1 + 0.1 * int(pin) for pin in "1234"}
    say_of_valve(register, OWNER, visit_id, "OU1-main", "before", {"plug_off": True, "head_temperature": 21.0})
    pairs = 0
    while (of := asked(register, visit_id, "OU1-main")).step.next_pins is not None:
        a, b = of.step.next_pins
        value = ohms.get(frozenset((a, b)), ohms.get(frozenset(("5", a)), 0.0) + ohms.get(frozenset(("5", b)), 0.0))
        touched(register, visit_id, "OU1-main", (a, b), round(value, 1))
        pairs += 1
        assert pairs <= 10

    assert of.step.winding.verdict == "sound"
    assert len(of.readings) == pairs <= 6


def test_a_reading_struck_out_is_shown_struck_and_not_used(register, visit_id):
    wrong = touched(register, visit_id, "OU1-main", ("5", "1"), "open")
    void_entry(register, OWNER, visit_id, wrong.id, "misread")
    of = asked(register, visit_id, "OU1-main")

    assert [entry.is_void for entry in of.readings] == [True]
    assert of.session is not None and of.session.readings == ()


def test_readings_after_cleaning_stand_in_a_state_of_their_own(register, visit_id):
    touched(register, visit_id, "OU1-main", ("5", "1"), "open")
    touched(register, visit_id, "OU1-main", ("5", "1"), 62.4, when="after-cleaning")
    touched(register, visit_id, "OU1-main", ("5", "2"), 62.5, when="after-cleaning")
    (valve,) = [one for one in visit_of(register, OWNER, visit_id).visit.valves if one.id == "OU1-main"]

    assert [one.ohm for one in valve.readings] == [None]
    assert [(one.when, [r.ohm for r in one.readings]) for one in valve.measurements] == [
        ("after-cleaning", [62.4, 62.5])
    ]
    latest = asked(register, visit_id, "OU1-main")
    assert latest.when == "after-cleaning" and len(latest.readings) == 2
    assert len(asked(register, visit_id, "OU1-main", when="as-found").readings) == 1


def test_a_label_with_a_slash_is_a_valve_like_any_other(register, visit_id):
    touched(register, visit_id, "IU/07 valve", ("5", "1"), 62.0)
    say_of_valve(register, OWNER, visit_id, "IU/07 valve", "look", {"connector": "wet"})
    of = asked(register, visit_id, "IU/07 valve")

    assert len(of.readings) == 1 and of.parts["inspection"] == {"connector": "wet"}
    assert (of.before, of.following) in {("OU1-main", None), (None, "OU1-main")}


def test_one_part_is_written_over_key_by_key_and_none_takes_a_key_out(register, visit_id):
    say_of_valve(register, OWNER, visit_id, "OU1-main", "before", {"head_temperature": "31 degC", "plug_off": True})
    say_of_valve(register, OWNER, visit_id, "OU1-main", "before", {"plug_off": None, "meter": None})
    of = asked(register, visit_id, "OU1-main")

    assert of.valve.head_temperature_c == approx(31.0) and of.valve.plug_off is None
    assert of.body["id"] == "OU1-main" and of.valve.spec == "clip"


def test_the_plug_on_the_board_stands_in_the_way_of_measuring(register, visit_id):
    say_of_valve(register, OWNER, visit_id, "OU1-main", "before", {"plug_off": False})
    of = asked(register, visit_id, "OU1-main")

    assert of.session is None and "plug_off" in of.hindrance


def test_how_a_valve_runs_goes_into_the_one_snapshot(register, visit_id):
    say_of_system(register, OWNER, visit_id, "snapshot", {"ambient": 33.0})
    say_how_it_runs(register, OWNER, visit_id, "IU/07 valve", {"opening": 210.0, "gas_pipe": 13.0})
    say_how_it_runs(register, OWNER, visit_id, "OU1-main", {"opening": 480.0})
    say_how_it_runs(register, OWNER, visit_id, "IU/07 valve", {"gas_pipe": None, "liquid_pipe": 8.1})
    snapshot = visit_of(register, OWNER, visit_id).visit.snapshot

    assert snapshot is not None and snapshot.ambient_c == 33.0
    unit = snapshot.units["IU/07"]
    assert (unit.valve, unit.liquid_pipe_c, unit.gas_pipe_c) == ("IU/07 valve", 8.1, None)
    assert unit.opening is not None and unit.opening.pulses == 210.0
    assert snapshot.valves["OU1-main"].opening.pulses == 480.0
    assert asked(register, visit_id, "OU1-main").running == {"opening": 480.0}


def test_the_second_of_two_people_at_one_table_is_shown_both(register, visit_id):
    seen = visit_of(register, OWNER, visit_id).kept.version
    say_of_valve(register, OWNER, visit_id, "OU1-main", "look", {"rust": "heavy"}, version=seen)

    with pytest.raises(Conflict) as caught:
        say_of_valve(register, OWNER, visit_id, "OU1-main", "look", {"rust": "none"}, version=seen)
    assert caught.value.theirs.body["rust"] == "heavy" and caught.value.yours.body["rust"] == "none"


def test_what_cannot_be_is_refused_and_nothing_is_kept(register, visit_id):
    before = visit_of(register, OWNER, visit_id).kept.version

    with pytest.raises(InputError, match="named twice"):
        touched(register, visit_id, "OU1-main", ("5", "5"), 62.0)
    with pytest.raises(InputError):
        touched(register, visit_id, "OU1-main", ("5", "1"), -3.0)
    with pytest.raises(InputError):
        say_of_valve(register, OWNER, visit_id, "OU1-main", "look", {"rust": "pink"})
    with pytest.raises(InputError, match="no part"):
        say_of_valve(register, OWNER, visit_id, "OU1-main", "measure", {})
    with pytest.raises(InputError, match="no table"):
        say_of_system(register, OWNER, visit_id, "specs", {})
    with pytest.raises(NotFound, match="no valve"):
        asked(register, visit_id, "OU9-main")
    assert visit_of(register, OWNER, visit_id).kept.version == before


def test_a_reader_reads_and_writes_nothing(register, visit_id):
    assert valve_filling(register, READER, visit_id, "OU1-main", priors=PRIORS).valve.id == "OU1-main"

    for write in (
        lambda: take_reading(register, READER, visit_id, "OU1-main", ("5", "1"), 62.0, when="as-found"),
        lambda: say_of_valve(register, READER, visit_id, "OU1-main", "look", {"rust": "none"}),
        lambda: say_of_system(register, READER, visit_id, "system", {"mode": "off"}),
        lambda: say_how_it_runs(register, READER, visit_id, "OU1-main", {"opening": 3.0}),
    ):
        with pytest.raises(NotAllowed):
            write()


def test_without_a_spec_the_wires_are_asked_for(register, visit_id):
    say_of_valve(register, OWNER, visit_id, "OU1-main", "before", {"spec": None})

    assert asked(register, visit_id, "OU1-main").session is None
    told = asked(register, visit_id, "OU1-main", arrangement="bipolar-4")
    assert told.session is not None and len(told.session.pins) == 4


def test_tables_inside_a_table_are_merged():
    assert merged({"units": {"A": {"on": True}}}, {"units": {"B": {"on": False}}}) == {
        "units": {"A": {"on": True}, "B": {"on": False}}
    }
