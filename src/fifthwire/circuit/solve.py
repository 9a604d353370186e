"""Steady states of many cases: Newton's method, fresh starts, and at last a scan that finds the state or says why not.

Solved means converged. A case without a steady state is refused with its reason, and has no figures.
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, fields, replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.cooling import Cooling
from fifthwire.circuit.cooling_states import cooling_states
from fifthwire.circuit.heating import Heating
from fifthwire.circuit.heating_states import heating_states
from fifthwire.circuit.newton import newton
from fifthwire.circuit.problem import CLOSURES, Closure, Problem
from fifthwire.circuit.scan import scan
from fifthwire.circuit.scenario import Scenarios
from fifthwire.circuit.states import States
from fifthwire.circuit.system import CircuitSystem
from fifthwire.model.errors import InputError

Array = NDArray[np.float64]

CHUNK: Final = 256
"""Cases solved together, so that their arrays stay in the processor's cache.  Measured."""
THREADS: Final = 2
RESTARTS: Final = 3
SEED: Final = 20260512
LOSS_PASSES: Final = 25
LOSS_CLOSE_K: Final = 1e-6
LEAST_SHARE: Final = 0.1
LOSS_SETTLED_K: Final = 1e-3
"""Change of a loss in the last pass, with which a state still counts.  [K]  Our choice."""
LOSSES_SWING: Final = "the losses of the gas pipes and the flows did not settle with each other"
NOTHING_RUNS: Final = "no unit is on: the compressors stand, and there is no steady state to speak of"


@dataclass(frozen=True)
class Way:
    """What one way of running needs: its equations, and its states from their solution."""

    problem: Callable[..., Any]
    states: Callable[..., States]


def solve(
    system: CircuitSystem,
    scenarios: Scenarios,
    closure: str = "minutes-after",
    start: Array | None = None,
) -> States:
    """The steady state of every case, or why it has none.

    Parameters
    ----------
    system : CircuitSystem
        From `circuit_of`.
    scenarios : Scenarios
        The cases.
    closure : str
        "minutes-after": the outdoor coils hold what they held and no liquid has collected. "settled": the charge is
        all there and the accumulators have found their levels.
    start : array, optional
        `States.unknowns` of states nearby, a row a case; rows with NaN start from nothing.

    Returns
    -------
    States
        A row a case; one that did not converge has NaN and says why.

    Raises
    ------
    InputError
        If the closure is not one of the two.
    """
    if closure not in CLOSURES:
        raise InputError(f"{closure!r} is no closure", 'Write "minutes-after" or "settled".')
    wanted = Closure(closure)
    if system.mode == "heating":
        _ = system.heating_kg  # found once, before several threads ask for it
    parts = [slice(first, first + CHUNK) for first in range(0, len(scenarios), CHUNK)]

    def one(part: slice) -> States:
        # a search passes through states that cannot be: their NaN turns it back
        with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
            return _solve_part(system, scenarios.rows(part), wanted, None if start is None else start[part])

    if len(parts) == 1:
        return one(parts[0])
    with ThreadPoolExecutor(THREADS) as pool:
        return _together(list(pool.map(one, parts)))


def _solve_part(system: CircuitSystem, cases: Scenarios, closure: Closure, start: Array | None) -> States:
    way = _way(system)
    held: dict[str, Any] = {}
    if closure is Closure.MINUTES_AFTER and system.mode == "cooling" and np.any(cases.charge_frac != 1.0):
        held["flooded_aim"] = _flooded_before(system, cases)
    problem = way.problem(system, cases, closure, **held)
    unknowns, why_not = _solved(problem, problem.start() if start is None else _filled(start, problem.start()))
    loss_residual = np.zeros(len(cases))
    if np.any(system.suction_drop_k > 0.0):
        problem, unknowns, why_not, loss_residual = _with_losses(way, problem, unknowns, why_not, held)
    return way.states(problem, unknowns, why_not, loss_residual)


def _way(system: CircuitSystem) -> Way:
    if system.mode == "heating":
        return Way(Heating, heating_states)
    return Way(Cooling, cooling_states)


def _filled(start: Array, other: Array) -> Array:
    is_given = np.asarray(np.isfinite(start).all(axis=1))
    return np.where(is_given[:, None], start, other)


