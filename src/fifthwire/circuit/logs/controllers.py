"""What controllers do with their valves and with the compressor's speed, on the way to what the circuit asks of them.

A valve's controller moves in steps, no faster than its motor, and not at all inside its dead band; while a unit starts,
its valve stands at a fixed opening. The speed ramps. What they move towards is the equilibrium of that moment.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from fifthwire.circuit.logs.clock import STEP_S, Array

FULL_STROKE: Final = 480
"""Pulses of a made-up valve from shut to open."""
DEAD_BAND_FRAC: Final = 0.012
"""A controller leaves its valve alone within this of where it should be.  [1]  Our choice."""
SLEW_FRAC_S: Final = 0.0015
"""How fast it corrects: a tenth of the stroke a minute, so that superheat does not swing.  [1/s]  Our choice."""
MOST_STEP: Final = SLEW_FRAC_S * STEP_S
DRIVE_FRAC_S: Final = 0.06
"""How fast a motor turns where it is told a place: 30 pulses a second.  [1/s]  Common practice."""
START_FRAC: Final = 0.30
START_S: Final = 180.0
"""Where a valve stands while its unit starts, and for how long.  [1], [s]  Our choice."""
WANDER_FRAC: Final = 0.006
"""What noise of the superheat does to a command, standard deviation.  [1]  Our choice."""
SPEED_SLEW_S: Final = 0.004
"""Of the rated speed a second.  [1/s]  Our choice: from least to most in four minutes."""
SPEED_BAND_FRAC: Final = 0.01


@dataclass(frozen=True)
class Commands:
    """Of every step."""

    command_frac: Array
    """[n, valves]  As it is told, in whole pulses."""
    speed_frac: Array
    """[n]  0 where the compressors stand."""


def follow_valves(wanted_frac: Array, runs: NDArray[np.bool_], *, rng: Generator) -> Array:
    """Commands of valves.

    Parameters
    ----------
    wanted_frac : array
        Where the equilibrium of each step has them, a column a valve.  [1]
    runs : array
        Whether what the valve belongs to runs; where it does not, the valve is driven straight to its place.
    rng : Generator
        The log's own.

    Returns
    -------
    array
        Whole pulses over the full stroke.  [1]
    """
    n, valves = wanted_frac.shape
    wander = rng.standard_normal((n, valves)) * WANDER_FRAC
    command = np.where(runs[0], START_FRAC, wanted_frac[0])
    ran, since = np.zeros(valves, dtype=bool), np.full(valves, START_S)
    told = np.empty((n, valves))
    for step in range(n):
        since = np.where(runs[step] & ~ran, 0.0, since + STEP_S)
        starts, ran = runs[step] & (since < START_S), runs[step]
        away = wanted_frac[step] + wander[step] - command
        corrected = np.where(
            np.abs(away) > DEAD_BAND_FRAC, np.clip(away, -SLEW_FRAC_S * STEP_S, SLEW_FRAC_S * STEP_S), 0
        )
        place = np.where(starts, START_FRAC, wanted_frac[step])
        driven = np.clip(place - command, -DRIVE_FRAC_S * STEP_S, DRIVE_FRAC_S * STEP_S)
        command = np.clip(command + np.where(runs[step] & ~starts, corrected, driven), 0.0, 1.0)
        told[step] = command
    return in_pulses(told)


def in_pulses(frac: Array) -> Array:
    """Openings as whole pulses can have them. [1] -> [1]"""
    return np.asarray(np.round(frac * FULL_STROKE) / FULL_STROKE)


def follow_speed(wanted_frac: Array, runs: NDArray[np.bool_], *, least_frac: float) -> Array:
    """Speed of the compressors.

    Parameters
    ----------
    wanted_frac : array
        That of the equilibrium of each step.  [1]
    runs : array
        Whether anything calls for it.
    least_frac : float
        The slowest that they run at all.  [1]

    Returns
    -------
    array
        0 where they stand.  [1]
    """
    speed, said = 0.0, np.empty(wanted_frac.size)
    most = SPEED_SLEW_S * STEP_S
    for step, (wanted, does_run) in enumerate(zip(wanted_frac.tolist(), runs.tolist(), strict=True)):
        if not does_run:
            speed = 0.0
        elif speed == 0.0:
            speed = least_frac
        elif abs(wanted - speed) > SPEED_BAND_FRAC:
            speed = max(speed + min(max(wanted - speed, -most), most), least_frac)
        said[step] = speed
    return said
