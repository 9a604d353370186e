"""What must hold of every simulated state, over random plants, weather and faults."""

import numpy as np
import pytest
from tests.circuit_cases import a_plant, random_cases

from fifthwire.circuit.cooling import Cooling
from fifthwire.circuit.newton import newton
from fifthwire.circuit.problem import Closure
from fifthwire.circuit.scan import NOTHING_BALANCES, UNCLEAR
from fifthwire.circuit.scenario import plain_cases, together
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import LOSSES_SWING, solve
from fifthwire.model.plant import PlantUnit

CLOSURES = ("minutes-after", "settled")
NOT_CONFIRMED = tuple(text.partition(" from ")[0].partition(" at any ")[0] for text in (NOTHING_BALANCES, UNCLEAR))
"""How the reasons begin that no bracket confirms."""


def not_solved(states) -> list[str]:
    """Reasons of the cases that neither converged nor were ruled out."""
    return [why for why in states.why_not if why is not None and why.startswith(NOT_CONFIRMED)]


def test_of_2000_random_cases_995_in_1000_are_solved_and_all_of_those_balance():
    unsolved, refused = [], 0
    for n_units in (8, 16, 24, 32, 40):
        for refrigerant in ("R410A", "R32"):
            system = circuit_of(a_plant(n_units, refrigerant=refrigerant))
            for closure in CLOSURES:
                cases = random_cases(system, 100, 1000 + n_units, charge=closure == "settled")
                states = solve(system, cases, closure)
                unsolved += not_solved(states)
                refused += int((~states.converged).sum())
                assert np.nanmax(states.energy_residual) < 1e-6
                assert np.nanmax(states.mass_residual) < 1e-9
                assert np.isnan(states.capacity_kw[~states.converged]).all()

    assert len(unsolved) <= 10, unsolved
    assert refused < 60


@pytest.mark.parametrize(
    ("more", "most_refused"),
    [
        ({"refrigerant": "R407C"}, 12),
        ({"refrigerant": "R454B", "n_outdoor": 2}, 12),
        ({"n_outdoor": 3}, 12),
        ({"mode": "heating"}, 25),
        ({"mode": "heating", "n_outdoor": 2}, 25),
    ],
)
def test_blends_several_outdoor_units_and_heating_are_solved_as_well(more, most_refused):
    system = circuit_of(a_plant(16, **more))

    for closure in CLOSURES:
        states = solve(system, random_cases(system, 80, 7, charge=closure == "settled"), closure)

        assert len(not_solved(states)) <= 1
        assert (~states.converged).sum() <= most_refused
        assert np.nanmax(states.energy_residual) < 1e-6
        assert np.nanmax(states.mass_residual) < 1e-9


@pytest.mark.parametrize("closure", list(Closure)[:2])
def test_ten_random_starts_lead_to_one_state(closure):
    system = circuit_of(a_plant(12))
    cases = random_cases(system, 40, 11)
    known = solve(system, cases, closure.value)
    cases = cases.rows(known.converged)
    rng = np.random.default_rng(3)
    problem = Cooling(system, cases.repeated(10), closure)
    start = problem.start() + rng.uniform(-1.0, 1.0, problem.start().shape) * np.array([8.0, 8.0, 25.0, 25.0, 0.5])

    with np.errstate(all="ignore"):
        found = newton(problem, start)

    solved = found.solved.reshape(-1, 10)
    ends = np.where(found.solved[:, None], found.unknowns, np.nan).reshape(len(cases), 10, -1)
    away = np.abs(ends - known.unknowns[known.converged][:, None])
    assert solved.sum() >= 0.9 * solved.size
    assert (solved.sum(axis=1) >= 9).mean() > 0.8
    assert np.nanmax(away) < 1e-6


