"""A smooth function looked up often: a cubic through the points about, each worked out when first needed."""

from collections.abc import Callable
from math import floor
from typing import Final

CLIFF: Final = 20.0
"""A second difference of a table beyond this is not one of a smooth function."""


class SmoothTable:
    """A smooth function on an even grid, a cubic through the four points about; straight where it falls off a cliff."""

    __slots__ = ("cells", "function", "known", "per_step", "step")

    def __init__(self, function: Callable[[float], float], step: float) -> None:
        self.function, self.step, self.per_step = function, step, 1.0 / step
        self.known: dict[int, float] = {}
        self.cells: dict[int, tuple[float, float, float, float]] = {}

    def at(self, x: float) -> float:
        """The function at x."""
        place = x * self.per_step
        index = floor(place)
        cell = self.cells.get(index)
        if cell is None:
            cell = self.cells[index] = self._cell(index)
        a, b, c, d = cell
        t = place - index
        return a + t * (b + t * (c + t * d))

    def _cell(self, index: int) -> tuple[float, float, float, float]:
        """Coefficients of the cubic between a point and the next, by Newton's differences."""
        known = self.known
        for near in range(index - 1, index + 3):
            if near not in known:
                known[near] = self.function(near * self.step)
        before, low, high, after = known[index - 1], known[index], known[index + 1], known[index + 2]
        bend, bend_on = before - 2.0 * low + high, low - 2.0 * high + after
        if abs(bend) > CLIFF or abs(bend_on) > CLIFF:
            return low, high - low, 0.0, 0.0
        third = (bend_on - bend) / 6.0
        return low, high - low - 0.5 * bend - third, 0.5 * bend, third
