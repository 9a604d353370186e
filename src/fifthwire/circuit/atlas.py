"""Every valve at every position under several loads: what will this one do?

Each case is held against the same plant, load and weather with nothing stuck. A plant's valves differ only by their
size and place, so that one batch answers for all of them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.compressor import CompressorLaw
from fifthwire.circuit.scenario import Scenarios, scenarios_of, together
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.circuit.states import States
from fifthwire.circuit.system import CircuitSystem
from fifthwire.model.errors import InputError
from fifthwire.model.plant import Plant
from fifthwire.properties import refrigerant_arrays

Array = NDArray[np.float64]

FULL, PART = 1.0, 0.35
"""Loads at which liquid is asked for: all units on, about a third of them.  [1]  Our choice."""
LOADS: Final = (1.0, 0.6, PART)
AMBIENT_STEPS_K: Final = (-10.0, 0.0, 8.0)
"""Of the outdoor air, from the plant's own.  [K]  Our choice."""
POSITIONS: Final = 21
LEAST_LIQUID_KJ_KG: Final = 0.2
"""Under the enthalpy of dry vapour by more, liquid is said to come: about a thousandth of the flow.  [kJ/kg]  Our
choice: a suction that is just dry, as heating in mild air has it, is not called wet for its last digit."""
COLDEST_C, HOTTEST_C = -15.0, 46.0
"""Outdoor air that an atlas goes to.  [°C]  Our choice."""


@dataclass(frozen=True)
class Condition:
    """What is around and what runs."""

    load_frac: float
    """Share of the indoor units that run.  [1]"""
    ambient_c: float
    is_stopped: bool = False
    """The valve's own unit is off."""

    @property
    def words(self) -> str:
        """In a line.

        Examples
        --------
        >>> Condition(0.35, 35.0, is_stopped=True).words
        '35 % of the units on, 35 °C outside, its own unit off'
        """
        said = f"{self.load_frac:.0%}".replace("%", " %") + f" of the units on, {self.ambient_c:.0f} °C outside"
        return said + (", its own unit off" if self.is_stopped else "")


@dataclass(frozen=True)
class Atlas:
    """The answers: arrays by valve, condition and position; NaN where there is no steady state."""

    system: CircuitSystem
    closure: str
    valves: tuple[str, ...]
    conditions: tuple[Condition, ...]
    positions: Array
    """[positions]  Openings at which the valve is held.  [1]"""
    converged: NDArray[np.bool_]
    why_not: NDArray[np.object_]
    healthy_frac: Array
    """[valves, conditions]  Where the valve stands when it moves.  [1]"""
    suction_superheat_k: Array
    suction_quality: Array
    liquid_g_s: Array
    discharge_superheat_k: Array
    dry_discharge_superheat_k: Array
    lost_frac: Array
    """Of the capacity that the plant has with nothing stuck; negative where it gains.  [1]"""
    own_lost_frac: Array
    """The same for the valve's own unit; NaN where it has none or it is off.  [1]"""
    moved: dict[str, NDArray[np.bool_]]
    """By reading: whether it moves by more than a technician's instrument doubts."""
    liquid_from_frac: Array
    """[valves, conditions]  Opening from which liquid reaches the compressor; NaN where at none.  [1]"""

    @property
    def count(self) -> int:
        """Cases that were put."""
        return int(self.converged.size)

    def condition(self, load_frac: float, *, is_stopped: bool = False) -> int:
        """The place of a condition at the plant's own outdoor temperature."""
        own = self.conditions_at_home()
        return next(
            at
            for at in own
            if (self.conditions[at].load_frac, self.conditions[at].is_stopped) == (load_frac, is_stopped)
        )

    def conditions_at_home(self) -> list[int]:
        """Places of the conditions at the plant's own outdoor temperature."""
        home = home_ambient_c(self.system.plant)
        return [at for at, one in enumerate(self.conditions) if one.ambient_c == home]


def home_ambient_c(plant: Plant) -> float:
    """The outdoor temperature of a plant's file, or what is taken in its place. [°C]"""
    return float(scenarios_of(replace(plant, faults=())).ambient_c[0])


def atlas_conditions(plant: Plant) -> tuple[Condition, ...]:
    """Loads by weather, and a stopped unit among a third of the others.

    Parameters
    ----------
    plant : Plant
        As read.
    """
    home = home_ambient_c(plant)
    weather = dict.fromkeys(min(max(home + step, COLDEST_C), max(HOTTEST_C, home)) for step in AMBIENT_STEPS_K)
    loads = [load for load in LOADS if len(plant.units) > 1 or load == FULL]
    running = [Condition(load, ambient) for ambient in weather for load in loads]
    return (*running, *([Condition(PART, home, is_stopped=True)] if len(plant.units) > 1 else []))