@pytest.mark.parametrize("closure", CLOSURES)
@pytest.mark.parametrize("curve", ["concave", "linear"])
def test_superheat_falls_as_a_stuck_valve_stands_further_open(closure, curve):
    system = circuit_of(a_plant(8), curve)
    sound = plain_cases(system.plant)
    openings = np.linspace(0.06, 1.0, 40)

    for ambient, on in ((25.0, 4), (35.0, 8), (44.0, 6)):
        cases = sound.with_(ambient_c=ambient, on=np.arange(8) < on).repeated(len(openings)).with_stuck(2, openings)
        states = solve(system, cases, closure)

        superheat = states.superheat_k[states.converged, 2]
        assert states.converged.sum() >= 38
        assert np.all(np.diff(superheat) <= 1e-7)
        assert superheat[0] > 15.0
        assert superheat[-1] == 0.0


@pytest.mark.parametrize("closure", CLOSURES)
@pytest.mark.parametrize("refrigerant", ["R410A", "R32", "R454B"])
def test_the_discharge_cools_as_a_valve_opens_through_wet_suction(closure, refrigerant):
    system = circuit_of(a_plant(12, refrigerant=refrigerant))
    sound = plain_cases(system.plant)
    openings = np.linspace(0.2, 1.0, 33)

    for valve in (4, 6, system.valve("subcooler-bypass")):
        cases = sound.with_(on=np.arange(12) < 7).repeated(len(openings)).with_stuck(valve, openings)
        states = solve(system, cases, closure)

        wet = states.converged & (states.suction_quality[:, 0] < 1.0)
        if closure == "minutes-after":
            assert np.all(np.diff(states.discharge_superheat_k[wet, 0]) <= 1e-7)
            assert np.all(np.diff(states.suction_quality[wet, 0]) <= 1e-9)
        else:  # the accumulator keeps what its bleed hole does not pass: more comes on
            assert np.all(np.diff(states.liquid_to_compressor_g_s[wet, 0]) >= -1e-6)
            assert np.all(np.diff(states.accumulator_kg[wet, 0]) >= -1e-6)


@pytest.mark.parametrize("drop_k", [0.5, 2.0, 5.0])
def test_losses_of_the_gas_pipes_settle_with_the_flows_however_large(drop_k):
    units = tuple(PlantUnit(id=f"IU{i}", capacity_kw=3.6, suction_drop_k=drop_k * (i % 3) / 2.0) for i in range(9))
    system = circuit_of(a_plant(units=units))

    states = solve(system, random_cases(system, 60, 3))

    assert LOSSES_SWING not in states.why_not
    assert states.converged.sum() >= 55
    assert np.nanmax(states.loss_residual_k) < 2e-6
    there = system.suction_drop_k * (states.flow_g_s / 1e3 / system.rated_flow_kg_s) ** 2
    wet = states.converged[:, None] & (states.flow_g_s > 1.0) & (states.superheat_k == 0.0)
    assert np.abs(states.gas_pipe_c - states.evaporating_c[:, None] - there)[wet].max() < 6.5  # offsets of the sensors


def test_more_refrigerant_is_more_subcooling_and_narrower_valves():
    system = circuit_of(a_plant(8))
    charges = np.linspace(0.7, 1.1, 17)
    cases = plain_cases(system.plant).repeated(17).with_(charge_frac=charges)

    states = solve(system, cases, "settled")

    assert states.converged.all()
    assert np.all(np.diff(states.subcooling_k[:, 0]) >= -1e-9)
    assert np.all(np.diff(states.opening_frac[:, 0]) <= 1e-9)


def test_outdoor_units_in_another_order_are_the_same_system():
    plant = a_plant(12, n_outdoor=2)
    system = circuit_of(plant)
    sound = plain_cases(plant)
    cases = together([sound.with_stuck(system.valve(f"OU{j}/subcooler-bypass"), 1.0) for j in (1, 2)])

    states = solve(system, cases)

    assert states.power_kw[0] == pytest.approx(states.power_kw[1], rel=1e-9)
    assert states.suction_quality[0] == pytest.approx(states.suction_quality[1, ::-1], rel=1e-9)
