"""Where the refrigerant is: the weight of what a state holds, and the liquid that an accumulator keeps.

Void fraction after S. M. Zivi, "Estimation of steady-state steam void-fraction by means of the principle of minimum
entropy production", Journal of Heat Transfer 86 (1964) 247-252, with its closed mean over a range of quality; crude for
this purpose, and the volumes are generic.
"""

from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import sizes
from fifthwire.circuit.coil import LEAST_FLOW, Condensing, Evaporating
from fifthwire.circuit.compressor import Suction
from fifthwire.circuit.fluid import Saturated
from fifthwire.circuit.valve_law import inlet_volume

if TYPE_CHECKING:
    from fifthwire.circuit.cooling import Branches, CoolingState
    from fifthwire.circuit.heating import HeatingState
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


def boiling_density(coil: Evaporating, flow: Array, leaving: Array) -> Array:
    """Mean of a coil that boils, with what leaves it. [kg/m³]"""
    at, flow = coil.at, np.maximum(flow, LEAST_FLOW)
    share = np.clip(coil.wet_share(flow), 0.0, 1.0)
    wet = mean_density(at, at.quality(coil.inlet_enthalpy), np.minimum(at.quality(leaving), 1.0))
    return np.asarray(share * wet + (1.0 - share) / at.vapour_volume)


def condensing_density(coil: Condensing, flow: Array, leaving: Array) -> Array:
    """Mean of a coil that condenses, with what leaves it. [kg/m³]"""
    at, flow = coil.at, np.maximum(flow, LEAST_FLOW)
    vapour = np.clip(flow * coil.vapour_per_flow, 0.0, 1.0)
    liquid = np.clip(coil.flooded_share(flow), 0.0, 1.0 - vapour)
    wet = mean_density(at, at.quality(coil.inlet_enthalpy), at.quality(leaving))
    rest = 1.0 - vapour - liquid
    return np.asarray(vapour / at.vapour_volume + liquid / at.liquid_volume + rest * wet)


def indoor_kg(unit_kw: Array, density: Array) -> Array:
    """In the indoor coils together. [kg]"""
    return np.asarray((density * unit_kw).sum(axis=-1) * sizes.INDOOR_COIL_L_KW * LITRE)


def outside_kg(kw: Array, coil_density: Array, suction: Suction, line_volume: Array, liquid_kg_s: Array) -> Array:
    """Everything but the indoor coils. [kg]

    Parameters
    ----------
    kw : array
        Rated capacities of the outdoor units.
    coil_density : array
        Mean of the outdoor coils.
    suction : Suction
        At the compressors, which the gas line is full of.
    line_volume : array
        Of a kilogram in the liquid line.
    liquid_kg_s : array
        Liquid that comes to the accumulators.
    """
    kept = accumulator_kg(kw, suction.at, liquid_kg_s)
    empty = sizes.ACCUMULATOR_L_KW * LITRE * kw - kept * suction.at.liquid_volume
    gas = sizes.GAS_LINE_L_KW * LITRE * kw / suction.state.volume
    each = sizes.OUTDOOR_COIL_L_KW * LITRE * kw * coil_density + gas + kept + empty / suction.at.vapour_volume
    return np.asarray(each.sum(axis=-1) + sizes.LIQUID_LINE_L_KW * LITRE * kw.sum() / line_volume)


def cooling_kg(system: "CircuitSystem", state: "CoolingState") -> Array:
    """Everything in a system that cools. [kg]"""
    outside = state.outside
    suction = outside.suction
    coil = condensing_density(outside.condenser, outside.flow, outside.coil_enthalpy)
    line = inlet_volume(system.fluid, state.high, state.liquid_enthalpy)
    liquid = suction_liquid(suction.at, suction.enthalpy, outside.flow)
    return np.asarray(state.indoor_kg + outside_kg(system.outdoor_kw, coil, suction, line, liquid))


def boiling_kg(unit_kw: Array, branches: "Branches") -> Array:
    """In the indoor coils of a system that cools, together. [kg]"""
    return indoor_kg(unit_kw, boiling_density(branches.coil, branches.flow, branches.enthalpy))


def heating_kg(system: "CircuitSystem", state: "HeatingState", *, collected: bool) -> Array:
    """Everything in a system that heats: the gas line holds what the compressors press out. [kg]

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    state : HeatingState
        Its state.
    collected : bool
        Whether the accumulators have found their levels; else they are empty.
    """
    rooms, outside, kw = state.rooms, state.outside, system.outdoor_kw
    at = outside.suction.at
    coils = boiling_density(outside.coil, outside.coil_flow, outside.coil_enthalpy)
    hot = system.fluid.entering(state.high, state.discharge_enthalpy).volume
    liquid = suction_liquid(at, outside.suction.enthalpy, outside.flow)
    kept = accumulator_kg(kw, at, liquid) if collected else np.zeros(liquid.shape)
    empty = (sizes.ACCUMULATOR_L_KW * LITRE * kw - kept * at.liquid_volume) / at.vapour_volume
    each = sizes.OUTDOOR_COIL_L_KW * LITRE * kw * coils + kept + empty
    line = sizes.LIQUID_LINE_L_KW * LITRE * kw.sum() / inlet_volume(system.fluid, state.line, state.liquid_enthalpy)
    gas = sizes.GAS_LINE_L_KW * LITRE * kw.sum() / hot
    indoor = indoor_kg(system.unit_kw, condensing_density(rooms.coil, rooms.flow, rooms.enthalpy))
    return np.asarray(indoor + line + gas + each.sum(axis=-1))
