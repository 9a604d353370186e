"""Where the refrigerant is: the weight of what a state holds, and the liquid that an accumulator keeps.

Void fraction after S. M. Zivi, "Estimation of steady-state steam void-fraction by means of the principle of minimum
entropy production", Journal of Heat Transfer 86 (1964) 247-252, with its closed mean over a range of quality; crude for
this purpose, and the volumes are generic.
"""

from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import sizes
from fifthwire.circuit.fluid import Saturated
from fifthwire.circuit.valve_law import inlet_volume

if TYPE_CHECKING:
    from fifthwire.circuit.cooling import Branches, CoolingState
    from fifthwire.circuit.system import CircuitSystem

Array = NDArray[np.float64]

LITRE: Final = 1e-3
"""[m³]"""
LEAST_SPAN: Final = 1e-3
"""Of quality, over which a density is averaged.  [1]"""


def mean_density(at: Saturated, first: Array, last: Array) -> Array:
    """Of a flow of two phases whose quality goes evenly from one value to another. [1], [1] -> [kg/m³]"""
    low = np.clip(np.minimum(first, last), 0.0, 1.0 - LEAST_SPAN)
    high = np.clip(np.maximum(first, last), low + LEAST_SPAN, 1.0)
    c = (at.liquid_volume / at.vapour_volume) ** (2.0 / 3.0)
    k = 1.0 - c
    void = 1.0 / k - c / k**2 * np.log((c + k * high) / (c + k * low)) / (high - low)
    return np.asarray(void / at.vapour_volume + (1.0 - void) / at.liquid_volume)


def accumulator_kg(kw: Array, at: Saturated, liquid_kg_s: Array) -> Array:
    """Liquid that stands in an accumulator whose bleed hole passes what comes in. [kg]

    Parameters
    ----------
    kw : array
        Rated capacity of its outdoor unit.
    at : Saturated
        At suction.
    liquid_kg_s : array
        Liquid that comes in, and goes on to the compressor.
    """
    dry = sizes.BLEED_G_S_KW * 1e-3 * kw
    head = (np.maximum(liquid_kg_s / dry, 1.0) ** 2 - 1.0) / (sizes.BLEED_FULL**2 - 1.0)
    full = sizes.ACCUMULATOR_L_KW * LITRE * kw / at.liquid_volume
    return np.asarray(full * np.minimum(head, 1.0))


def suction_liquid(at: Saturated, enthalpy: Array, flow: Array) -> Array:
    """Liquid that comes with the suction. [kg/s]"""
    return np.asarray(np.maximum(1.0 - at.quality(enthalpy), 0.0) * flow)


def cooling_kg(system: "CircuitSystem", state: "CoolingState") -> Array:
    """Everything in a system that cools. [kg]"""
    outside, kw = state.outside, system.outdoor_kw
    low = outside.suction.at
    coils = _condensing_kg(state) * kw * sizes.OUTDOOR_COIL_L_KW * LITRE
    line = sizes.LIQUID_LINE_L_KW * LITRE * kw.sum() / inlet_volume(system.fluid, state.high, state.liquid_enthalpy)
    gas = sizes.GAS_LINE_L_KW * LITRE * kw / outside.suction.state.volume
    liquid = suction_liquid(low, outside.suction.enthalpy, outside.flow)
    kept = accumulator_kg(kw, low, liquid)
    vapour = (sizes.ACCUMULATOR_L_KW * LITRE * kw - kept * low.liquid_volume) / low.vapour_volume
    return np.asarray(state.indoor_kg + line + (coils + gas + kept + vapour).sum(axis=-1))


def boiling_kg(unit_kw: Array, branches: "Branches") -> Array:
    """In the indoor coils of a system that cools, together. [kg]"""
    at, flow = branches.coil.at, np.maximum(branches.flow, 1e-12)
    share = np.clip(branches.coil.wet_share(flow), 0.0, 1.0)
    wet = mean_density(at, at.quality(branches.coil.inlet_enthalpy), np.minimum(at.quality(branches.enthalpy), 1.0))
    density = share * wet + (1.0 - share) / at.vapour_volume
    return np.asarray((density * unit_kw).sum(axis=-1) * sizes.INDOOR_COIL_L_KW * LITRE)


def _condensing_kg(state: "CoolingState") -> Array:
    """A cubic metre of outdoor coil. [kg/m³]"""
    outside = state.outside
    of, flow = outside.condenser, outside.flow
    vapour = np.clip(flow * of.vapour_per_flow, 0.0, 1.0)
    liquid = np.clip(of.flooded_share(flow), 0.0, 1.0 - vapour)
    wet = mean_density(of.at, of.at.quality(of.inlet_enthalpy), of.at.quality(outside.coil_enthalpy))
    rest = 1.0 - vapour - liquid
    return np.asarray(vapour / of.at.vapour_volume + liquid / of.at.liquid_volume + rest * wet)
