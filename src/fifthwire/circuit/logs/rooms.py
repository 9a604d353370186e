"""Rooms and their thermostats, a step after the other: who runs when, and how warm each room is.

One heat store a room. What a unit takes out of it follows from its capacity and from how far the room is from the coil;
the circuit itself is solved afterwards for the pattern that comes out here.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.logs.clock import STEP_S, Array

STORE_S_K: Final = 700.0
"""Heat that a room holds a kelvin, of its unit's capacity.  [s/K]  Our choice: half a kelvin in ten minutes."""
HALF_BAND_K: Final = 0.5
"""A thermostat switches this far from its set point.  [K]  Common practice."""
LEAST_ON_S: Final = 300.0
LEAST_OFF_S: Final = 180.0
"""Between two switchings.  [s]  Common practice."""
LEAK_PER_S: Final = 1.0 / (12.0 * 3600.0)
"""How fast an empty room goes to the outdoor temperature.  [1/s]  Our choice."""


@dataclass(frozen=True)
class Rooms:
    """Of every step."""

    room_c: Array
    """[n, units]"""
    on: NDArray[np.bool_]
    """[n, units]"""


def run_rooms(
    need_frac: Array,
    wanted: Array,
    ambient_c: Array,
    *,
    set_point_c: Array,
    coil_c: float,
    strength_frac: Array,
    is_heating: bool,
) -> Rooms:
    """Thermostats through a log.

    Parameters
    ----------
    need_frac, wanted, ambient_c : array
        Of the surroundings.
    set_point_c : array
        A room each.  [°C]
    coil_c : float
        About how warm the coils are.  [°C]
    strength_frac : array
        What each unit gives at its set point, of its rated capacity: a row a step, less than 1 where it starves.  [1]
    is_heating : bool
        Which way the units work.

    Returns
    -------
    Rooms
        Temperatures, and who runs.
    """
    n, units = need_frac.shape
    sign = -1.0 if is_heating else 1.0
    reach = np.abs(set_point_c - coil_c)
    temperature, is_on = set_point_c + sign * 0.2, np.zeros(units, dtype=bool)
    since = np.full(units, LEAST_OFF_S)
    room, on = np.empty((n, units)), np.empty((n, units), dtype=bool)
    for step in range(n):
        error = sign * (temperature - set_point_c)
        wishes = np.where(is_on, error > -HALF_BAND_K, error > HALF_BAND_K) & (wanted[step] > 0.0)
        may = since >= np.where(is_on, LEAST_ON_S, LEAST_OFF_S)
        switches = may & (wishes != is_on) | (is_on & (wanted[step] == 0.0))
        is_on, since = is_on ^ switches, np.where(switches, 0.0, since + STEP_S)
        gives = np.where(is_on, strength_frac[step] * np.abs(temperature - coil_c) / reach, 0.0)
        temperature = temperature + STEP_S * (
            sign * (need_frac[step] - gives) / STORE_S_K + LEAK_PER_S * (ambient_c[step] - temperature)
        )
        room[step], on[step] = temperature, is_on
    return Rooms(room_c=room, on=on)
