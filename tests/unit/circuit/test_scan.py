import numpy as np
import pytest
from tests.circuit_cases import a_plant, random_cases

from fifthwire.circuit.cooling import Cooling
from fifthwire.circuit.heating import Heating
from fifthwire.circuit.problem import Closure
from fifthwire.circuit.scan import scan
from fifthwire.circuit.scenario import plain_cases
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve


@pytest.mark.parametrize("closure", [Closure.MINUTES_AFTER, Closure.SETTLED])
@pytest.mark.parametrize(("mode", "problem"), [("cooling", Cooling), ("heating", Heating)])
def test_a_scan_by_itself_finds_the_state_that_newtons_method_finds(mode, problem, closure):
    system = circuit_of(a_plant(10, mode=mode))
    cases = random_cases(system, 12, 21)
    states = solve(system, cases, closure.value)
    cases, known = cases.rows(states.converged), states.unknowns[states.converged]

    with np.errstate(all="ignore"):
        found, why_not = scan(problem(system, cases, closure))

    agrees = np.abs(found - known).max(axis=1) < 1e-6
    assert agrees.sum() >= len(agrees) - 1
    assert [reason is None for reason in why_not] == np.isfinite(found).all(axis=1).tolist()


def test_where_the_balance_never_changes_its_sign_the_reason_says_on_which_side_it_stays():
    system = circuit_of(a_plant(16, mode="heating"))
    cases = plain_cases(system.plant).with_(on=np.arange(16) == 0, fixed_speed_frac=1.1)

    with np.errstate(all="ignore"):
        found, why_not = scan(Heating(system, cases, Closure.SETTLED))

    assert np.isnan(found).all()
    assert why_not[0].startswith("the rooms take up less than the least speed gives at every condensing temperature")
