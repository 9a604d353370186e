"""The recorder: it samples, each point with its own small bias and noise, in steps of its own, and it has gaps."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from fifthwire.circuit.logs.clock import STEP_S, Array, LogPlan


@dataclass(frozen=True)
class Point:
    """What a recorder does to one kind of point, in the unit that it writes."""

    bias: float
    """Standard deviation of what a point is off by, always the same."""
    noise: float
    """Standard deviation of a reading."""
    quantum: float
    """Step of what is written."""
    decimals: int
    lost_share: float = 0.002
    """Share of single readings that are missing.  [1]"""
    is_held: bool = False
    """It stays what it was until it changes; else it moves between two steps on a straight line."""


TEMPERATURE: Final = Point(bias=0.3, noise=0.08, quantum=0.1, decimals=1)
AIR: Final = Point(bias=0.3, noise=0.1, quantum=0.5, decimals=1)
PRESSURE: Final = Point(bias=8.0, noise=4.0, quantum=10.0, decimals=0)
SPEED: Final = Point(bias=0.0, noise=0.08, quantum=1.0, decimals=0)
COMMAND: Final = Point(bias=0.0, noise=0.0, quantum=1.0, decimals=0, is_held=True)
FLAG: Final = Point(bias=0.0, noise=0.0, quantum=1.0, decimals=0, lost_share=0.0, is_held=True)
"""Kinds of point.  [°C], [°C], [kPa], [Hz], [pulses], [1]  Noise of thermometers: 0.04 to 0.09 K was measured on one
machine; the rest is our choice."""
GAPS_A_DAY: Final = 0.5
GAP_MEAN_S: Final = 1500.0
"""How often a recorder falls silent, and for how long on average.  [1/day], [s]  Our choice."""
REPEATED_SHARE: Final = 0.0005
"""Share of rows that are written twice.  [1]  Our choice."""


@dataclass(frozen=True)
class Recorded:
    """A log as the recorder wrote it."""

    time_s: Array
    """Of each row, from the start.  [s]"""
    columns: dict[str, Array]
    """NaN where a reading is missing."""
    decimals: dict[str, int]
    biases: dict[str, float]
    gaps_s: tuple[tuple[float, float], ...]
    """Start and end of each silence.  [s]"""


def recorded(true: Mapping[str, tuple[Array, Point]], plan: LogPlan, *, rng: Generator) -> Recorded:
    """What a recorder writes of a plant.

    Parameters
    ----------
    true : mapping
        By column: the true values at every step of the log, and the kind of point.
    plan : LogPlan
        Period and length.
    rng : Generator
        The log's own.

    Returns
    -------
    Recorded
        Rows in the order of time, some missing and a few twice.
    """
    gaps = _gaps(plan, rng)
    time_s = plan.samples_s()
    for start, end in gaps:
        time_s = time_s[(time_s < start) | (time_s >= end)]
    time_s = np.repeat(time_s, 1 + (rng.random(time_s.size) < REPEATED_SHARE))
    steps_s = plan.steps_s()
    step = np.minimum((time_s / STEP_S).astype(int), steps_s.size - 1)
    columns, biases = dict[str, Array](), dict[str, float]()
    is_twice = np.append(False, time_s[1:] == time_s[:-1])
    for name, (values, kind) in true.items():
        biases[name] = float(rng.normal(0.0, kind.bias)) if kind.bias else 0.0
        at = values[step] if kind.is_held else np.interp(time_s, steps_s, values)
        columns[name] = _read(at + biases[name], kind, is_twice, rng)
    decimals = {name: kind.decimals for name, (_, kind) in true.items()}
    return Recorded(time_s=time_s, columns=columns, decimals=decimals, biases=biases, gaps_s=gaps)


def _read(values: Array, kind: Point, is_twice: NDArray[np.bool_], rng: Generator) -> Array:
    noisy = values + rng.normal(0.0, kind.noise, values.size) if kind.noise else values
    read = np.round(noisy / kind.quantum) * kind.quantum + 0.0  # no negative zero
    if kind.lost_share:
        read = np.where(rng.random(values.size) < kind.lost_share, np.nan, read)
    again = np.flatnonzero(is_twice)
    read[again] = read[again - 1]
    return read


def _gaps(plan: LogPlan, rng: Generator) -> tuple[tuple[float, float], ...]:
    """Silences that do not touch the first or the last hour."""
    end_s = plan.days * 86400.0
    if end_s < 4.0 * 3600.0:
        return ()
    starts = np.sort(rng.uniform(3600.0, end_s - 7200.0, rng.poisson(GAPS_A_DAY * plan.days)))
    lengths = np.minimum(rng.exponential(GAP_MEAN_S, starts.size) + plan.period_s, 3600.0)
    return tuple((float(start), float(start + length)) for start, length in zip(starts, lengths, strict=True))
