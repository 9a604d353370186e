"""Many cases of one plant at once: what is around it, what runs, what is wrong. An array a quantity, a row a case."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fifthwire.circuit import sizes
from fifthwire.model.choices import UNIT_SENSORS
from fifthwire.model.plant import Fault, OutdoorUnit, Plant

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


ROOM_C: Final = {"cooling": 27.0, "heating": 20.0}
"""Where a unit does not say.  [°C]  ISO 15042 standard conditions, from memory."""
AMBIENT_C: Final = {"cooling": 35.0, "heating": 7.0}


def outdoor_units(plant: Plant) -> tuple[OutdoorUnit, ...]:
    """Of a plant: one of generic sizes where the file lists none."""
    return plant.outdoor or (OutdoorUnit(),)


def valve_names(plant: Plant) -> tuple[str, ...]:
    """Indoor units' valves by the unit's id, then OU1/main and so on, then OU1/subcooler-bypass where there is one."""
    outdoor = outdoor_units(plant)
    mains = [f"{unit.id}/main" for unit in outdoor]
    bypasses = [f"{unit.id}/subcooler-bypass" for unit in outdoor if unit.has_subcooler]
    return (*(unit.id for unit in plant.units), *mains, *bypasses)


def place_of_valve(names: Sequence[str], name: str) -> int:
    """Where a valve stands among the names; `main` and `subcooler-bypass` alone mean the first outdoor unit's."""
    full = next((one for one in names if one.endswith(f"/{name}")), name) if "/" not in name else name
    return list(names).index(name if name in names else full)


def plain_cases(plant: Plant) -> Scenarios:
    """One case: the plant as its file describes it, with nothing wrong."""
    n_outdoor, names = len(outdoor_units(plant)), valve_names(plant)
    rooms = [ROOM_C[plant.mode] if unit.room_c is None else unit.room_c for unit in plant.units]
    zeros, outside = np.zeros((1, len(plant.units))), np.zeros((1, n_outdoor))
    fixed = plant.compressor.fixed_frac
    return Scenarios(
        ambient_c=np.array([AMBIENT_C[plant.mode] if plant.ambient_c is None else plant.ambient_c]),
        rooms_c=np.array([rooms]),
        on=np.array([[unit.is_on for unit in plant.units]]),
        stuck_frac=np.full((1, len(names)), np.nan),
        leak_frac=np.full((1, len(names)), plant.seat_leak_frac),
        charge_frac=np.ones(1),
        airflow_frac=zeros + 1.0,
        outdoor_airflow_frac=outside + 1.0,
        gas_pipe_offset_k=zeros,
        liquid_pipe_offset_k=zeros,
        supply_air_offset_k=zeros,
        suction_offset_k=outside,
        discharge_pressure_offset_k=outside,
        suction_temperature_offset_k=outside,
        discharge_temperature_offset_k=outside,
        bypass_outlet_offset_k=outside,
        fixed_speed_frac=np.array([np.nan if fixed is None else fixed]),
        evaporating_target_c=np.array([plant.evaporating_c]),
        condensing_target_c=np.array([plant.condensing_c]),
        superheat_target_k=np.array([plant.target_superheat_k]),
        subcooling_target_k=np.array([plant.target_subcooling_k]),
    )


def scenarios_of(plant: Plant) -> Scenarios:
    """One case: the plant as its file describes it, with everything that is wrong."""
    cases = plain_cases(plant)
    for fault in plant.faults:
        cases = with_fault(plant, cases, fault)
    return cases


def with_fault(plant: Plant, cases: Scenarios, fault: Fault) -> Scenarios:
    """The same cases with one thing more that is wrong.

    Parameters
    ----------
    plant : Plant
        Whose valves and units the fault names.
    cases : Scenarios
        Before it.
    fault : Fault
        As a checked file holds it.
    """
    if fault.valve is not None and fault.stuck_frac is not None:
        return cases.with_stuck(place_of_valve(valve_names(plant), fault.valve), fault.stuck_frac)
    if fault.valve is not None and fault.leaks_frac is not None:
        place = place_of_valve(valve_names(plant), fault.valve)
        leak = np.maximum(cases.leak_frac[:, place], fault.leaks_frac)
        return cases.with_(leak_frac=_set(cases.leak_frac, place, leak))
    if fault.charge_frac is not None:
        return cases.with_(charge_frac=fault.charge_frac)
    if fault.outdoor_airflow_frac is not None:
        which = slice(None) if fault.unit is None else _ids(outdoor_units(plant)).index(fault.unit)
        return cases.with_(outdoor_airflow_frac=_set(cases.outdoor_airflow_frac, which, fault.outdoor_airflow_frac))
    if fault.airflow_frac is not None and fault.unit is not None:
        place = _ids(plant.units).index(fault.unit)
        return cases.with_(airflow_frac=_set(cases.airflow_frac, place, fault.airflow_frac))
    if fault.sensor is not None and fault.offset_k is not None:
        return _with_offset(plant, cases, fault.sensor, fault.offset_k)
    return cases


def _with_offset(plant: Plant, cases: Scenarios, sensor: str, offset_k: float) -> Scenarios:
    unit, _, name = sensor.rpartition("/")
    field = "suction_offset_k" if name == "suction_pressure" else f"{name}_offset_k"
    if name in UNIT_SENSORS:
        place = _ids(plant.units).index(unit)
    else:
        place = _ids(outdoor_units(plant)).index(unit) if unit else 0
    return cases.with_(**{field: _set(getattr(cases, field), place, offset_k)})


def _ids(units: Sequence[Any]) -> list[str]:
    return [unit.id for unit in units]


def _set(array: Any, place: Any, value: Any) -> Any:
    changed = array.copy()
    changed[:, place] = value
    return changed


def rated_case(plant: Plant) -> Scenarios:
    """One case: every unit on at rating, nothing wrong."""
    rated: dict[str, Any] = {
        "ambient_c": sizes.RATED_AMBIENT_C,
        "rooms_c": sizes.RATED_ROOM_C,
        "on": True,
        "leak_frac": 0.0,
        "evaporating_target_c": sizes.RATED_EVAPORATING_C,
        "superheat_target_k": sizes.RATED_SUPERHEAT_K,
        "fixed_speed_frac": np.nan,
    }
    return plain_cases(plant).with_(**rated)
