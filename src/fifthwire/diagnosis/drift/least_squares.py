"""Least squares over a few dozen unknowns, by the normal equations."""

from collections.abc import Sequence
from typing import Final

from fifthwire.model.record import record

_SINGULAR: Final = 1e-10
"""A pivot below this share of its own column's size: the unknown cannot be told from the others.  [1]"""


@record
class Fitted:
    """The unknowns that leave the smallest sum of squares."""

    values: tuple[float, ...]
    squares: float
    """What is left."""
    inverse: tuple[tuple[float, ...], ...]
    """Of the normal equations: the covariance of the unknowns at scatter 1."""

    def variance(self, weights: Sequence[float]) -> float:
        """Of a weighted sum of the unknowns, at scatter 1."""
        return sum(
            weights[i] * weights[j] * self.inverse[i][j]
            for i in range(len(weights))
            if weights[i]
            for j in range(len(weights))
            if weights[j]
        )


def solved(rows: Sequence[Sequence[float]], values: Sequence[float]) -> Fitted | None:
    """Fit unknowns to equations.

    Parameters
    ----------
    rows : sequence
        For each equation, how much of each unknown it holds.
    values : sequence of float
        Their right sides.

    Returns
    -------
    Fitted or None
        None where the equations do not tell the unknowns apart.
    """
    n = len(rows[0])
    normal = [[sum(row[i] * row[j] for row in rows) for j in range(n)] for i in range(n)]
    right = [sum(row[i] * value for row, value in zip(rows, values, strict=True)) for i in range(n)]
    inverse = _inverted(normal)
    if inverse is None:
        return None
    found = [sum(inverse[i][j] * right[j] for j in range(n)) for i in range(n)]
    left = [
        value - sum(a * b for a, b in zip(row, found, strict=True)) for row, value in zip(rows, values, strict=True)
    ]
    return Fitted(
        values=tuple(found), squares=sum(one * one for one in left), inverse=tuple(tuple(row) for row in inverse)
    )


def _inverted(matrix: Sequence[Sequence[float]]) -> list[list[float]] | None:
    """The inverse of a symmetric, positive matrix, by elimination on its diagonal."""
    n = len(matrix)
    work = [[*row, *[1.0 if i == j else 0.0 for j in range(n)]] for i, row in enumerate(matrix)]
    for i in range(n):
        pivot = work[i][i]
        if pivot <= _SINGULAR * max(matrix[i][i], 1e-300):
            return None
        work[i] = [value / pivot for value in work[i]]
        for k in range(n):
            factor = work[k][i]
            if k != i and factor:
                work[k] = [a - factor * b for a, b in zip(work[k], work[i], strict=True)]
    return [row[n:] for row in work]
