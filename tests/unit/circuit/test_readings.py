import numpy as np
import pytest
from pytest import approx
from tests.circuit_cases import a_plant

from fifthwire.circuit.fluid import fluid
from fifthwire.circuit.readings import command_frac, drifted_share, mixture_c, supply_air_c
from fifthwire.circuit.scenario import plain_cases
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.surroundings import indoor_coils


def commanded(shown_k: float, *, is_free=False, is_on=True, is_dead=False) -> float:
    one = np.array([1.0])
    return float(
        command_frac(
            opening=0.3 * one, is_free=np.array([is_free]), is_on=np.array([is_on]), is_dead=np.array([is_dead]),
            shown_k=shown_k * one, aim_k=5.0 * one,
        )[0]
    )  # fmt: skip


@pytest.mark.parametrize(
    ("shown_k", "state", "expected"),
    [
        (9.0, {}, 1.0), (1.0, {}, 0.06), (5.2, {}, 0.3), (0.0, {"is_dead": True}, 1.0),
        (9.0, {"is_free": True}, 0.3), (9.0, {"is_on": False}, 0.0),
    ],
)  # fmt: skip
def test_a_stuck_valves_command_goes_the_way_its_readings_ask(shown_k, state, expected):
    assert commanded(shown_k, **state) == expected


def test_a_pipe_with_no_flow_has_drifted_and_one_with_the_rated_flow_has_not():
    assert drifted_share(np.array([0.0, 1.0]), np.array([1.0, 1.0])) == approx([1.0, 0.0], abs=1e-12)


def test_a_mixture_lies_between_bubble_and_dew():
    at = fluid("R407C").saturated(np.array(5.0))

    assert mixture_c(at, np.array([0.0, 1.0])) == approx([float(at.bubble_c), 5.0])


def test_air_leaves_a_cooling_coil_colder_and_a_heating_coil_warmer():
    system = circuit_of(a_plant(1))
    coil = indoor_coils(system, plain_cases(system.plant))

    cooled, warmed = supply_air_c(coil, system.unit_kw[None, :]), supply_air_c(coil, -system.unit_kw[None, :])

    assert 10.0 < cooled[0, 0] < 17.0
    assert warmed[0, 0] == approx(27.0 + 1.0 / (0.055 * 1.02))
