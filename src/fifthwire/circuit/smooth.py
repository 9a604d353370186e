"""Functions with a kink, rounded where a kink would stop Newton's method."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def positive(x: ArrayLike, width: float) -> Array:
    """Near x where that is well above 0 and near 0 where it is well below, always above 0."""
    x = np.asarray(x, dtype=float)
    return np.asarray(0.5 * (x + np.sqrt(x * x + width * width)))


def larger(a: Array, b: Array, width: ArrayLike) -> Array:
    """Near the larger of two."""
    gap = a - b
    return np.asarray(0.5 * (a + b + np.sqrt(gap * gap + np.square(width))))


def root(x: Array, width: float) -> Array:
    """Near the square root of x, with a finite slope at 0, and 0 below."""
    x = np.maximum(x, 0.0)
    return np.asarray(x / np.sqrt(np.sqrt(x * x + width * width)))
