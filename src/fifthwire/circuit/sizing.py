"""From a plant to sizes: every conductance, valve and compressor such that it gives its rated capacity at rating."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from fifthwire.circuit import air, sizes
from fifthwire.circuit.charge import boiling_density, condensing_density, indoor_kg, outside_kg
from fifthwire.circuit.coil import (
    WET_ROUNDING,
    AirSide,
    Condensing,
    Evaporating,
    boiling_against_liquid,
    condensing,
    evaporating,
    zones_of,
)
from fifthwire.circuit.compressor import CompressorLaw, Efficiencies, Suction
from fifthwire.circuit.fluid import Fluid, Saturated, fluid
from fifthwire.circuit.scenario import outdoor_units, valve_names
from fifthwire.circuit.system import CircuitSystem, CoilSizes
from fifthwire.circuit.valve_law import Curve, curve, full_flow, inlet_volume
from fifthwire.model.errors import InputError
from fifthwire.model.plant import OutdoorUnit, Plant

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Rating:
    """The rated state of cooling, from which sizes follow; arrays an outdoor unit."""

    fluid: Fluid
    low: Saturated
    high: Saturated
    coil_c: Array
    """Of the liquid that leaves the coil."""
    coil_enthalpy: Array
    liquid_enthalpy: Array
    """After the subcooler."""
    gas_enthalpy: Array
    flow: Array
    """Of the indoor units that an outdoor unit serves."""
    bypass_flow: Array
    discharge_enthalpy: Array
    suction: Suction


def circuit_of(
    plant: Plant, valve_curve: str | tuple[tuple[float, float], ...] | None = None, law: CompressorLaw | None = None
) -> CircuitSystem:
    """A plant with every size worked out.

    Parameters
    ----------
    plant : Plant
        As described; what it leaves out is generic.
    valve_curve : str or tuple, optional
        In place of the plant's own.
    law : CompressorLaw, optional
        In place of the plant's constant efficiencies: a map.

    Returns
    -------
    CircuitSystem
        Ready to be solved.

    Raises
    ------
    InputError
        If the plant cannot be simulated: without units, in heat-recovery operation, or a refrigerant whose rated
        condensing temperature lies outside its range.
    """
    _require_simulated(plant)
    unit_kw = np.array([of.capacity_kw for of in plant.units])
    outdoor = outdoor_units(plant)
    outdoor_kw = np.array([of.capacity_kw if of.capacity_kw else unit_kw.sum() / len(outdoor) for of in outdoor])
    has_subcooler = np.array([of.has_subcooler for of in outdoor])
    law = law or Efficiencies(plant.compressor.isentropic_frac, plant.compressor.volumetric_frac)
    of = fluid(plant.refrigerant)
    rating = _rating(of, outdoor, outdoor_kw, law)
    shape = curve(plant.valve_curve if valve_curve is None else valve_curve)
    liquid = float(np.average(rating.liquid_enthalpy, weights=outdoor_kw))
    rated_flow = unit_kw / (rating.gas_enthalpy[0] - liquid)
    condenser = _outdoor_coils(rating, outdoor_kw)
    indoor = _indoor_coils(of, unit_kw, liquid)
    return CircuitSystem(
        plant=plant,
        units=tuple(unit.id for unit in plant.units),
        outdoor=tuple(unit.id for unit in outdoor),
        valves=valve_names(plant),
        has_subcooler=has_subcooler,
        fluid=of,
        curve=shape,
        law=law,
        indoor_coils=indoor.sizes,
        outdoor_coils=condenser.sizes,
        share=outdoor_kw / outdoor_kw.sum(),
        valve_k=_valve_k(rating, shape, rated_flow, liquid),
        bypass_k=_bypass_k(rating, shape),
        main_k=_main_k(of, shape, rating.flow),
        subcooler_kw_k=_subcooler_kw_k(rating, has_subcooler),
        size=law.size_for(rating.flow + rating.bypass_flow, rating.suction, rating.high.dew_c),
        flooded_share=condenser.coil.flooded_share(rating.flow + rating.bypass_flow),
        rated_flow_kg_s=rated_flow,
        charge_kg=_charge_kg(rating, indoor, condenser, rated_flow, liquid),
        suction_drop_k=np.array([unit.suction_drop_k for unit in plant.units]),
    )


def _require_simulated(plant: Plant) -> None:
    if plant.mode not in ("cooling", "heating"):
        raise InputError(
            f'mode = "{plant.mode}": heat-recovery operation is not simulated', "Simulate it as cooling or as heating."
        )
    if not plant.units:
        raise InputError("the plant has no indoor unit", "Add [[units]] with an id and a capacity each.")


def _rating(of: Fluid, outdoor: tuple[OutdoorUnit, ...], outdoor_kw: Array, law: CompressorLaw) -> Rating:
    condensing_c = sizes.RATED_AMBIENT_C + np.array([unit.condenser_approach_k for unit in outdoor])
    if np.any(condensing_c > of.high_c - 3.0):
        raise InputError(
            f"{of.name} cannot condense at {condensing_c.max():g} °C: its range ends at {of.high_c:g} °C",
            "A system of this refrigerant works otherwise; it is not simulated.",
        )
    low = of.saturated(np.full(len(outdoor), sizes.RATED_EVAPORATING_C))
    high = of.saturated(condensing_c)
    most_subcooling = 0.8 * (high.bubble_c - sizes.RATED_AMBIENT_C)
    coil_c = high.bubble_c - np.minimum([unit.subcooling_k for unit in outdoor], most_subcooling)
    coil = of.liquid(coil_c, high.kpa)
    gas = low.superheated_enthalpy(np.array(sizes.RATED_SUPERHEAT_K))
    cools = np.array([sizes.RATED_SUBCOOLER_K if unit.has_subcooler else 0.0 for unit in outdoor])
    liquid = coil - high.liquid_cp * cools
    flow = outdoor_kw / (gas - liquid)
    bypass = flow * (coil - liquid) / (gas - coil)  # all the liquid is cooled, the bypass's own with it
    suction = Suction(low, gas, of.entering(low, gas))
    ideal = of.at_entropy(high, suction.state.entropy) - gas
    size = law.size_for(flow + bypass, suction, condensing_c)
    speed = law.speed_frac(flow + bypass, size, suction, condensing_c)
    work = law.work_kj_kg(speed, size, suction, condensing_c, ideal)
    return Rating(of, low, high, coil_c, coil, liquid, gas, flow, bypass, gas + work, suction)


@dataclass(frozen=True)
class RatedEvaporators:
    """Indoor coils, and one of a kilowatt at rating."""

    sizes: CoilSizes
    coil: Evaporating


@dataclass(frozen=True)
class RatedCondensers:
    """Outdoor coils, and what they are at rating."""

    sizes: CoilSizes
    coil: Condensing


def _indoor_coils(of: Fluid, unit_kw: Array, liquid_enthalpy: float) -> RatedEvaporators:
    """Conductances for the rated capacity; all units are one coil, scaled."""
    at = of.saturated(np.array(sizes.RATED_EVAPORATING_C))
    gas = at.superheated_enthalpy(np.array(sizes.RATED_SUPERHEAT_K))
    wanted = 1.0 / (float(gas) - liquid_enthalpy)
    humidity = sizes.RATED_ROOM_HUMIDITY * air.saturated_humidity(sizes.RATED_ROOM_C)

    def coil_of(outer: Array) -> Evaporating:
        inner = sizes.INDOOR_INNER_PER_OUTER * outer
        side = AirSide(
            np.array(sizes.RATED_ROOM_C),
            air.enthalpy(sizes.RATED_ROOM_C, humidity),
            np.array(sizes.INDOOR_AIR_KG_S_KW),
            outer,
            inner,
            sizes.VAPOUR_INNER * inner,
            sizes.LIQUID_INNER * inner,
            np.array(WET_ROUNDING),
        )
        return evaporating(zones_of(side), at, np.array(liquid_enthalpy))

    def excess(log_outer: float) -> float:
        return float(coil_of(np.array(np.exp(log_outer))).flow_for(sizes.RATED_SUPERHEAT_K)) - wanted

    outer = np.array(np.exp(brentq(excess, np.log(1e-3), np.log(10.0), xtol=1e-14)))
    inner = sizes.INDOOR_INNER_PER_OUTER * outer
    return RatedEvaporators(
        CoilSizes(sizes.INDOOR_AIR_KG_S_KW * unit_kw, outer * unit_kw, inner * unit_kw, unit_kw), coil_of(outer)
    )


def _outdoor_coils(rating: Rating, outdoor_kw: Array) -> RatedCondensers:
    """Coils that condense the rated flow at the rated approach and leave it as subcooled as rated."""
    coil, _ = _rated_condenser(rating, np.ones(len(outdoor_kw)))
    scale = (rating.flow + rating.bypass_flow) / coil.flow_for(rating.high.bubble_c - rating.coil_c)
    coil, side = _rated_condenser(rating, scale)
    return RatedCondensers(CoilSizes(side.flow_kg_s, side.outer_kw_k, side.inner_kw_k, outdoor_kw), coil)


def _rated_condenser(rating: Rating, scale: Array) -> tuple[Condensing, AirSide]:
    capacity = scale
    whole = sizes.OUTDOOR_UNITS_OF_TRANSFER * capacity
    outer = whole * (1.0 + 1.0 / sizes.OUTDOOR_INNER_PER_OUTER)
    inner = outer * sizes.OUTDOOR_INNER_PER_OUTER
    side = AirSide(
        np.full(len(scale), sizes.RATED_AMBIENT_C),
        np.zeros(len(scale)),
        capacity / air.AIR_CP,
        outer,
        inner,
        sizes.VAPOUR_INNER * inner,
        sizes.LIQUID_INNER * inner,
        np.zeros(len(scale)),
    )
    superheat = rating.fluid.superheat_k(rating.high, rating.discharge_enthalpy)
    return condensing(zones_of(side), rating.high, rating.discharge_enthalpy, superheat), side


def _charge_kg(
    rating: Rating, indoor: RatedEvaporators, outdoor: RatedCondensers, rated_flow: Array, liquid: float
) -> float:
    """What is in the whole system at rating."""
    unit_kw, kw = indoor.sizes.kw, outdoor.sizes.kw
    boiling = boiling_density(indoor.coil, np.array(rated_flow[0] / unit_kw[0]), rating.gas_enthalpy[0])
    density = condensing_density(outdoor.coil, rating.flow + rating.bypass_flow, rating.coil_enthalpy)
    line = inlet_volume(rating.fluid, _first(rating, rating.high), np.array(liquid))
    outside = outside_kg(kw, density, rating.suction, line, np.zeros(len(kw)))
    return float(outside + indoor_kg(unit_kw, np.broadcast_to(boiling, unit_kw.shape)))


def _valve_k(rating: Rating, shape: Curve, rated_flow: Array, liquid: float) -> Array:
    volume = inlet_volume(rating.fluid, _first(rating, rating.high), np.array(liquid))
    full = full_flow(volume, rating.high.kpa[0] - rating.low.kpa[0])
    return rated_flow / (full * shape.flow(sizes.RATED_OPENING))


def _first(rating: Rating, at: Saturated) -> Saturated:
    return rating.fluid.saturated(at.dew_c[0])


def _bypass_k(rating: Rating, shape: Curve) -> Array:
    volume = inlet_volume(rating.fluid, rating.high, rating.liquid_enthalpy)
    full = full_flow(volume, rating.high.kpa - rating.low.kpa)
    return rating.bypass_flow / (full * shape.flow(sizes.RATED_BYPASS_OPENING))


def _main_k(of: Fluid, shape: Curve, flow: Array) -> Array:
    """Main valves for the rated flow when heating."""
    high = of.saturated(np.array(Plant.condensing_c))
    low = of.saturated(np.array(sizes.RATED_HEATING_EVAPORATING_C))
    kpa = low.kpa + sizes.LIQUID_PRESSURE_SHARE * (high.kpa - low.kpa)
    at = of.saturated(of.dew_c(kpa))
    liquid = of.liquid(high.bubble_c - Plant.target_subcooling_k, high.kpa)
    full = full_flow(inlet_volume(of, at, liquid), kpa - low.kpa)
    return flow / (full * shape.flow(sizes.RATED_MAIN_OPENING))


def _subcooler_kw_k(rating: Rating, has_subcooler: NDArray[np.bool_]) -> Array:
    """Conductances that cool the rated liquid as rated with the rated superheat at the bypass's outlet."""
    found = []
    for j, is_there in enumerate(has_subcooler):
        if not is_there:
            found.append(1e-9)
            continue
        hot = (rating.flow[j] + rating.bypass_flow[j]) * rating.high.liquid_cp[j]
        low = rating.fluid.saturated(rating.low.dew_c[j])

        def excess(log_ua: float, j: int = j, hot: float = hot, low: Saturated = low) -> float:
            cold = boiling_against_liquid(
                low, rating.liquid_enthalpy[j], rating.coil_c[j], np.array(hot), np.array(np.exp(log_ua))
            )
            return float(cold.flow_for(sizes.RATED_SUPERHEAT_K)) - float(rating.bypass_flow[j])

        found.append(float(np.exp(brentq(excess, np.log(1e-4 * hot), np.log(20.0 * hot), xtol=1e-14))))
    return np.array(found)
