"""A state as drawings."""

import numpy as np
import pytest
from pytest import approx
from tests.invented_plants import a_plant, stuck, two_outdoor

from fifthwire.circuit.picture import state_cycle, state_pictures
from fifthwire.circuit.scenario import scenarios_of
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.physics.refrigerants import refrigerant

R410A = refrigerant("R410A")


def solved(plant, closure="minutes-after"):
    system, cases = circuit_of(plant), scenarios_of(plant)
    return system, cases, solve(system, cases, closure=closure)


def test_the_corners_are_those_of_the_state():
    system, _, states = solved(a_plant())

    cycle = state_cycle(system, states, 0, 0)

    by_name = {one.name: one for one in cycle.points}
    low = R410A.dew_kpa_abs(float(states.evaporating_c[0]))
    assert by_name["suction"].kpa_abs == approx(low, rel=1e-6)
    assert by_name["suction"].c == approx(states.evaporating_c[0] + states.suction_superheat_k[0, 0], abs=1e-3)
    assert by_name["discharge"].c == approx(states.discharge_c[0, 0])
    assert by_name["liquid"].enthalpy_kj_kg == by_name["inlet"].enthalpy_kj_kg
    # work of the compressor between its corners, against its power and flow
    work = by_name["discharge"].enthalpy_kj_kg - by_name["suction"].enthalpy_kj_kg
    assert work * states.outdoor_flow_g_s[0, 0] / 1e3 == approx(states.power_kw[0], rel=1e-6)


def test_wet_suction_stands_inside_the_dome():
    system, _, states = solved(a_plant(faults=(stuck("IU04", 1.0),)))

    suction = state_cycle(system, states, 0, 0).points[0]

    assert suction.quality == approx(states.suction_quality[0, 0])
    assert suction.quality < 1.0
    assert suction.c is None
    assert suction.enthalpy_kj_kg < R410A.vapour_enthalpy_kj_kg(suction.kpa_abs)


def test_there_is_a_diagram_an_outdoor_unit_and_a_bar_a_unit():
    plant = a_plant(6, faults=(stuck("IU02", 1.0),), outdoor=two_outdoor())
    system, cases, states = solved(plant)
    cases = cases.with_(on=np.array([True, True, True, True, True, False]))
    states = solve(system, cases)

    pictures = state_pictures(system, cases, states, 0)

    assert [one.title for one in pictures] == [
        "Pressure-enthalpy diagram of OU1, minutes after",
        "Pressure-enthalpy diagram of OU2, minutes after",
        "Superheat of the indoor units, minutes after",
    ]
    said = pictures[2].description
    assert "IU02: 0.0 K, target 5.0" in said
    assert "IU06: off" in said
    assert pictures[0].description.endswith("All four corners are simulated.")


def test_every_outdoor_unit_that_heats_is_drawn_at_its_own_suction_and_one_that_stands_still_is_not():
    plant = a_plant(6, mode="heating", outdoor=two_outdoor())
    system = circuit_of(plant)
    sound = scenarios_of(plant)
    place = system.valve("OU2/main")
    starved, shut = (solve(system, sound.with_stuck(place, opening)) for opening in (0.3, 0.0))

    points = [state_cycle(system, starved, 0, at).points[0] for at in (0, 1)]

    assert starved.outdoor_evaporating_c[0, 0] > starved.outdoor_evaporating_c[0, 1] + 1.0
    for at, one in enumerate(points):
        assert one.kpa_abs == approx(R410A.dew_kpa_abs(float(starved.outdoor_evaporating_c[0, at])), rel=1e-6)
    titles = [one.title for one in state_pictures(system, sound, shut, 0)]
    assert [one for one in titles if "OU" in one] == ["Pressure-enthalpy diagram of OU1, minutes after"]


@pytest.mark.parametrize("units", [48, 60])
def test_many_units_are_drawn_in_parts(units):
    system, cases, states = solved(a_plant(units))

    bars = [one for one in state_pictures(system, cases, states, 0) if one.title.startswith("Superheat")]

    assert len(bars) == (1 if units <= 48 else 2)
    assert sum(one.description.count("target") for one in bars) == units


def test_in_fahrenheit_a_kelvin_is_nine_fifths():
    system, cases, states = solved(a_plant())

    bars = state_pictures(system, cases, states, 0, units="us")[-1]

    assert "IU01: 9.0 °F, target 9.0" in bars.description


def test_a_state_that_was_not_found_is_not_drawn():
    system, cases, _ = solved(a_plant())
    nobody = cases.with_(on=False)

    assert state_pictures(system, nobody, solve(system, nobody), 0) == ()
