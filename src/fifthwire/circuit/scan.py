"""The last resort for a hard case: the balance of the compressor along its evaporating temperature.

At each of many evaporating temperatures (heating: condensing temperatures) everything but the speed's equation is
solved. Where that equation changes its sign lies a state. Where it never does, there is none, and the side on which it
stays says why.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.newton import Found, newton
from fifthwire.circuit.problem import Problem

Array = NDArray[np.float64]

POINTS: Final = 41
TOGETHER: Final = 12
"""Cases scanned at once, so that their arrays stay in the processor's cache."""
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


def scan(problem: Problem) -> tuple[Array, NDArray[np.object_]]:
    """The unknowns of hard cases, or NaN and why there is no state.

    Parameters
    ----------
    problem : Problem
        The cases; they are scanned some at a time.

    Returns
    -------
    array, array
        [n, unknowns] and, a case, a reason or None.
    """
    n = len(problem.cases)
    unknowns, why_not = np.full(problem.bounds()[0].shape, np.nan), np.full(n, None, dtype=object)
    for first in range(0, n, TOGETHER):
        rows = np.arange(first, min(first + TOGETHER, n))
        for row, (state, reason) in zip(rows, _scan_some(problem.rows(rows)), strict=True):
            unknowns[row] = np.nan if state is None else state
            why_not[row] = reason
    return unknowns, why_not


def _scan_some(some: Problem) -> Iterator[tuple[Array | None, str | None]]:
    """Each case's state or reason, in their order."""
    n = len(some.cases)
    low, high = some.span_c()
    grid = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, POINTS)
    held = some.rows(np.repeat(np.arange(n), POINTS)).held_at(grid.ravel())
    found = _along(held, grid)
    balance = np.where(found.solved, held.speed_balance(found.unknowns), np.nan).reshape(n, POINTS)
    for row in range(n):
        points = found.unknowns[row * POINTS : (row + 1) * POINTS]
        state = _between(some.rows(slice(row, row + 1)), points, balance[row], grid[row])
        yield state, None if state is not None else _reason(balance[row], grid[row], some, row)


def _along(held: Problem, grid: Array) -> Found:
    """Solve at every point, starting again from a solved neighbour of the same case where that failed."""
    found = newton(held, held.start(), rounds=ROUNDS)
    for _ in range(PASSES):
        solved = found.solved.reshape(grid.shape)
        away = np.where(solved[:, None, :], np.abs(np.arange(POINTS)[:, None] - np.arange(POINTS)), 10 * POINTS)
        nearest = away.argmin(axis=-1).ravel() + (np.arange(grid.size) // POINTS) * POINTS
        left = np.flatnonzero(~found.solved & found.solved[nearest])
        if left.size == 0:
            break
        begin = found.unknowns[nearest[left]].copy()
        begin[:, 0] = grid.ravel()[left]
        again = newton(held.rows(left), begin, rounds=ROUNDS)
        found.unknowns[left], found.residual[left] = again.unknowns, again.residual
    return found


def _between(one: Problem, points: Array, balance: Array, grid: Array) -> Array | None:
    places = np.flatnonzero(np.isfinite(balance))
    for first, second in pairwise(places):
        if balance[first] * balance[second] > 0.0 or second - first > 2:
            continue
        share = balance[first] / (balance[first] - balance[second]) if balance[first] != balance[second] else 0.5
        begin = points[first] + share * (points[second] - points[first])
        full = newton(one, begin[None, :])
        if full.solved[0]:
            return np.asarray(full.unknowns[0])
        state = _halved(one, points[first], balance[first], grid[first], grid[second])
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


def _reason(balance: Array, grid: Array, one: Problem, row: int) -> str:
    known = balance[np.isfinite(balance)]
    ends = {"low": grid[0], "high": grid[-1], "scanned": one.scanned}
    if known.size == 0:
        return one.because(row) or NOTHING_BALANCES.format(**ends)
    if np.all(known < 0.0):
        return one.too_fast.format(**ends)
    if np.all(known > 0.0):
        return one.because(row) or one.too_slow.format(**ends)
    return UNCLEAR.format(**ends)
