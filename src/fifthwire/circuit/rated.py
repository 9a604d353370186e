"""The rated state of a plant, by which its right charge is known."""

from dataclasses import replace

from fifthwire.circuit.charge import boiling_kg, cooling_kg
from fifthwire.circuit.cooling import Cooling
from fifthwire.circuit.newton import newton
from fifthwire.circuit.problem import Closure
from fifthwire.circuit.scenario import rated_case
from fifthwire.circuit.system import CircuitSystem
from fifthwire.model.errors import NoSolution


def rated_charge_kg(system: CircuitSystem) -> float:
    """What the rated state holds, cooling.

    Raises
    ------
    NoSolution
        If the plant has no rated state.
    """
    problem = Cooling(system, rated_case(system.plant), Closure.MINUTES_AFTER)
    found = newton(problem, problem.start())
    if not found.solved[0]:
        raise NoSolution("this plant has no steady state at its own rating", "See whether its capacities fit together.")
    state = problem.state(found.unknowns)
    indoor = boiling_kg(system.unit_kw, state.branches)
    return float(cooling_kg(system, replace(state, indoor_kg=indoor))[0])
