import json

import numpy as np
import pytest
from pytest import approx
from tests.circuit_cases import a_plant, random_cases

from fifthwire.circuit.cooling import COLD_OUTSIDE, MAIN_SHUT
from fifthwire.circuit.scenario import plain_cases, scenarios_of, together
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import NOTHING_RUNS, solve
from fifthwire.circuit.state_json import state_as_json
from fifthwire.model.errors import InputError
from fifthwire.model.plant import Fault

CLOSURES = ("minutes-after", "settled")


@pytest.mark.parametrize("closure", CLOSURES)
def test_a_plant_at_rating_gives_its_rated_capacity_at_its_rated_speed(closure):
    system = circuit_of(a_plant())

    state = solve(system, scenarios_of(system.plant), closure)

    assert state.unit_capacity_kw[0] == approx(system.unit_kw, rel=1e-6)
    assert (state.speed_frac[0], state.charge_frac[0]) == approx((1.0, 1.0), rel=1e-6)
    assert (state.evaporating_c[0], state.condensing_c[0]) == approx((7.0, 45.0), abs=1e-5)
    assert state.opening_frac[0] == approx(0.41, abs=1e-6)


def test_healthy_valves_without_a_seat_leak_give_the_target_superheat():
    system = circuit_of(a_plant(24))
    cases = together([plain_cases(system.plant).with_(ambient_c=ambient) for ambient in (28.0, 35.0, 43.0)])

    states = solve(system, cases)

    assert np.abs(states.superheat_k - 5.0).max() < 1e-9


def test_a_seat_that_leaks_is_taken_off_the_command():
    system = circuit_of(a_plant(seat_leak_frac=0.05))

    state = solve(system, scenarios_of(system.plant))

    assert np.abs(state.superheat_k - 5.0).max() < 1e-9
    assert np.all(state.opening_frac < 0.40)


def test_a_stuck_valve_starves_or_floods_its_coil_and_its_controller_drives_it_the_other_way():
    system = circuit_of(a_plant())
    sound = plain_cases(system.plant)

    states = solve(system, together([sound.with_stuck(0, z) for z in (0.0, 0.2, 1.0)]))

    assert states.superheat_k[0, 0] == approx(20.0, abs=0.3)  # nothing flows: the room less the evaporating temperature
    assert abs(states.shown_superheat_k[0, 0]) < 0.5  # and both thermistors show the room
    assert states.command_frac[:, 0].tolist() == [1.0, 1.0, 0.06]
    assert states.outlet_quality[2, 0] < 0.95
    assert states.unit_capacity_kw[0, 0] < 1e-6


def test_a_sensor_that_reads_high_floods_its_coil_as_a_stuck_valve_does_but_its_command_is_open():
    plant = a_plant(faults=(Fault(sensor="IU03/gas_pipe", offset_k=6.0),))
    system = circuit_of(plant)

    state = solve(system, scenarios_of(plant))

    assert (state.superheat_k[0, 2], state.command_frac[0, 2]) == approx((0.0, 1.0))
    assert state.shown_superheat_k[0, 2] == approx(6.0, abs=0.1)


def test_a_bypass_stuck_open_is_seen_at_no_indoor_unit():
    plant = a_plant(24, faults=(Fault(valve="subcooler-bypass", stuck_frac=1.0),))
    system = circuit_of(plant)

    state = solve(system, scenarios_of(plant))

    assert np.abs(state.superheat_k - 5.0).max() < 1e-9
    assert state.bypass_superheat_k[0, 0] == 0.0
    assert state.discharge_superheat_k[0, 0] < solve(system, plain_cases(plant)).discharge_superheat_k[0, 0] - 3.0


def test_a_bypass_stuck_open_at_part_load_sends_liquid_to_the_compressor_and_fills_the_accumulator():
    plant = a_plant(24, faults=(Fault(valve="subcooler-bypass", stuck_frac=1.0),))
    system = circuit_of(plant)
    cases = scenarios_of(plant).with_(on=np.arange(24) < 8)

    after, settled = (solve(system, cases, closure) for closure in CLOSURES)

    assert after.suction_quality[0, 0] < 0.96
    assert settled.accumulator_kg[0, 0] > 3.0
    assert settled.liquid_to_compressor_g_s[0, 0] < after.liquid_to_compressor_g_s[0, 0]
    assert settled.opening_frac[0, :8].mean() > 1.2 * after.opening_frac[0, :8].mean()


def test_low_charge_takes_the_subcooling_and_opens_the_valves():
    plant = a_plant(faults=(Fault(charge_frac=0.8),))
    system = circuit_of(plant)

    states = [solve(system, scenarios_of(plant), closure) for closure in CLOSURES]

    for state in states:
        assert state.coil_subcooling_k[0, 0] == 0.0
        assert state.charge_frac[0] == approx(0.8, abs=1e-6)
        assert np.all(state.opening_frac > 0.42)


def test_nothing_runs_where_no_unit_is_on():
    system = circuit_of(a_plant())

    state = solve(system, plain_cases(system.plant).with_(on=False))

    assert (state.converged[0], state.why_not[0]) == (False, NOTHING_RUNS)
    assert np.isnan(state.capacity_kw[0])


