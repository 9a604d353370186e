import numpy as np
from tests.circuit_cases import a_plant, random_cases

from fifthwire.circuit.cooling import Cooling
from fifthwire.circuit.newton import CLOSE_ENOUGH, newton
from fifthwire.circuit.problem import Closure
from fifthwire.circuit.scenario import plain_cases, together
from fifthwire.circuit.sizing import circuit_of


def test_rows_that_have_no_solution_do_not_hold_up_the_others():
    system = circuit_of(a_plant(6))
    sound = plain_cases(system.plant)
    hopeless = sound.with_(outdoor_airflow_frac=0.03)
    problem = Cooling(system, together([sound, hopeless, sound.with_(ambient_c=40.0)]), Closure.MINUTES_AFTER)

    with np.errstate(all="ignore"):
        found = newton(problem, problem.start())

    assert found.solved.tolist() == [True, False, True]
    assert found.residual[[0, 2]].max() < 100.0 * CLOSE_ENOUGH


def test_slopes_are_those_of_differences_twice_as_wide():
    system = circuit_of(a_plant(8, n_outdoor=2))
    problem = Cooling(system, random_cases(system, 20, 4), Closure.SETTLED)
    u = problem.start()

    _, fine = problem.evaluate(u)
    problem.difference = 2e-6
    _, wide = problem.evaluate(u)

    close = np.isclose(fine, wide, rtol=1e-2, atol=1e-3)
    assert close.mean() > 0.99  # a kink may lie between


def test_a_bypass_that_moves_moves_nothing_indoors_so_that_its_slopes_are_exact_without_them():
    system = circuit_of(a_plant(8))
    problem = Cooling(system, random_cases(system, 10, 4), Closure.SETTLED)
    u = problem.start()

    residual, slopes = problem.evaluate(u)
    moved = u + np.array([0.0, 0.0, 0.0, 0.0, problem.difference * problem.scales[4]])
    again = problem.residual(problem.state(moved))

    assert np.allclose(
        slopes[..., 4], (again - residual) / (problem.difference * problem.scales[4]), rtol=1e-6, atol=1e-6
    )
