"""The exact law of one error of a reading, made ready for the many looks of the refinement.

Where all else that is known of the reading is wide beside the error, a few values stand for it (`noise_nodes`);
where it is narrow, a table of the density, made when first needed.
"""

from collections.abc import Callable
from functools import lru_cache
from math import ceil, log

from fifthwire.diagnosis.winding.meter_noise import NoiseLaw
from fifthwire.diagnosis.winding.noise_nodes import N_NODES, Nodes, gauss_rule, noise_nodes

WIDE = 1.1
"""From so many standard deviations of the error on, its nodes serve."""


class ErrorLaw:
    """One error's law: its nodes, and its table."""

    __slots__ = ("_make", "_table", "nodes", "wide_var")

    def __init__(self, nodes: Nodes, variance: float, make: Callable[[], "NoiseTable"]) -> None:
        self.nodes, self.wide_var = nodes, WIDE * WIDE * variance
        self._make = make
        self._table: NoiseTable | None = None

    @property
    def table(self) -> "NoiseTable":
        """The density."""
        if self._table is None:
            self._table = self._make()
        return self._table


@lru_cache(maxsize=32)
def error_law(law: NoiseLaw) -> ErrorLaw:
    """Law of a reading's own error, made once for all heads read with one meter."""
    return ErrorLaw(noise_nodes(law), law.variance, lambda: noise_table(law))


@lru_cache(maxsize=32)
def even_law(limit_ohm: float) -> ErrorLaw:
    """Law of an error that is uniform within a limit."""
    moments = [0.0 if k % 2 else 1.0 / (k + 1.0) for k in range(2 * N_NODES)]
    nodes = tuple([(limit_ohm * x, w) for x, w in gauss_rule(moments)])
    return ErrorLaw(nodes, limit_ohm**2 / 3.0, lambda: even_table(limit_ohm))


class NoiseTable:
    """Logarithm of an error's density on an even grid, for the many looks of the refinement."""

    __slots__ = ("high", "logs", "low", "per_step")

    def __init__(self, low: float, high: float, logs: list[float]) -> None:
        self.low, self.high, self.logs = low, high, logs
        self.per_step = (len(logs) - 1) / (high - low)


def noise_table(law: NoiseLaw) -> NoiseTable:
    """Table of a reading's own error.

    Its steps divide the rounding, so that each integral serves four times.
    """
    low, high = law.limits()
    r = law.rounding_ohm
    digits_steps = law.digits_ohm / r
    per_rounding = max(1, round(160 * r / (high - low)))
    n_steps = ceil((high - low) / r * per_rounding)
    if abs(digits_steps - round(digits_steps)) > 1e-6 or n_steps > 400:
        step = (high - low) / 160
        values = [law.density(low + index * step) for index in range(161)]
        return NoiseTable(low, high, [log(max(value, 1e-12)) for value in values])
    step = r / per_rounding
    wide, narrow = (round(digits_steps) + 1) * per_rounding, (round(digits_steps) - 1) * per_rounding
    integrals = [law.integral(index * step) for index in range(n_steps + 1)]

    def at(index: int) -> float:
        return integrals[index] if index > 0 else 0.0

    scale = 0.25 / (law.digits_ohm * r)
    logs = [
        log(max(scale * (integrals[i] - at(i - 2 * per_rounding) - at(i - wide - narrow) + at(i - 2 * wide)), 1e-12))
        for i in range(n_steps + 1)
    ]
    return NoiseTable(low, low + n_steps * step, logs)


def even_table(limit_ohm: float) -> NoiseTable:
    """Table of an error that is uniform within a limit."""
    return NoiseTable(-limit_ohm, limit_ohm, [-log(2.0 * limit_ohm)] * 2)
