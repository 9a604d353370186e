"""Plants and random cases for the tests of the solver: invented, of a common make-up."""

from typing import Any

import numpy as np

from fifthwire.circuit.scenario import Scenarios, plain_cases
from fifthwire.circuit.system import CircuitSystem
from fifthwire.model.plant import OutdoorUnit, Plant, PlantUnit

CAPACITIES_KW = (2.2, 2.8, 3.6, 3.6, 4.5, 5.6, 7.1, 3.6)


def a_plant(n_units: int = 8, *, n_outdoor: int = 1, **more: Any) -> Plant:
    """Indoor units of mixed sizes on one or several like outdoor units."""
    units = tuple(
        PlantUnit(id=f"IU{1 + i:02d}", capacity_kw=CAPACITIES_KW[i % len(CAPACITIES_KW)]) for i in range(n_units)
    )
    outdoor = tuple(OutdoorUnit(id=f"OU{1 + j}") for j in range(n_outdoor))
    return Plant(**{"refrigerant": "R410A", "units": units, "outdoor": outdoor, **more})


def random_cases(system: CircuitSystem, n: int, seed: int, *, charge: bool = False) -> Scenarios:
    """Cases in wide air, a quarter to all units on, one to three faults of nine kinds, two fifths at a speed."""
    rng = np.random.default_rng(seed)
    n_units, n_outdoor = len(system.units), len(system.outdoor)
    on = rng.random((n, n_units)) < rng.uniform(0.25, 1.0, n)[:, None]
    on[np.arange(n), rng.integers(0, n_units, n)] = True
    heats = system.mode == "heating"
    cases = plain_cases(system.plant).repeated(n)
    cases = cases.with_(
        ambient_c=rng.uniform(-10.0, 15.0, n) if heats else rng.uniform(18.0, 46.0, n),
        rooms_c=rng.uniform(16.0, 25.0, (n, n_units)) if heats else rng.uniform(19.0, 32.0, (n, n_units)),
        on=on,
        fixed_speed_frac=np.where(rng.random(n) < 0.4, rng.uniform(0.3, 1.1, n), np.nan),
    )
    arrays = {
        name: getattr(cases, name).copy()
        for name in (
            "stuck_frac", "leak_frac", "gas_pipe_offset_k", "airflow_frac", "outdoor_airflow_frac", "charge_frac",
            "suction_offset_k",
        )
    }  # fmt: skip
    others = system.main_places if heats else system.bypass_places
    for row in range(n):
        for _ in range(rng.integers(1, 4)):
            _one_more(arrays, row, rng, (n_units, n_outdoor), others, charge)
    return cases.with_(**arrays)


def _one_more(
    arrays: dict[str, Any], row: int, rng: np.random.Generator, sizes: tuple[int, int], others: Any, charge: bool
) -> None:
    kind, unit = rng.integers(0, 9), rng.integers(0, sizes[0])
    if kind in (0, 1):
        arrays["stuck_frac"][row, unit] = rng.random()
    elif kind == 2:
        arrays["stuck_frac"][row, rng.choice(others)] = rng.random()
    elif kind == 3:
        arrays["leak_frac"][row, unit] = rng.uniform(0.0, 0.4)
    elif kind == 4:
        arrays["gas_pipe_offset_k"][row, unit] = rng.uniform(-6.0, 6.0)
    elif kind == 5:
        arrays["airflow_frac"][row, unit] = rng.uniform(0.3, 1.0)
    elif kind == 6:
        arrays["outdoor_airflow_frac"][row] = rng.uniform(0.5, 1.0)
    elif kind == 7 and charge:
        arrays["charge_frac"][row] = rng.uniform(0.6, 1.15)
    elif kind == 8:
        arrays["suction_offset_k"][row] = rng.uniform(-2.0, 2.0)
