"""What sensors show and where controllers drive their valves: not what is there, but what a technician sees of it."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import air, sizes
from fifthwire.circuit.coil import Zones
from fifthwire.circuit.fluid import Saturated

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

DEAD_BAND_K: Final = 0.5
"""Around the aim, inside which a controller leaves its valve.  [K]  Our choice."""
NO_COOLING_K: Final = 3.0
"""Both pipes this near the room's air: a controller takes it that nothing flows, and opens.  [K]  Our choice."""
STILL_FLOW: Final = 0.005
"""Of the rated flow, at which a pipe has drifted about two thirds to the air around it.  [1]  Our choice."""


def mixture_c(at: Saturated, quality: Array) -> Array:
    """Temperature of a mixture of both phases. [°C]"""
    return np.asarray(at.dew_c - (1.0 - np.clip(quality, 0.0, 1.0)) * (at.dew_c - at.bubble_c))


def drifted_share(flow: Array, rated_flow: Array) -> Array:
    """How far a pipe with little flow has drifted to the air around it. [1]"""
    return np.asarray(np.exp(-flow / (STILL_FLOW * rated_flow)))


def command_frac(
    *, opening: Array, is_free: Flags, is_on: Flags, is_dead: Flags, shown_k: Array, aim_k: Array
) -> Array:
    """Where the controller drives a valve: a stuck one it drives on and on, the way the readings ask.

    Parameters
    ----------
    opening : array
        Where the valve stands.
    is_free, is_on, is_dead : array
        Whether it moves, whether its unit runs, whether nothing seems to flow.
    shown_k, aim_k : array
        Superheat (or, heating, subcooling) as the sensors show it, and what is aimed at.
    """
    asks_more = (shown_k > aim_k + DEAD_BAND_K) | is_dead
    asks_less = shown_k < aim_k - DEAD_BAND_K
    driven = np.where(asks_more, 1.0, np.where(asks_less, sizes.LEAST_COMMAND, opening))
    return np.where(is_on, np.where(is_free, opening, driven), 0.0)


def supply_air_c(coil: Zones, heat_kw: Array) -> Array:
    """Air that leaves a coil which takes up (or, negative, gives off) heat; dry, or by the temperature of its surface.

    A wet coil's air lies between that which comes in and air saturated at the surface (the bypass-factor method of
    textbooks).
    """
    of = coil.of
    dry = of.air_c - heat_kw / of.capacity_kw_k
    contact = -np.expm1(-of.outer_kw_k / of.capacity_kw_k)
    surface = of.air_enthalpy - heat_kw / of.flow_kg_s / contact
    knots = np.linspace(-40.0, 60.0, 401)
    surface_c = np.interp(surface, air.saturated_enthalpy(knots), knots)
    wet = of.air_c - contact * (of.air_c - surface_c)
    return np.where(heat_kw > 0.0, np.maximum(dry, wet), dry)
