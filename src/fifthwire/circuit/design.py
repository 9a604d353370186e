"""The charge that takes part when a rightly charged system heats.

A system is charged for cooling and holds too much for heating: the outdoor coils that condensed now boil. By design the
rest waits in the accumulators. What takes part is what the rated state of heating holds with the liquid line's pressure
where it is meant to stand.
"""

from dataclasses import replace
from typing import Final

import numpy as np

from fifthwire.circuit import sizes
from fifthwire.circuit.charge import heating_kg
from fifthwire.circuit.heating import Heating
from fifthwire.circuit.newton import Found, newton
from fifthwire.circuit.problem import Closure
from fifthwire.circuit.scenario import AMBIENT_C, ROOM_C, plain_cases
from fifthwire.circuit.system import CircuitSystem
from fifthwire.model.errors import NoSolution
from fifthwire.model.plant import Plant

STARTS: Final = 16
SEED: Final = 20260512
ANY_SPEED: Final = (0.02, 4.0)
"""Whatever it takes to hold the rated condensing temperature: the charge does not depend on a compressor's range."""


def heating_design_kg(system: CircuitSystem) -> float:
    """What the rated state of heating holds. [kg]

    Raises
    ------
    NoSolution
        If the plant has no rated state of heating.
    """
    cases = plain_cases(system.plant).with_(
        ambient_c=AMBIENT_C["heating"],
        rooms_c=ROOM_C["heating"],
        on=True,
        leak_frac=0.0,
        condensing_target_c=Plant.condensing_c,
        superheat_target_k=sizes.RATED_SUPERHEAT_K,
        subcooling_target_k=Plant.target_subcooling_k,
        fixed_speed_frac=np.nan,
    )
    compressor = replace(system.plant.compressor, speed_frac=ANY_SPEED)
    free = replace(system, plant=replace(system.plant, compressor=compressor))
    problem = Heating(free, cases, Closure.DESIGN)
    found = _from_many_starts(problem)
    if not found.solved.any():
        raise NoSolution(
            "this plant has no steady state at its own rating of heating", "See whether its capacities fit together."
        )
    return float(heating_kg(system, problem.state(found.unknowns), collected=False)[found.residual.argmin()])


def _from_many_starts(problem: Heating) -> Found:
    """The one case of a problem from its start and from others around it."""
    rng = np.random.default_rng(SEED)
    around = rng.uniform(-1.0, 1.0, (STARTS, len(problem.steps))) * problem.steps
    around[0] = 0.0
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        many = problem.rows(np.zeros(STARTS, dtype=int))
        return newton(many, problem.start() + around)
