"""What a faulty valve does if it is left: the table, the sentence, and that nothing is said where nothing is known."""

import re
from dataclasses import replace

import pytest
from tests import report_visits as visits

from fifthwire.assessment import report_page
from fifthwire.assessment.consequence_table import TABLE
from fifthwire.assessment.consequences import SIZE_CLASSES, STAYS, consequence_of, indoor_units, parsed, written
from fifthwire.model.assessment import CauseProbability
from fifthwire.model.choices import REFRIGERANTS, VALVE_CURVES
from fifthwire.model.visit import System

LINES = parsed(TABLE)


def asked(cause: str, *, role="indoor", refrigerant="R410A", units=24, mode="cooling", **more):
    """What is said of a valve with a cause, in a system with so many indoor units."""
    valve = visits.a_valve("X1", role=role, unit="IU01" if role == "indoor" else "OU1", **more)
    others = tuple(visits.a_valve(f"V{at}", role="indoor", unit=f"IU{at:02d}") for at in range(1, units + 1))
    visit = replace(visits.a_visit((valve, *others)), system=System(refrigerant=refrigerant, mode=mode))
    judged = replace(visits.a_good_one("X1"), causes=(CauseProbability(cause=cause, probability=0.97),))
    return consequence_of(visit, valve, judged)


def test_the_table_has_every_refrigerant_but_the_one_that_cannot_condense_both_modes_sizes_and_curves():
    keys = {(line.mode, line.refrigerant, line.units, line.curve, line.role) for line in LINES}

    roles = {"cooling": ("indoor", "subcooler-bypass"), "heating": ("indoor", "main", "subcooler-bypass")}
    assert keys == {
        (mode, refrigerant, units, curve, role)
        for mode, of in roles.items()
        for refrigerant in REFRIGERANTS
        if refrigerant != "R744"
        for units in SIZE_CLASSES
        for curve in VALVE_CURVES
        for role in of
    }
    assert len(keys) == len(LINES)


def test_a_line_is_there_and_back():
    assert "\n".join(written(line) for line in LINES) == TABLE.strip()


def test_figures_are_openings_and_shares():
    for line in LINES:
        for low, high in line[5:]:
            assert low is None or 0.0 <= low <= 1.0
            assert high is None or (low is not None and low <= high <= 1.0)


def test_liquid_comes_earlier_with_fewer_units_on_and_with_the_own_unit_off():
    for line in LINES:
        if (line.mode, line.role) == ("cooling", "indoor") and line.part_from[0] is not None:
            assert line.full_from[0] is None or line.part_from[0] <= line.full_from[0]
            assert line.stopped_from[0] < line.part_from[0]


def test_in_a_larger_system_one_shut_valve_loses_less():
    for refrigerant in ("R410A", "R32"):
        lost = [
            line.full_lost[1]
            for line in LINES
            if (line.mode, line.refrigerant, line.curve, line.role) == ("cooling", refrigerant, "concave", "indoor")
        ]
        assert lost == sorted(lost, reverse=True)


def test_a_body_stuck_open_floods_at_part_load_by_the_figures_of_the_table():
    said = asked("body-stuck-open")

    begins = [line.part_from[0] for line in LINES if line[:3] == ("cooling", "R410A", 24) and line.role == "indoor"]
    assert f"from {int(min(begins) * 100.0) // 5 * 5} to " in said.sentence
    assert "with a third of the units on" in said.sentence
    assert said.sentence.startswith("If it is left open, ")
    assert "R410A with 24 indoor units in cooling" in said.assumed
    assert "not validated on a machine in the field" in said.assumed


def test_a_body_stuck_shut_leaves_its_room_without_cooling():
    assert "its room is not cooled and the system loses" in asked("body-stuck-closed").sentence
    assert "its room is not heated" in asked("body-stuck-closed", mode="heating").sentence


def test_a_valve_that_passes_when_shut_is_told_with_its_unit_off():
    assert "passes liquid while its unit is off" in asked("leaks-when-shut").sentence


def test_a_dead_head_stays_where_it_stopped():
    said = asked("winding").sentence

    assert said.startswith("If it is left, it stays where it stopped: ")
    assert "nearly shut" in said and "liquid reaches the compressor" in said


def test_no_indoor_superheat_shows_a_bypass_that_stands_open():
    assert "no indoor unit's superheat shows it" in asked("body-stuck-open", role="subcooler-bypass").sentence


def test_a_main_valve_matters_while_it_heats():
    assert asked("body-stuck-open", role="main") is None
    assert "liquid reaches the compressor" in asked("body-stuck-open", role="main", mode="heating").sentence


@pytest.mark.parametrize("cause", ["sound", "sensor", "refrigerant-side"])
def test_nothing_is_said_where_it_is_not_the_valve(cause):
    assert asked(cause) is None


def test_nothing_is_said_where_nothing_like_it_was_simulated():
    assert asked("winding", refrigerant=None) is None
    assert asked("winding", refrigerant="R744") is None
    assert asked("winding", role="injection") is None
    assert asked("winding", mode="mixed") is None
    assert asked("winding", kind="solenoid", head=None) is None


def test_every_cause_of_a_valve_has_its_one_sentence():
    for cause in STAYS:
        for refrigerant in {line.refrigerant for line in LINES}:
            for units in (6, 24, 48):
                said = asked(cause, refrigerant=refrigerant, units=units)
                assert said is not None
                assert re.fullmatch(r"[A-Z][^.]*\.", said.sentence), said.sentence


@pytest.mark.parametrize(("units", "size"), [(6, 8), (20, 24), (48, 40)])
def test_the_size_is_that_of_the_system(units, size):
    assert f"with {size} indoor units" in asked("winding", units=units).assumed


def test_a_visit_of_few_units_says_that_the_size_is_taken():
    said = asked("winding", units=1)

    assert "with 24 indoor units" in said.assumed
    assert said.assumed.endswith("The visit does not tell how many indoor units there are.")


def test_units_of_a_snapshot_count_once():
    visit, _ = visits.a_large_system()

    assert indoor_units(visit) == len({one.unit for one in visit.valves if one.role == "indoor"})


def test_the_report_says_it_under_the_valve_with_what_it_rests_on():
    visit, assessment = visits.every_mark()
    visit = replace(visit, system=replace(visit.system, refrigerant="R410A"))

    page = report_page(visit, assessment)

    assert page.count("If it is left (simulated)</p>") >= 2
    assert page.count("simulated, not measured here") == 1
