"""Many cases of one plant at once: what is around it, what runs, what is wrong. An array a quantity, a row a case."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Scenarios:
    """Cases: every array has a row a case. Columns are in the order of `CircuitSystem.units`, `.outdoor` and `.valves`.

    A valve's NaN in `stuck_frac` means that it moves. Sensor offsets are what a sensor shows more than there is.
    """

    ambient_c: Array
    """[n]"""
    rooms_c: Array
    """[n, units]"""
    on: Flags
    """[n, units]"""
    stuck_frac: Array
    """[n, valves]  NaN: it moves."""
    leak_frac: Array
    """[n, valves]  Of full flow, when shut."""
    charge_frac: Array
    """[n]"""
    airflow_frac: Array
    """[n, units]"""
    outdoor_airflow_frac: Array
    """[n, outdoor]"""
    gas_pipe_offset_k: Array
    """[n, units]"""
    liquid_pipe_offset_k: Array
    """[n, units]"""
    supply_air_offset_k: Array
    """[n, units]"""
    suction_offset_k: Array
    """[n, outdoor]  Of the suction pressure, as saturation temperature."""
    discharge_pressure_offset_k: Array
    """[n, outdoor]  Of the discharge pressure, as saturation temperature."""
    suction_temperature_offset_k: Array
    """[n, outdoor]"""
    discharge_temperature_offset_k: Array
    """[n, outdoor]"""
    bypass_outlet_offset_k: Array
    """[n, outdoor]"""
    fixed_speed_frac: Array
    """[n]  NaN: the speed follows the target, inside its range."""
    evaporating_target_c: Array
    """[n]  Held when cooling."""
    condensing_target_c: Array
    """[n]  Held when heating."""
    superheat_target_k: Array
    """[n]"""
    subcooling_target_k: Array
    """[n]  Of the indoor valves when heating."""

    def __len__(self) -> int:
        return len(self.ambient_c)

    def rows(self, which: ArrayLike | slice) -> "Scenarios":
        """Some of the cases: a slice, flags or places."""
        at = which if isinstance(which, slice) else np.asarray(which)
        return Scenarios(**{of.name: getattr(self, of.name)[at] for of in fields(self)})

    def repeated(self, times: int) -> "Scenarios":
        """Every case `times` times, one copy after the other. [n] -> [n x times]"""
        return self.rows(np.repeat(np.arange(len(self)), times))

    def with_(self, **arrays: Any) -> "Scenarios":
        """The same cases with other values, broadcast to the shape of what they replace."""
        shaped = {
            name: np.array(np.broadcast_to(np.asarray(value), getattr(self, name).shape))
            for name, value in arrays.items()
        }
        return replace(self, **shaped)

    def with_stuck(self, valve: int, opening_frac: ArrayLike) -> "Scenarios":
        """The same cases with one valve stuck at an opening, a value a case or one for all; NaN frees it."""
        stuck = self.stuck_frac.copy()
        stuck[:, valve] = opening_frac
        return replace(self, stuck_frac=stuck)


def together(parts: Sequence[Scenarios]) -> Scenarios:
    """Cases one after the other, of one plant."""
    return Scenarios(
        **{of.name: np.concatenate([getattr(part, of.name) for part in parts]) for of in fields(Scenarios)}
    )
