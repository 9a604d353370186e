from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pytest import approx
from tests.circuit_cases import a_plant

from fifthwire.circuit.ahri540 import MappedCompressor
from fifthwire.circuit.map_file import read_map
from fifthwire.circuit.mapped import MappedLaw
from fifthwire.circuit.problem import OUTSIDE_MAP
from fifthwire.circuit.scenario import plain_cases
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.model.errors import InputError

LOOP = Path(__file__).parents[2] / "reference" / "variable_speed_loop.json"


def test_twice_the_capacity_is_twice_every_size():
    one, two = a_plant(3), a_plant(3)
    two = replace(two, units=tuple(replace(unit, capacity_kw=2.0 * unit.capacity_kw) for unit in two.units))

    small, large = circuit_of(one), circuit_of(two)

    for name in ("valve_k", "bypass_k", "main_k", "subcooler_kw_k", "size", "rated_flow_kg_s"):
        assert getattr(large, name) == approx(2.0 * getattr(small, name), rel=1e-9), name
    assert large.charge_kg == approx(2.0 * small.charge_kg)
    assert large.flooded_share == approx(small.flooded_share)


@pytest.mark.parametrize("curve", ["concave", "linear", ((0.0, 0.0), (0.3, 0.5), (1.0, 1.0))])
def test_whatever_the_curve_the_rated_flow_is_passed_at_the_rated_opening(curve):
    system = circuit_of(a_plant(4), curve)

    state = solve(system, plain_cases(system.plant))

    assert state.opening_frac[0] == approx(0.41, abs=1e-6)


def test_a_linear_valve_stuck_open_passes_more_than_a_concave_one():
    flows = []
    for curve in ("concave", "linear"):
        system = circuit_of(a_plant(8), curve)
        states = solve(system, plain_cases(system.plant).with_stuck(2, 1.0))
        flows.append(states.flow_g_s[0, 2])

    assert flows[1] > 1.3 * flows[0]


def test_a_compressors_map_takes_the_place_of_the_efficiencies():
    plant = a_plant(12)
    system = circuit_of(plant)
    law = MappedLaw(MappedCompressor(read_map(LOOP.read_text("utf-8"), name="loop"), system.fluid.arrays))
    mapped = circuit_of(plant, law=law)

    state = solve(mapped, plain_cases(plant))
    outside = solve(mapped, plain_cases(plant).with_(evaporating_target_c=17.0))  # the map ends at 15 °C

    assert state.unit_capacity_kw[0] == approx(mapped.unit_kw, rel=1e-6)
    assert 0.4 < state.speed_frac[0] < 1.0
    assert outside.why_not[0] == OUTSIDE_MAP


def test_outdoor_units_without_a_capacity_share_the_indoor_units_together():
    system = circuit_of(a_plant(4, n_outdoor=2))

    assert system.outdoor_kw == approx(np.full(2, system.unit_kw.sum() / 2.0))


def test_heat_recovery_a_plant_without_units_and_a_refrigerant_that_works_otherwise_are_refused():
    for plant, says in (
        (a_plant(2, mode="mixed"), "heat-recovery"),
        (a_plant(0), "no indoor unit"),
        (a_plant(2, refrigerant="R744"), "cannot condense at 45 °C"),
    ):
        with pytest.raises(InputError, match=says):
            circuit_of(plant)
