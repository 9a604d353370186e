"""Newton's method on many small systems of equations at once, each row with its own step."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.problem import Problem

Array = NDArray[np.float64]

CLOSE_ENOUGH: Final = 1e-9
"""Largest residual of a solved row, in its scale.  Our choice."""
GOOD_ENOUGH: Final = 1e-7
"""The same where rounding lets a row come no nearer.  Our choice."""
MOST_ROUNDS: Final = 60
SHORTER: Final = 0.4
SHORTEST: Final = 2e-3
"""Of a step; from there on the row is given up."""


@dataclass(frozen=True)
class Found:
    """Where the rows ended."""

    unknowns: Array
    residual: Array
    """Largest of each row."""

    @property
    def solved(self) -> NDArray[np.bool_]:
        """Which rows are."""
        return self.residual < GOOD_ENOUGH


def newton(problem: Problem, start: Array, *, rounds: int = MOST_ROUNDS) -> Found:
    """Solve every row from its start.

    Parameters
    ----------
    problem : Problem
        The cases.
    start : array
        [n, unknowns]
    rounds : int
        Evaluations at most.

    Returns
    -------
    Found
        The best point of each row, solved or not.
    """
    low, high = problem.bounds()
    u = np.clip(start, low, high)
    end, worst = u.copy(), np.full(len(u), np.inf)
    rows = np.arange(len(u))
    of = problem
    state = _State(of, u, low, high)
    for _ in range(rounds):
        better = state.worst < worst[rows]
        worst[rows[better]], end[rows[better]] = state.worst[better], state.u[better]
        going = (state.worst > CLOSE_ENOUGH) & (state.length > SHORTEST)
        if not going.any():
            break
        if going.sum() < 0.6 * len(rows):
            rows, of = rows[going], of.rows(going)
            state = state.some(going, of)
        state.advance()
    better = state.worst < worst[rows]
    worst[rows[better]], end[rows[better]] = state.worst[better], state.u[better]
    return Found(end, worst)


class _State:
    """Rows under way."""

    def __init__(self, of: Problem, u: Array, low: Array, high: Array) -> None:
        self.of, self.u, self.low, self.high = of, u, low, high
        self.length = np.ones(len(u))
        self.residual, self.slopes = of.evaluate(u)
        self.worst = _worst(self.residual)
        self.step = _step(self.residual, self.slopes, of.steps)

    def some(self, which: NDArray[np.bool_], of: Problem) -> "_State":
        """The rows that go on."""
        left = object.__new__(_State)
        left.of = of
        for name in ("u", "low", "high", "length", "residual", "slopes", "worst", "step"):
            setattr(left, name, getattr(self, name)[which])
        return left

    def advance(self) -> None:
        """Try a step of each row; where it makes things worse, a shorter one next time."""
        trial = np.clip(self.u + self.length[:, None] * self.step, self.low, self.high)
        residual, slopes = self.of.evaluate(trial)
        size, before = _size(residual), _size(self.residual)
        with np.errstate(invalid="ignore"):
            taken = (size < (1.0 - 1e-3 * self.length) * before) | (_worst(residual) < CLOSE_ENOUGH)
        self.u[taken], self.residual[taken], self.slopes[taken] = trial[taken], residual[taken], slopes[taken]
        self.worst[taken] = _worst(residual[taken])
        self.step[taken] = _step(residual[taken], slopes[taken], self.of.steps)
        self.length = np.where(taken, 1.0, SHORTER * self.length)


def _size(residual: Array) -> Array:
    total = np.sqrt(np.square(residual).sum(axis=-1))
    return np.where(np.isfinite(total), total, np.inf)


def _worst(residual: Array) -> Array:
    largest = np.abs(residual).max(axis=-1)
    return np.where(np.isfinite(largest), largest, np.inf)


def _step(residual: Array, slopes: Array, most: Array) -> Array:
    """Newton's step, no longer than allowed in any unknown."""
    matrix = np.where(np.isfinite(slopes), slopes, 0.0)
    size = np.abs(matrix).max(axis=(-2, -1), keepdims=True)
    matrix = matrix + 1e-13 * (size + 1e-30) * np.eye(matrix.shape[-1])
    aim = np.where(np.isfinite(residual), -residual, 0.0)
    try:
        step = np.linalg.solve(matrix, aim[..., None])[..., 0]
    except np.linalg.LinAlgError:
        step = np.stack([np.linalg.lstsq(one, to, rcond=None)[0] for one, to in zip(matrix, aim, strict=True)])
    step = np.where(np.isfinite(step), step, 0.0)
    longest = np.max(np.abs(step) / most, axis=-1, keepdims=True)
    return np.asarray(step / np.maximum(longest, 1.0))
