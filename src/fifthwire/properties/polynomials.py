"""Polynomials of one variable over long arrays, a block at a time, so that the work stays in the processor's cache.

A Chebyshev series is turned into powers of the distance to the middle of its range, and those are grouped by fours
(M. S. Paterson, L. J. Stockmeyer, "On the number of nonscalar multiplications necessary to evaluate polynomials", SIAM
Journal on Computing 2 (1973) 60-66): half the passes over the block that Horner's rule takes. At the degrees and ranges
used here the two forms of a series differ by a few units of the last place of its largest coefficient.
"""

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Final

import numpy as np
from numpy.polynomial import chebyshev
from numpy.typing import NDArray

from fifthwire.physics.refrigerants.refrigerant import EDGE

Array = NDArray[np.float64]
Fill = Callable[..., None]
"""Writes a block: the result first, then one block of each input."""

BLOCK: Final = 65536
"""Values a block: calling NumPy costs little beside the work, and the block stays in a cache.  Measured."""
WORTH_A_THREAD: Final = 1_000_000
"""Values from which on a second thread is worth its start.  Measured."""
MOST_THREADS: Final = 4
GROUP: Final = 4
"""Powers a group."""


class Line:
    """A series of one variable, ready for arrays; NaN outside its range.

    Parameters
    ----------
    coefficients : tuple of float
        Chebyshev, from degree 0 up to a multiple of four, as all that are stored.
    low, high : float
        Ends of the range.
    """

    def __init__(self, coefficients: tuple[float, ...], low: float, high: float) -> None:
        half = (high - low) / 2.0
        powers = chebyshev.cheb2poly(coefficients)
        powers = powers / half ** np.arange(powers.size)
        self._middle, self._limit = (low + high) / 2.0, half * (1.0 + EDGE)
        self._groups = np.zeros(((powers.size - 1) // GROUP, GROUP))
        self._groups.flat[:] = powers[:-1]
        self._highest = np.array(powers[-1])

    def filler(self, size: int, *, before: np.ufunc | None = None, after: np.ufunc | None = None) -> Fill:
        """A function that writes the series of a block, with room of its own to work in.

        Parameters
        ----------
        size : int
            Values a block at most.
        before, after : ufunc, optional
            Applied to the values before the series, and to the result.
        """
        room, sums = np.ones((GROUP, size)), np.empty((len(self._groups), size))
        fourth = np.empty(size)

        def fill(out: Array, values: Array) -> None:
            powers, sum_of = room[:, : values.size], sums[:, : values.size]
            step = fourth[: values.size]
            z = powers[1]
            if before is not None:
                values = before(values, out=z)
            np.subtract(values, self._middle, out=z)
            if z.size and not (np.maximum.reduce(z) <= self._limit and np.minimum.reduce(z) >= -self._limit):
                z[~(np.abs(z) <= self._limit)] = np.nan
            np.multiply(z, z, out=powers[2])
            np.multiply(powers[2], z, out=powers[3])
            np.multiply(powers[2], powers[2], out=step)
            np.matmul(self._groups, powers, out=sum_of)
            np.multiply(step, self._highest, out=out)
            for group in sum_of[:0:-1]:
                np.add(out, group, out=out)
                np.multiply(out, step, out=out)
            np.add(out, sum_of[0], out=out)
            if after is not None:
                after(out, out=out)

        return fill


def in_blocks(make_fill: Callable[[int], Fill], *inputs: Array, size: int = BLOCK) -> Array:
    """Apply a block function along arrays of one shape, on several cores where they are long.

    Parameters
    ----------
    make_fill : callable
        Makes the function for one core, for blocks of so many values. That is given a block of the result and a block
        of each input; every block stands alone, so that their order is nothing.
    *inputs : array
        Of one shape.
    size : int
        Values a block.

    Returns
    -------
    array
        Of the shape of the inputs.
    """
    flat = [np.ascontiguousarray(one).reshape(-1) for one in inputs]
    out = np.empty(inputs[0].shape)
    into = out.reshape(-1)

    def part(first: int, end: int) -> None:
        fill = make_fill(min(size, end - first))
        with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
            for start in range(first, end, size):
                stop = min(start + size, end)
                fill(into[start:stop], *(one[start:stop] for one in flat))

    threads = min(MOST_THREADS, os.cpu_count() or 1) if into.size >= WORTH_A_THREAD else 1
    if threads == 1:
        part(0, into.size)
        return out
    share = -(-into.size // threads)
    with ThreadPoolExecutor(threads) as pool:
        starts = range(0, into.size, share)
        list(pool.map(part, starts, (min(start + share, into.size) for start in starts)))
    return out


def chebyshev_rows(x: Array, count: int) -> Array:
    """T_0(x) to T_{count-1}(x), a row each."""
    rows = np.ones((count, x.size))
    rows[1] = x
    for degree in range(2, count):
        np.multiply(rows[degree - 1], 2.0 * x, out=rows[degree])
        rows[degree] -= rows[degree - 2]
    return rows
