import numpy as np
import pytest
from pytest import approx
from tests.circuit_cases import a_plant

from fifthwire.circuit.problem import NO_WAY
from fifthwire.circuit.scenario import plain_cases, scenarios_of, together
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.circuit.state_json import state_as_json
from fifthwire.model.plant import Fault

CLOSURES = ("minutes-after", "settled")


def heating(n_units: int = 12, **more):
    return circuit_of(a_plant(n_units, mode="heating", **more))


@pytest.mark.parametrize("closure", CLOSURES)
def test_a_sound_system_holds_its_condensing_temperature_its_subcooling_and_its_superheat(closure):
    system = heating()

    state = solve(system, plain_cases(system.plant), closure)

    assert state.condensing_c[0] == approx(44.0, abs=1e-6)
    assert np.abs(state.superheat_k[0] - 10.0).max() < 1e-9
    assert state.coil_superheat_k[0] == approx(5.0, abs=1e-9)
    assert (state.energy_residual[0], state.mass_residual[0]) == approx((0.0, 0.0), abs=1e-9)
    assert state.charge_frac[0] == approx(1.0, abs=1e-6)
    assert np.all((state.opening_frac > 0.3) & (state.opening_frac < 1.0))


def test_colder_air_outside_lowers_the_suction_and_raises_the_speed():
    system = heating()
    cases = together([plain_cases(system.plant).with_(ambient_c=ambient) for ambient in (12.0, 7.0, 2.0)])

    states = solve(system, cases)

    assert np.all(np.diff(states.evaporating_c) < 0.0)
    assert np.all(np.diff(states.speed_frac) > 0.0)


def test_an_indoor_valve_stuck_shut_leaves_its_room_cold_and_one_stuck_open_lets_gas_through():
    system = heating()
    sound = plain_cases(system.plant)

    states = solve(system, together([sound.with_stuck(0, z) for z in (0.0, 0.2, 1.0)]), "settled")

    assert states.converged.all()
    assert states.unit_capacity_kw[0, 0] < 1e-6
    assert states.superheat_k[1, 0] > 15.0  # too much subcooling
    assert states.superheat_k[2, 0] < 2.0
    assert states.command_frac[:, 0].tolist() == [1.0, 1.0, 0.06]


def test_a_unit_that_is_off_is_held_a_crack_open_and_gives_next_to_nothing():
    system = heating()
    cases = plain_cases(system.plant).with_(on=np.arange(12) > 0)

    state = solve(system, cases, "settled")

    assert state.command_frac[0, 0] == 0.08
    assert 0.0 < state.flow_g_s[0, 0] < 0.25 * state.flow_g_s[0, 4]
    assert state.supply_air_c[0, 0] == 20.0


@pytest.mark.parametrize("closure", CLOSURES)
def test_a_main_valve_stuck_open_floods_its_own_coil_and_one_stuck_narrow_starves_it(closure):
    system = heating(24, n_outdoor=2)
    sound, place = plain_cases(system.plant), system.valve("OU2/main")

    states = solve(system, together([sound, sound.with_stuck(place, 0.2), sound.with_stuck(place, 1.0)]), closure)

    assert states.converged.all()
    assert states.outdoor_evaporating_c[1, 1] < states.outdoor_evaporating_c[1, 0] - 5.0
    assert states.coil_superheat_k[1, 1] > 10.0
    assert states.suction_quality[2, 1] < 0.99
    assert states.suction_quality[2, 0] == 1.0
    assert states.coil_superheat_k[:, 0] == approx(5.0, abs=1e-9)
    assert states.main_command_frac[1:, 1].tolist() == [1.0, 0.06]


def test_liquid_of_a_flooded_coil_collects_in_its_accumulator_in_time():
    system = heating(24, n_outdoor=2)
    cases = plain_cases(system.plant).with_stuck(system.valve("OU2/main"), 1.0)

    after, settled = (solve(system, cases, closure) for closure in CLOSURES)

    assert settled.accumulator_kg[0, 1] > 3.0
    assert settled.accumulator_kg[0, 0] == 0.0
    assert settled.liquid_to_compressor_g_s[0, 1] < after.liquid_to_compressor_g_s[0, 1]
    assert settled.liquid_kpa_abs[0] < after.liquid_kpa_abs[0]


def test_a_bypass_that_leaks_wets_the_suction():
    plant = a_plant(12, mode="heating", faults=(Fault(valve="subcooler-bypass", stuck_frac=1.0),))
    system = circuit_of(plant)

    state = solve(system, scenarios_of(plant))

    assert state.suction_quality[0, 0] < 0.97
    assert state.coil_superheat_k[0, 0] == approx(5.0, abs=1e-9)


def test_low_charge_flashes_in_the_liquid_line_and_widens_the_main_valve():
    system = heating()
    sound = plain_cases(system.plant)

    states = solve(system, together([sound, sound.with_(charge_frac=0.75)]), "settled")

    assert states.liquid_quality[1, 0] > states.liquid_quality[0, 0] + 0.02
    assert states.main_opening_frac[1, 0] > states.main_opening_frac[0, 0] + 0.05


def test_a_pressure_sensor_that_reads_high_moves_the_subcooling_and_the_speed():
    system = heating()
    sound = plain_cases(system.plant)

    states = solve(system, together([sound, sound.with_(discharge_pressure_offset_k=2.0)]), "settled")

    assert states.condensing_c[1] == approx(42.0, abs=1e-6)
    assert states.superheat_k[1] == approx(8.0, abs=1e-9)
    assert states.shown_superheat_k[1] == approx(10.0, abs=1e-6)


@pytest.mark.parametrize("closure", CLOSURES)
def test_one_main_valve_shut_leaves_its_coil_empty_and_not_full_of_liquid(closure):
    system = heating(n_outdoor=2)
    cases = plain_cases(system.plant).with_stuck(system.valve("OU2/main"), 0.0)

    states = solve(system, cases, closure)

    assert states.outdoor_flow_g_s[0, 1] == 0.0
    assert states.suction_quality[0].tolist() == [1.0, 1.0]
    assert states.suction_superheat_k[0, 1] == approx(7.0 - states.outdoor_evaporating_c[0, 1], abs=0.1)
    made = state_as_json(system, {closure: states})["closures"][closure]
    assert made["discharge_superheat_k"] == made["outdoor"][0]["discharge_superheat_k"] > 10.0
    assert made["outdoor"][1]["discharge_c"] is None
    assert made["outdoor"][1]["discharge_superheat_k"] is None
    assert made["outdoor"][1]["dry_discharge_superheat_k"] is None


def test_every_main_valve_shut_is_refused_with_its_reason():
    system = heating(n_outdoor=2)
    cases = plain_cases(system.plant)
    for name in ("OU1/main", "OU2/main"):
        cases = cases.with_stuck(system.valve(name), 0.0)

    assert solve(system, cases).why_not[0] == NO_WAY


def test_the_json_names_subcooling_and_the_main_valve():
    system = heating()
    states = solve(system, plain_cases(system.plant))

    made = state_as_json(system, {"minutes-after": states})["closures"]["minutes-after"]

    assert made["main"]["superheat_k"] == 5.0
    assert made["units"][0]["subcooling_k"] == 10.0
    assert made["units"][0]["shown_subcooling_k"] == approx(10.0, abs=0.01)
