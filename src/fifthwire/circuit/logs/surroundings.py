"""What is around a plant from day to day: air outside, what warms the rooms, who is in.

Invented, and simple on purpose: a daily wave that reaches the plant's own outdoor temperature in the afternoon, a slow
drift from day to day, gains by the hours of an office, in which everything is switched off at night.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator

from fifthwire.circuit.logs.clock import STEP_S, Array, hour_of_day

SWING_K: Final = 9.0
"""From the coldest to the warmest hour.  [K]  Our choice."""
DRIFT_K: Final = 1.2
"""Of the slow drift, standard deviation.  [K]  Our choice."""
DRIFT_HOURS: Final = 18.0
WARMEST_HOUR: Final = 15.5
OPENS_HOUR, CLOSES_HOUR = 6.5, 19.0
LEAST_DUTY, MOST_DUTY = 0.35, 0.80
"""Of a unit at the plant's own outdoor temperature, share of its capacity that its room needs.  [1]  Our choice."""
NIGHT_DUTY: Final = 0.08


@dataclass(frozen=True)
class Surroundings:
    """Of every step of a log."""

    ambient_c: Array
    """[n]"""
    need_frac: Array
    """[n, units]  What warms (or cools) the room, of the unit's capacity."""
    wanted: Array
    """[n, units]  1 where somebody has switched the unit on."""


def surroundings(
    time_s: Array, n_units: int, *, design_ambient_c: float, is_heating: bool, rng: Generator
) -> Surroundings:
    """The surroundings of a log.

    Parameters
    ----------
    time_s : array
        From midnight.  [s]
    n_units : int
        Rooms.
    design_ambient_c : float
        What the outdoor air comes near to at its most demanding hour.  [°C]
    is_heating : bool
        Whether the coldest hour is the demanding one.
    rng : Generator
        The log's own.
    """
    hour = hour_of_day(time_s)
    wave = 0.5 * np.cos((hour - WARMEST_HOUR) * 2.0 * np.pi / 24.0)
    drift = _slow(time_s.size, DRIFT_HOURS * 3600.0, rng) * DRIFT_K
    ambient = design_ambient_c + SWING_K * (wave + (0.5 if is_heating else -0.5)) + drift
    duty = rng.uniform(LEAST_DUTY, MOST_DUTY, n_units)
    shift = rng.uniform(-0.5, 0.5, n_units)
    opens, closes = OPENS_HOUR + shift, CLOSES_HOUR + shift
    is_open = (hour[:, np.newaxis] >= opens) & (hour[:, np.newaxis] < closes)
    flutter = 1.0 + 0.25 * np.column_stack([_slow(time_s.size, 2400.0, rng) for _ in range(n_units)])
    towards = 1.0 + 0.03 * (ambient - design_ambient_c) * (-1.0 if is_heating else 1.0)
    need = np.where(is_open, duty * np.clip(flutter, 0.3, 1.7), NIGHT_DUTY) * towards[:, np.newaxis]
    return Surroundings(ambient_c=ambient, need_frac=np.clip(need, 0.0, 1.0), wanted=is_open.astype(float))


def _slow(count: int, memory_s: float, rng: Generator) -> Array:
    """A wandering value of standard deviation 1 that forgets itself in a time."""
    from scipy.signal import lfilter

    keep = np.exp(-STEP_S / memory_s)
    shocks = rng.standard_normal(count) * np.sqrt(1.0 - keep**2)
    shocks[0] = rng.standard_normal()
    return np.asarray(lfilter([1.0], [1.0, -keep], shocks))
