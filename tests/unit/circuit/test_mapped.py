"""A map as the law of a system's compressors."""

from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.ahri540 import MappedCompressor
from fifthwire.circuit.compressor import Suction
from fifthwire.circuit.fluid import fluid
from fifthwire.circuit.map_file import read_map
from fifthwire.circuit.mapped import MappedLaw

ROOT = Path(__file__).parents[2]

LOOP = (ROOT / "reference" / "variable_speed_loop.json").read_text("utf-8")
FLUID = fluid("R410A")


@pytest.fixture(scope="module")
def mapped() -> MappedCompressor:
    return MappedCompressor(read_map(LOOP, name="loop.json"), FLUID.arrays)


def suction_at(evaporating_c, superheat_k) -> Suction:
    at = FLUID.saturated(np.asarray(evaporating_c, dtype=float))
    enthalpy = at.superheated_enthalpy(np.asarray(superheat_k, dtype=float))
    return Suction(at, enthalpy, FLUID.entering(at, enthalpy))


EVAPORATING = np.array([-12.3, 0.7, 7.0, 11.9])
CONDENSING = np.array([31.2, 44.4, 52.0, 38.8])


def test_the_surfaces_are_the_map(mapped):
    law, suction = MappedLaw(mapped), suction_at(EVAPORATING, 6.0)
    speed = np.array([0.3, 0.6, 0.8, 1.0])

    flow = mapped.flow_kg_s(EVAPORATING, CONDENSING, speed, suction.state.volume)

    assert law.speed_frac(flow, np.ones(4), suction, CONDENSING) == approx(speed, rel=1e-6)
    efficiency = mapped.isentropic_frac(EVAPORATING, CONDENSING, speed)
    assert law.work_kj_kg(speed, np.ones(4), suction, CONDENSING, np.full(4, 30.0)) == approx(
        30.0 / efficiency, rel=1e-6
    )


def test_a_system_has_whole_compressors(mapped):
    law, suction = MappedLaw(mapped), suction_at(7.0, 5.0)
    one = mapped.flow_kg_s(7.0, 45.0, 1.0, suction.state.volume)

    sizes = law.size_for(np.array([0.1, 1.01, 1.2, 2.5]) * one, suction, np.full(4, 45.0))

    assert sizes.tolist() == [1.0, 1.0, 2.0, 3.0]


def test_two_compressors_move_twice_as_much_at_a_speed(mapped):
    law, suction = MappedLaw(mapped), suction_at(7.0, 5.0)
    flow, at = np.array([0.1]), np.array([45.0])

    assert law.speed_frac(2.0 * flow, np.array([2.0]), suction, at) == approx(
        law.speed_frac(flow, np.array([1.0]), suction, at)
    )


def test_the_map_of_the_open_loop_has_efficiencies_that_compressors_have(mapped):
    efficiency = mapped.isentropic_frac(EVAPORATING, CONDENSING, 1.0)

    assert np.all((efficiency > 0.4) & (efficiency < 1.0))


def test_a_state_outside_the_limits_is_told(mapped):
    law = MappedLaw(mapped)

    assert law.is_outside(np.array([7.0, 16.0]), np.array([45.0, 45.0])).tolist() == [False, True]
