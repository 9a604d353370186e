"""The three plain lines: what is wrong, what if it is left and by when, what to decide."""

from dataclasses import replace

from tests import report_visits as visits

from fifthwire.assessment.summary import BY_CAUSE, IF_LEFT, three_lines
from fifthwire.model import choices
from fifthwire.model.assessment import CauseProbability


def lines_of(*valves, records=None, **more):
    records = records or tuple(visits.a_valve(valve.id) for valve in valves)
    return three_lines(visits.a_visit(records), visits.an_assessment(*valves, **more))


def test_a_sure_fault_is_named_with_its_cause():
    lines = lines_of(visits.a_good_one("OU1-main"), visits.an_open_winding("OU1-subcooler"))

    assert lines.wrong == "1 of 2 valves is bad: OU1-subcooler (open winding, wire 3). The others: 1 good."


def test_by_when_says_now_for_what_cannot_wait():
    lines = lines_of(visits.an_open_winding("IU01-valve"), visits.a_jammed_motor("IU02-valve"))

    assert "By when: now for IU01-valve; the next planned visit for the rest." in lines.if_left
    assert "Until then: hold the valve shut (IU01-valve); keep the unit off (IU02-valve)." in lines.if_left


def test_the_decision_names_the_parts_by_their_kind():
    motor = replace(visits.an_open_winding("IU02-valve"), urgency="planned")
    body = replace(visits.an_open_winding("IU03-valve"), action="replace-body")
    records = (visits.a_valve("IU01-valve"), visits.a_valve("IU02-valve", head="bolt-on"), visits.a_valve("IU03-valve"))

    lines = lines_of(visits.an_open_winding("IU01-valve"), motor, body, records=records)

    assert lines.decide == (
        "Agree to new parts: 1 coil (IU01-valve), 1 motor (IU02-valve) and 1 body (IU03-valve). "
        "Now: IU01-valve and IU03-valve."
    )


def test_time_to_check_is_asked_for_with_its_minutes():
    lines = lines_of(visits.a_jammed_motor("IU02-valve"), visits.an_undecided_one("IU03-valve"))

    assert "Give us time to check 2 valves more (about 13 minutes, the system stopped for part of it)" in lines.decide


def test_nothing_wrong_asks_for_nothing():
    lines = lines_of(visits.a_good_one("IU01-valve"), visits.a_good_one("IU02-valve"))

    assert lines.wrong == "No fault is shown on 2 valves: 2 good."
    assert lines.if_left == "Nothing is known that gets worse."
    assert lines.decide == "Nothing now."


def test_what_was_not_checked_is_never_called_good():
    lines = lines_of(visits.an_untouched_one("IU01-valve"))

    assert lines.wrong == "No fault is shown on 1 valve: 1 not checked."
    assert lines.if_left == "Nothing is shown to get worse; 1 valve may hide a fault until looked at."


def test_forty_faults_stay_three_short_lines():
    valves = [visits.an_open_winding(f"IU{number:02}-valve") for number in range(40)]

    lines = lines_of(*valves)

    assert "and 36 more" in lines.wrong
    assert all(len(text) < 700 for _, text in lines.labelled())


def test_a_fault_of_the_system_as_a_whole_is_told_first():
    shared = (CauseProbability(cause="charge-low", probability=0.97), CauseProbability(cause="fine", probability=0.03))

    lines = lines_of(visits.a_good_one("IU01-valve"), system_causes=shared)

    assert lines.wrong.startswith("The system as a whole: charge low (sure).")


def test_a_visit_without_valves_has_its_lines():
    lines = lines_of()

    assert lines.wrong == "No fault is shown on 0 valves."
    assert lines.decide == "Nothing now."


def test_every_role_has_its_consequence():
    assert set(IF_LEFT) == set(choices.ROLES)
    assert set(BY_CAUSE) < set(choices.VALVE_CAUSES)


def test_liquid_at_a_compressor_is_said_first():
    from tests.judged_visits import assessed
    from tests.running_visits import running_visit

    from fifthwire.visitfile import read_visit

    text = running_visit(outdoor={"OU1": {"ssh": 0.1, "dsh": 8.0}, "OU2": {}})
    visit = read_visit(text, name="made.visit.toml", syntax="toml").visit

    assert three_lines(visit, assessed(text)).wrong.startswith("Liquid refrigerant likely reaches compressor OU1/C1. ")
