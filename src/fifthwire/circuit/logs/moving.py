"""The moving equilibrium: what a plant does from minute to minute while rooms, weather, controllers and faults move.

Twice over the whole log the steady circuit is solved in one batch: first for what the controllers want at each moment,
then with every valve and the speed where the controllers have brought them by then.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from fifthwire.circuit.atlas import asked_valves
from fifthwire.circuit.compressor import CompressorLaw
from fifthwire.circuit.logs.clock import LogPlan
from fifthwire.circuit.logs.controllers import Commands, follow_speed, follow_valves
from fifthwire.circuit.logs.events import OIL_OPENING_FRAC, OIL_SPEED_FRAC, Events, events
from fifthwire.circuit.logs.faults import Begun, begun_faults, cases_in_time
from fifthwire.circuit.logs.rooms import Rooms, run_rooms
from fifthwire.circuit.logs.surroundings import Surroundings, surroundings
from fifthwire.circuit.scenario import Scenarios, plain_cases
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.circuit.states import States
from fifthwire.circuit.system import CircuitSystem
from fifthwire.model.errors import InputError
from fifthwire.model.plant import Plant

Array = NDArray[np.float64]

CLOSURE: Final = "settled"
"""A fault of days has long moved the charge to where it lies.  Our choice."""
SOLVED_FIRST: Final = 8
"""One moment of so many is solved from nothing.  [1]  Measured."""


@dataclass(frozen=True)
class Moving:
    """A plant through a log, before anything lags and before anybody records it."""

    system: CircuitSystem
    plan: LogPlan
    time_s: Array
    begun: tuple[Begun, ...]
    cases: Scenarios
    """Of every step, with every valve where it stands."""
    around: Surroundings
    rooms: Rooms
    events: Events
    commands: Commands
    runs: NDArray[np.bool_]
    """[n]  Whether the compressors run."""
    states: States
    """Rows of the steps in which they run, in order."""
    is_held: NDArray[np.bool_]
    """[n]  Steps without a steady state, at which the last one is kept."""


def move(plant: Plant, plan: LogPlan, law: CompressorLaw | None = None) -> Moving:
    """Run a plant through a log.

    Parameters
    ----------
    plant : Plant
        With the faults that shall begin.
    plan : LogPlan
        How long, and from which seed.
    law : CompressorLaw, optional
        Of the compressors, where a map says it.

    Returns
    -------
    Moving
        The same for the same plant and plan.

    Raises
    ------
    InputError
        If the plant has no indoor unit, or its mode cannot be simulated.
    """
    if not plant.units:
        raise InputError("the plant has no indoor unit", "Add [[units]].")
    seeds = [np.random.default_rng(one) for one in np.random.SeedSequence(plan.seed).spawn(5)]
    system, time_s = circuit_of(replace(plant, faults=()), law=law), plan.steps_s()
    begun = begun_faults(plant, plan, rng=seeds[0])
    cases = cases_in_time(plant, begun, time_s)
    is_heating = plant.mode == "heating"
    around = surroundings(
        time_s, len(system.units), design_ambient_c=float(cases.ambient_c[0]), is_heating=is_heating, rng=seeds[1]
    )
    rooms = _rooms(plant, system, cases, around, begun, time_s)
    cases = cases.with_(ambient_c=around.ambient_c, rooms_c=rooms.room_c, on=rooms.on)
    runs = np.asarray(rooms.on.any(axis=1))
    asked = _solved(system, cases.rows(runs))
    runs = _carried(runs, asked)
    left = events(time_s, runs, around.ambient_c, is_heating=is_heating, rng=seeds[2])
    commands = _commands(system, cases, runs, asked, left, rng=seeds[3])
    works = np.isin(system.valves, asked_valves(system))
    standing = _standing(cases, commands, works)
    states = _solved(system, standing.rows(runs))
    is_held = np.zeros(time_s.size, dtype=bool)
    is_held[runs] = ~states.converged
    return Moving(system, plan, time_s, begun, standing, around, rooms, left, commands, runs, states, is_held)


def _solved(system: CircuitSystem, cases: Scenarios) -> States:
    """The states of moments in their order: every few of them first, from which those between begin."""
    if not len(cases):
        return _none_of(solve(system, plain_cases(system.plant), closure=CLOSURE))
    if len(cases) < 2 * SOLVED_FIRST:
        return solve(system, cases, closure=CLOSURE)
    first = solve(system, cases.rows(slice(None, None, SOLVED_FIRST)), closure=CLOSURE)
    nearest = np.minimum((np.arange(len(cases)) + SOLVED_FIRST // 2) // SOLVED_FIRST, len(first.unknowns) - 1)
    return solve(system, cases, closure=CLOSURE, start=first.unknowns[nearest])


def _none_of(states: States) -> States:
    """No states, of the same shape."""
    arrays = {name: one[:0] for name, one in states.__dict__.items() if isinstance(one, np.ndarray)}
    no_rows: dict[str, Any] = arrays
    return replace(states, **no_rows)


def _rooms(
    plant: Plant,
    system: CircuitSystem,
    cases: Scenarios,
    around: Surroundings,
    begun: Sequence[Begun],
    time_s: Array,
) -> Rooms:
    """Who runs when: each unit as strong as the circuit makes it, before and after each fault."""
    edges = np.unique([0.0, *(one.begins_s for one in begun)])
    epoch = np.searchsorted(edges, time_s, side="right") - 1
    first = np.minimum(np.searchsorted(time_s, edges), time_s.size - 1)
    states = solve(system, cases.rows(first).with_(on=True), closure=CLOSURE)
    rated = np.array([unit.capacity_kw for unit in plant.units])
    strength = np.clip(np.nan_to_num(states.unit_capacity_kw / rated, nan=1.0), 0.0, 1.5)
    is_heating = plant.mode == "heating"
    return run_rooms(
        around.need_frac,
        around.wanted,
        around.ambient_c,
        set_point_c=cases.rooms_c[0],
        coil_c=plant.condensing_c if is_heating else plant.evaporating_c,
        strength_frac=strength[epoch],
        is_heating=is_heating,
    )


def _carried(runs: NDArray[np.bool_], asked: States) -> NDArray[np.bool_]:
    """Without the steps at which no steady state exists: so little is asked for that the protection stops it."""
    carried = runs.copy()
    carried[runs] = asked.converged
    return carried


def _commands(
    system: CircuitSystem, cases: Scenarios, runs: NDArray[np.bool_], asked: States, left: Events, *, rng: Generator
) -> Commands:
    """What the controllers tell valves and compressors at every step, from the equilibrium of those that run."""
    n, units = len(cases), len(system.units)
    wanted, speed = np.zeros((n, len(system.valves))), np.zeros(n)
    wanted[runs] = np.nan_to_num(_commanded(system, asked))[asked.converged]
    speed[runs] = asked.speed_frac[asked.converged]
    wanted[left.oil_return, :units], speed[left.oil_return] = OIL_OPENING_FRAC, OIL_SPEED_FRAC
    wanted[left.defrost], speed[left.defrost] = 1.0, OIL_SPEED_FRAC
    zero = np.flatnonzero(left.finding_zero)
    wanted[zero[np.isin(zero - 1, zero, invert=True)]] = 1.0  # the first step of each: open, then shut
    of_unit = np.zeros((n, len(system.valves)), dtype=bool)
    of_unit[:, :units], of_unit[:, units:] = cases.on, runs[:, np.newaxis]
    regulates = of_unit & ~(left.oil_return | left.defrost)[:, np.newaxis]
    least = system.plant.compressor.fixed_frac or system.plant.compressor.speed_frac[0]
    return Commands(
        command_frac=follow_valves(wanted, regulates, rng=rng), speed_frac=follow_speed(speed, runs, least_frac=least)
    )


def _commanded(system: CircuitSystem, states: States) -> Array:
    """Commands in the order of the system's valves."""
    by_role = {"main": states.main_command_frac, "subcooler-bypass": states.bypass_command_frac}
    columns = [states.command_frac[:, at] for at in range(len(system.units))]
    for name in system.valves[len(system.units) :]:
        outdoor, _, role = name.partition("/")
        columns.append(by_role[role][:, system.outdoor.index(outdoor)])
    return np.column_stack(columns)


def _standing(cases: Scenarios, commands: Commands, works: NDArray[np.bool_]) -> Scenarios:
    """The cases with every valve where it stands: stuck where it is stuck, else where it was told.

    A main valve that does not regulate in the plant's mode is left to itself.
    """
    told = np.where(works, commands.command_frac, np.nan)
    opening = np.where(np.isnan(cases.stuck_frac), told, cases.stuck_frac)
    speed = np.where(commands.speed_frac > 0.0, commands.speed_frac, np.nan)
    return cases.with_(stuck_frac=opening, fixed_speed_frac=speed)