def make_atlas(
    plant: Plant,
    *,
    curve: str | None = None,
    closure: str = "minutes-after",
    conditions: tuple[Condition, ...] | None = None,
    positions: int = POSITIONS,
    law: CompressorLaw | None = None,
) -> Atlas:
    """The atlas of a plant, its own faults left out.

    Parameters
    ----------
    plant : Plant
        As read.
    curve : str, optional
        Valve curve in place of the plant's.
    closure : str
        "minutes-after" or "settled".
    conditions : tuple of Condition, optional
        In place of `atlas_conditions`.
    positions : int
        From shut to open, evenly.
    law : CompressorLaw, optional
        Of the compressors, where a map says it.

    Returns
    -------
    Atlas
        Cases without a steady state are marked, never filled.

    Raises
    ------
    InputError
        If the plant has no indoor unit, or its mode cannot be simulated.
    """
    if not plant.units:
        raise InputError("the plant has no indoor unit", "Add [[units]].")
    sound = replace(plant, faults=())
    system = circuit_of(sound, curve, law)
    asked = conditions or atlas_conditions(sound)
    openings = np.linspace(0.0, 1.0, positions)
    cases = _cases(system, scenarios_of(sound), asked, openings)
    return _answers(system, asked, openings, cases, solve(system, cases, closure=closure))


def asked_valves(system: CircuitSystem) -> tuple[str, ...]:
    """The valves that work in a plant's mode: the outdoor units' main valves regulate only while it heats."""
    is_cooling = system.mode == "cooling"
    return tuple(name for name in system.valves if not (is_cooling and name.endswith("/main")))


def _cases(system: CircuitSystem, sound: Scenarios, conditions: tuple[Condition, ...], openings: Array) -> Scenarios:
    """By valve and condition: first nothing stuck, then the valve at each opening."""
    parts = []
    for valve in map(system.valve, asked_valves(system)):
        for condition in conditions:
            rows = sound.repeated(1 + openings.size).with_(
                ambient_c=condition.ambient_c, on=on_pattern(system, valve, condition)
            )
            parts.append(rows.with_stuck(valve, np.append(np.nan, openings)))
    return together(parts)


