"""The last resort for one case: the balance of the compressor along its evaporating temperature.

At each of many evaporating temperatures (heating: condensing temperatures) everything but the speed's equation is
solved. Where that equation changes its sign lies a state. Where it never does, there is none, and the side on which it
stays says why.
"""

from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.newton import Found, newton
from fifthwire.circuit.problem import Problem

Array = NDArray[np.float64]

POINTS: Final = 49
PASSES: Final = 2
ROUNDS: Final = 30
HALVINGS: Final = 40
NOTHING_BALANCES: Final = (
    "the refrigerant finds no balance at any {scanned} temperature from {low:.0f} to {high:.0f} °C: there is too "
    "much or too little of it for these outdoor coils and this air"
)
UNCLEAR: Final = (
    "no steady state was found between {low:.0f} and {high:.0f} °C of {scanned} temperature, and none was ruled out"
)


def scan(one: Problem) -> tuple[Array, str | None]:
    """The unknowns of one case, or NaN and why there is no state.

    Parameters
    ----------
    one : Problem
        Of a single case.
    """
    grid = np.linspace(*one.span_c(), POINTS)
    held = one.rows(np.zeros(POINTS, dtype=int)).held_at(grid)
    found = _along(held, grid)
    balance = np.where(found.solved, held.speed_balance(found.unknowns), np.nan)
    state = _between(one, found, balance, grid)
    if state is not None:
        return state, None
    return np.full(found.unknowns.shape[1], np.nan), _reason(balance, grid, one)


def _along(held: Problem, grid: Array) -> Found:
    """Solve at every point, starting again from a solved neighbour where that failed."""
    found = newton(held, held.start(), rounds=ROUNDS)
    for _ in range(PASSES):
        left = np.flatnonzero(~found.solved)
        solved = np.flatnonzero(found.solved)
        if left.size == 0 or solved.size == 0:
            break
        near = solved[np.abs(left[:, None] - solved).argmin(axis=1)]
        begin = found.unknowns[near].copy()
        begin[:, 0] = grid[left]
        again = newton(held.rows(left), begin, rounds=ROUNDS)
        found.unknowns[left], found.residual[left] = again.unknowns, again.residual
    return found


def _between(one: Problem, found: Found, balance: Array, grid: Array) -> Array | None:
    places = np.flatnonzero(np.isfinite(balance))
    for first, second in pairwise(places):
        if balance[first] * balance[second] > 0.0 or second - first > 2:
            continue
        share = balance[first] / (balance[first] - balance[second]) if balance[first] != balance[second] else 0.5
        begin = found.unknowns[first] + share * (found.unknowns[second] - found.unknowns[first])
        full = newton(one, begin[None, :])
        if full.solved[0]:
            return np.asarray(full.unknowns[0])
        state = _halved(one, found.unknowns[first], balance[first], grid[first], grid[second])
        if state is not None:
            return state
    return None


def _halved(one: Problem, begin: Array, sign: float, low: float, high: float) -> Array | None:
    """Halve the span in which the balance changes its sign."""
    u = begin
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        held = one.held_at(np.array([middle]))
        found = newton(held, np.array([[middle, *u[1:]]]))
        if not found.solved[0]:
            return None
        u = found.unknowns[0]
        balance = float(held.speed_balance(found.unknowns)[0])
        full = newton(one, u[None, :], rounds=12)
        if full.solved[0]:
            return np.asarray(full.unknowns[0])
        low, high = (middle, high) if balance * sign > 0.0 else (low, middle)
    return None


def _reason(balance: Array, grid: Array, one: Problem) -> str:
    known = balance[np.isfinite(balance)]
    ends = {"low": grid[0], "high": grid[-1], "scanned": one.scanned}
    if known.size == 0:
        return NOTHING_BALANCES.format(**ends)
    if np.all(known < 0.0):
        return one.too_fast.format(**ends)
    if np.all(known > 0.0):
        return one.too_slow.format(**ends)
    return UNCLEAR.format(**ends)