def test_one_unit_with_its_valve_shut_has_no_steady_state_and_the_reason_is_given():
    system = circuit_of(a_plant(16))
    cases = plain_cases(system.plant).with_(on=np.arange(16) == 3).with_stuck(3, 0.0)

    state = solve(system, cases)

    assert not state.converged[0]
    assert "suction" in state.why_not[0]
    assert np.isnan(state.unknowns).all()


def test_a_main_valve_shut_while_cooling_and_air_too_cold_for_it_are_refused_by_name():
    system = circuit_of(a_plant())
    sound = plain_cases(system.plant)

    states = solve(system, together([sound.with_stuck(system.valve("main"), 0.0), sound.with_(ambient_c=-15.0)]))

    assert states.why_not.tolist() == [MAIN_SHUT, COLD_OUTSIDE]


@pytest.mark.parametrize("closure", ["minutes-after", "settled"])
def test_air_too_cold_for_cooling_is_the_reason_in_both_closures(closure):
    system = circuit_of(a_plant(8))

    states = solve(system, plain_cases(system.plant).with_(ambient_c=5.0), closure)

    assert states.why_not.tolist() == [COLD_OUTSIDE]


def test_a_main_valve_that_stands_half_shut_while_cooling_widens_the_indoor_valves():
    system = circuit_of(a_plant())
    sound = plain_cases(system.plant)
    place = system.valve("main")

    states = solve(system, together([sound, sound.with_stuck(place, 0.45), sound.with_stuck(place, 0.35)]))

    assert states.converged.all()
    assert np.all(np.diff(states.opening_frac[:, 0]) > 0.0)
    assert np.all(np.diff(states.liquid_kpa_abs) < 0.0)


def test_several_outdoor_units_share_the_load_and_a_stuck_bypass_wets_its_own_compressor():
    system = circuit_of(a_plant(24, n_outdoor=3))
    cases = plain_cases(system.plant).with_(on=np.arange(24) < 10)
    stuck = cases.with_stuck(system.valve("OU2/subcooler-bypass"), 1.0)

    states = solve(system, together([cases, stuck]))

    assert states.outdoor_flow_g_s[0] == approx(states.outdoor_flow_g_s[0, 0])
    assert states.liquid_to_compressor_g_s[1].argmax() == 1
    assert states.liquid_to_compressor_g_s[1, [0, 2]] == approx([0.0, 0.0])
    listed = state_as_json(system, {"minutes-after": states}, 1)["closures"]["minutes-after"]["outdoor"]
    assert [one["id"] for one in listed] == ["OU1", "OU2", "OU3"]


def test_losses_of_the_gas_pipes_are_found_and_their_last_change_reported():
    plant = a_plant()
    plant = a_plant(
        units=tuple(type(unit)(id=unit.id, capacity_kw=unit.capacity_kw, suction_drop_k=0.8) for unit in plant.units)
    )
    system = circuit_of(plant)

    state = solve(system, scenarios_of(plant))

    assert state.loss_residual_k[0] < 1e-6
    assert state.gas_pipe_c[0] == approx(12.0 + 0.8 * (state.flow_g_s[0] / 1e3 / system.rated_flow_kg_s) ** 2, abs=1e-4)
    assert np.all(state.unit_capacity_kw[0] < system.unit_kw)


def test_an_unknown_closure_is_refused():
    system = circuit_of(a_plant())

    with pytest.raises(InputError, match="closure"):
        solve(system, plain_cases(system.plant), "tomorrow")


def test_a_row_does_not_depend_on_the_rows_beside_it_or_on_their_order():
    system = circuit_of(a_plant())
    cases = random_cases(system, 300, 5)

    together_, alone = solve(system, cases), solve(system, cases.rows(slice(270, 280)))
    backwards = solve(system, cases.rows(np.arange(300)[::-1]))

    assert np.nan_to_num(together_.capacity_kw[270:280]) == approx(np.nan_to_num(alone.capacity_kw), rel=1e-7)
    assert np.nan_to_num(together_.capacity_kw) == approx(np.nan_to_num(backwards.capacity_kw[::-1]), rel=1e-7)


def test_the_json_holds_the_keys_of_the_format_and_no_figures_of_what_did_not_converge():
    system = circuit_of(a_plant(2))
    states = solve(system, together([plain_cases(system.plant), plain_cases(system.plant).with_(on=False)]))

    good, bad = (state_as_json(system, {"minutes-after": states}, row)["closures"]["minutes-after"] for row in (0, 1))

    assert bad == {"converged": False, "why_not": NOTHING_RUNS}
    assert list(good) == [
        "converged", "why_not", "energy_residual", "mass_residual", "evaporating_c", "condensing_c", "speed_frac",
        "power_kw", "capacity_kw", "suction_superheat_k", "suction_quality", "liquid_to_compressor_g_s", "discharge_c",
        "discharge_superheat_k", "dry_discharge_superheat_k", "subcooling_k", "subcooler", "units",
    ]  # fmt: skip
    assert list(good["units"][0]) == [
        "id", "opening_frac", "command_frac", "superheat_k", "shown_superheat_k", "flow_g_s", "capacity_kw",
        "gas_pipe_c", "liquid_pipe_c", "supply_air_c",
    ]  # fmt: skip
    json.dumps(good, allow_nan=False)