def on_pattern(system: CircuitSystem, valve: int, condition: Condition) -> NDArray[np.bool_]:
    """Which units run: the valve's own, unless it is asked to stand, and others spread evenly over the plant.

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    valve : int
        Whose answer it is.
    condition : Condition
        How many run.
    """
    units = len(system.units)
    own = valve if valve < units else 0
    count = max(1, round(condition.load_frac * units))
    on = np.zeros(units, dtype=bool)
    if condition.is_stopped and valve < units:
        count = min(count, units - 1)
        on[(own + 1 + np.arange(count) * (units - 1) // count) % units] = True
    else:
        on[(own + np.arange(count) * units // count) % units] = True
    return on


def _answers(
    system: CircuitSystem, conditions: tuple[Condition, ...], openings: Array, cases: Scenarios, states: States
) -> Atlas:
    asked = asked_valves(system)
    shape = (len(asked), len(conditions), openings.size + 1)
    worst = np.argmin(_over_dew_kj_kg(system, states), axis=1)
    rows = np.arange(len(worst))

    def stuck(values: Array) -> Array:
        return np.asarray(values.reshape(shape)[:, :, 1:])

    def of_worst(values: Array) -> Array:
        return stuck(values[rows, worst])

    capacity = states.capacity_kw.reshape(shape)
    own = _own(system, states.unit_capacity_kw).reshape(shape)
    return Atlas(
        system=system,
        closure=states.closure,
        valves=asked,
        conditions=conditions,
        positions=openings,
        converged=np.asarray(states.converged.reshape(shape)[:, :, 1:]),
        why_not=np.asarray(states.why_not.reshape(shape)[:, :, 1:]),
        healthy_frac=_healthy(system, states, shape),
        suction_superheat_k=of_worst(states.suction_superheat_k),
        suction_quality=of_worst(states.suction_quality),
        liquid_g_s=stuck(states.liquid_to_compressor_g_s.sum(axis=1)),
        discharge_superheat_k=of_worst(states.discharge_superheat_k),
        dry_discharge_superheat_k=of_worst(states.dry_discharge_superheat_k),
        lost_frac=1.0 - capacity[:, :, 1:] / capacity[:, :, :1],
        own_lost_frac=_lost(own),
        moved=dict(_moved(system, cases, states, shape)),
        liquid_from_frac=_liquid_from(openings, of_worst(_over_dew_kj_kg(system, states))),
    )


def _lost(capacity: Array) -> Array:
    before = np.where(capacity[:, :, :1] > 0.0, capacity[:, :, :1], np.nan)
    return np.asarray(1.0 - capacity[:, :, 1:] / before)


def _over_dew_kj_kg(system: CircuitSystem, states: States) -> Array:
    """Enthalpy at each suction over that of dry saturated vapour: below 0 it is wet. NaN sorts last."""
    of = refrigerant_arrays(system.plant.refrigerant)
    dry = of.vapour_enthalpy_kj_kg(of.dew_kpa_abs(states.outdoor_evaporating_c))
    over = states.suction_enthalpy_kj_kg - dry
    return np.asarray(np.where(np.isnan(over), np.inf, over))


def _liquid_from(openings: Array, over_dew: Array) -> Array:
    """The first opening at which the suction turns wet, on a straight line between two of them."""
    known = np.isfinite(over_dew)
    is_wet = known & (over_dew < -LEAST_LIQUID_KJ_KG)
    first = np.argmax(is_wet, axis=2)
    before = np.maximum(first - 1, 0)
    at, last = (np.take_along_axis(over_dew, one[..., np.newaxis], axis=2)[..., 0] for one in (first, before))
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where((first > 0) & np.isfinite(last), np.clip(last / (last - at), 0.0, 1.0), 1.0)
    found = openings[before] + share * (openings[first] - openings[before])
    return np.asarray(np.where(is_wet.any(axis=2), found, np.nan))


def _own(system: CircuitSystem, values: Array) -> Array:
    """Of each case, the value of the unit whose valve is stuck; NaN where the valve is no unit's."""
    valve = _asked(system, len(values))
    unit = np.minimum(valve, len(system.units) - 1)
    return np.where(valve < len(system.units), values[np.arange(len(values)), unit], np.nan)


def _asked(system: CircuitSystem, n_cases: int) -> NDArray[np.intp]:
    """The place of the valve that each case is about."""
    places = np.array([system.valve(name) for name in asked_valves(system)])
    return np.repeat(places, n_cases // places.size)


def _is_own(system: CircuitSystem, n_cases: int) -> NDArray[np.bool_]:
    """Flags of the unit whose valve a case is about. [n, units]"""
    return np.asarray(_asked(system, n_cases)[:, np.newaxis] == np.arange(len(system.units)))


def _healthy(system: CircuitSystem, states: States, shape: tuple[int, int, int]) -> Array:
    """Where each valve stands where nothing is stuck."""
    opening = np.full(states.converged.size, np.nan)
    for name, rows in _by_valve(system, shape):
        opening[rows] = _opening_of(system, states, name)[rows]
    return np.asarray(opening.reshape(shape)[:, :, 0])


def _by_valve(system: CircuitSystem, shape: tuple[int, int, int]) -> Iterator[tuple[str, slice]]:
    count = shape[1] * shape[2]
    for at, name in enumerate(asked_valves(system)):
        yield name, slice(at * count, (at + 1) * count)


def _opening_of(system: CircuitSystem, states: States, name: str) -> Array:
    if name in system.units:
        return states.opening_frac[:, system.units.index(name)]
    outdoor, _, role = name.partition("/")
    of = states.main_opening_frac if role == "main" else states.bypass_opening_frac
    return of[:, system.outdoor.index(outdoor)]


TELLING: Final[dict[str, float]] = {
    "own-superheat": 2.0,
    "own-command": 0.06,
    "own-air": 2.0,
    "other-commands": 0.04,
    "suction-superheat": 2.0,
    "discharge": 4.0,
    "subcooling": 2.0,
    "speed": 0.05,
    "evaporating": 1.0,
    "condensing": 1.0,
    "bypass-superheat": 2.0,
    "bypass-command": 0.06,
}
"""By how much a reading must change to be told from a day's scatter.  [K], [1]  Judgement: two to three times the noise
of the readings of one visit."""


def _moved(
    system: CircuitSystem, cases: Scenarios, states: States, shape: tuple[int, int, int]
) -> Iterator[tuple[str, NDArray[np.bool_]]]:
    for name, values in _readings(system, cases, states).items():
        by_case = values.reshape(shape)
        change = np.abs(by_case[:, :, 1:] - by_case[:, :, :1])
        if name == "speed":
            change = change / by_case[:, :, :1]
        yield name, np.asarray(np.nan_to_num(change, nan=0.0) > TELLING[name])


def _readings(system: CircuitSystem, cases: Scenarios, states: States) -> dict[str, Array]:
    def own(values: Array) -> Array:
        return _own(system, values)

    def least(values: Array) -> Array:
        return np.asarray(np.where(np.isnan(values), np.inf, values).min(axis=1))

    is_other = cases.on & ~_is_own(system, len(cases))
    others = np.where(is_other, states.command_frac, 0.0).sum(axis=1) / np.maximum(is_other.sum(axis=1), 1)
    found = {
        "own-superheat": own(states.shown_superheat_k),
        "own-command": own(states.command_frac),
        "own-air": own(states.supply_air_c),
        "other-commands": others,
        "suction-superheat": least(states.suction_superheat_k),
        "discharge": least(states.discharge_c),
        "subcooling": least(states.subcooling_k),
        "speed": states.speed_frac,
        "evaporating": states.evaporating_c,
        "condensing": states.condensing_c,
        "bypass-superheat": least(states.bypass_shown_superheat_k),
        "bypass-command": least(states.bypass_command_frac),
    }
    return {name: np.where(np.isfinite(values), values, np.nan) for name, values in found.items()}