def _flooded_before(system: CircuitSystem, cases: Scenarios) -> Array:
    """With the wrong charge an outdoor coil holds what it settled at before anything else went wrong."""
    before = cases.with_(stuck_frac=np.nan, leak_frac=system.plant.seat_leak_frac)
    problem = _way(system).problem(system, before, Closure.SETTLED)
    unknowns, _ = _solved(problem, problem.start())
    share = problem.flooded_share(unknowns)
    aim = np.where((cases.charge_frac != 1.0)[:, None], share, system.flooded_share)
    return np.where(np.isfinite(aim), aim, np.nan)


def _solved(problem: Problem, start: Array) -> tuple[Array, NDArray[np.object_]]:
    """The unknowns of every case, NaN where there is no state, and why."""
    why_not = np.full(len(problem.cases), None, dtype=object)
    idle = np.array([not row.any() for row in problem.cases.on])
    for flags, reason in problem.ruled_out():
        why_not[flags] = reason
    why_not[idle] = NOTHING_RUNS
    unknowns = np.full(start.shape, np.nan)
    rows = np.flatnonzero([reason is None for reason in why_not])
    if rows.size == 0:
        return unknowns, why_not
    left = rows
    rng = np.random.default_rng(SEED)
    for attempt in range(1 + RESTARTS):
        some = problem if left.size == len(problem.cases) else problem.rows(left)
        begin = start[left] if attempt == 0 else some.other_start() if attempt == 1 else _shaken(some, rng)
        found = newton(some, begin)
        unknowns[left[found.solved]] = found.unknowns[found.solved]
        left = left[~found.solved]
        if left.size == 0:
            break
    if left.size:
        unknowns[left], why_not[left] = scan(problem.rows(left))
    return _within_limits(problem, unknowns, why_not)


def _shaken(problem: Problem, rng: np.random.Generator) -> Array:
    start = problem.start()
    return np.asarray(start + rng.uniform(-1.0, 1.0, start.shape) * problem.steps * 1.2)


def _within_limits(
    problem: Problem, unknowns: Array, why_not: NDArray[np.object_]
) -> tuple[Array, NDArray[np.object_]]:
    """A solution beyond what the machine's protection lets it run at is no state of it."""
    for flags, reason in problem.beyond(unknowns):
        found = flags & np.isfinite(unknowns).all(axis=1)
        why_not[found] = reason
        unknowns[found] = np.nan
    return unknowns, why_not


def _with_losses(
    way: Way, problem: Problem, unknowns: Array, why_not: NDArray[np.object_], held: dict[str, Any]
) -> tuple[Problem, Array, NDArray[np.object_], Array]:
    """Losses of the gas pipes, from the flows of the pass before, until they no longer change."""
    loss = np.zeros((len(problem.cases), len(problem.system.units)))
    before, gap_before = loss, loss
    change = np.zeros(len(loss))
    for passed in range(LOSS_PASSES):
        now = problem.losses_k(unknowns)
        gap = np.where(np.isfinite(now), now, loss) - loss
        change = np.abs(gap).max(axis=1)
        if change.max() < LOSS_CLOSE_K:
            break
        share = np.ones(loss.shape) if passed == 0 else _secant_share(gap, gap_before, loss - before)
        before, gap_before, loss = loss, gap, np.maximum(loss + share * gap, 0.0)
        problem = way.problem(problem.system, problem.cases, problem.closure, **held, loss_k=loss)
        going = np.flatnonzero([reason is None for reason in why_not])
        unknowns[going], why_not[going] = _solved(problem.rows(going), unknowns[going])
    for row in np.flatnonzero(change > LOSS_SETTLED_K):
        if why_not[row] is None:
            why_not[row], unknowns[row] = LOSSES_SWING, np.nan
    return problem, unknowns, why_not, change


def _secant_share(gap: Array, gap_before: Array, moved: Array) -> Array:
    """How much of a gap to close: more loss is less flow, and then less loss, so that all of it would be too much."""
    with np.errstate(invalid="ignore", divide="ignore"):
        slope = (gap - gap_before) / moved
    return np.clip(np.where(np.isfinite(slope) & (slope < 0.0), -1.0 / slope, 1.0), LEAST_SHARE, 1.0)


def _together(parts: list[States]) -> States:
    joined: dict[str, Any] = {
        of.name: np.concatenate([getattr(part, of.name) for part in parts])
        for of in fields(States)
        if of.name not in ("closure", "mode")
    }
    return replace(parts[0], **joined)
