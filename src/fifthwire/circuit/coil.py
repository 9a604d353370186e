"""Coils between refrigerant and air in closed form: the one flow that gives a state, and the state of a given flow.

Zones of one coil lie side by side in the air, each with its share of area and air. Then a zone's share is explicit:
the air takes up the same part of the difference wherever it passes, so that a refrigerant of one phase nears the air's
temperature exponentially, and a zone of two phases needs a share in proportion to its heat. The idea of splitting area
and air alike is that of published moving-boundary condenser and evaporator models; the equations here were derived
again. A wet coil is taken as wholly wet where that gives more than wholly dry (Braun, Klein, Mitchell,
"Effectiveness models for cooling towers and cooling coils", ASHRAE Transactions 95 (2), 1989; from memory).
"""

from dataclasses import dataclass
from typing import Any, Final, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fifthwire.circuit import air
from fifthwire.circuit.fluid import Saturated
from fifthwire.circuit.sizes import SUBCOOLER_VAPOUR
from fifthwire.circuit.smooth import larger, positive

Array = NDArray[np.float64]

LEAST_FLOW: Final = 1e-12
"""Below this a flow is none.  [kg/s]"""
WET_ROUNDING: Final = 0.008
"""Of rated capacity, where a dry coil begins to condense water.  [1]"""
DIFFERENCE_ROUNDING_K: Final = 0.2
MOST_SUPERHEAT_SHARE: Final = 0.995
"""Of the difference to the air, that a valve can be asked to reach.  [1]  Our choice."""
AIRFLOW_EXPONENT: Final = 0.6
"""Of the air side's conductance with airflow.  [1]  Judgement: finned coils lie near 0.5 to 0.7."""


class ByRow:
    """Arrays with a row a case."""

    def rows(self, which: Any) -> Self:
        """Some of the cases."""
        return type(self)(**{name: _rows_of(value, which) for name, value in self.__dict__.items()})


def _rows_of(value: Any, which: Any) -> Any:
    return value.rows(which) if isinstance(value, ByRow) else value[which]


@dataclass(frozen=True)
class AirSide(ByRow):
    """What a coil is to the refrigerant, in given air; arrays that broadcast against the refrigerant's."""

    air_c: Array
    air_enthalpy: Array
    flow_kg_s: Array
    """Of dry air."""
    outer_kw_k: Array
    inner_kw_k: Array
    """Conductances of the air's and of the boiling or condensing refrigerant's side."""
    vapour_inner_kw_k: Array
    liquid_inner_kw_k: Array
    rounding_kw: Array

    @property
    def capacity_kw_k(self) -> Array:
        """Of the air's flow."""
        return air.AIR_CP * self.flow_kg_s

    def zone_kw_k(self, inner_kw_k: Array) -> Array:
        """Heat a kelvin between the refrigerant and the incoming air, of the whole coil in one phase."""
        conductance = 1.0 / (1.0 / inner_kw_k + 1.0 / self.outer_kw_k)
        return np.asarray(-self.capacity_kw_k * np.expm1(-conductance / self.capacity_kw_k))


@dataclass(frozen=True)
class Zones(ByRow):
    """An air side's heat a kelvin by phase, worked out once for many states."""

    of: AirSide
    boiling_kw_k: Array
    vapour_kw_k: Array
    liquid_kw_k: Array


def zones_of(of: AirSide) -> Zones:
    """Everything of a coil that does not change with the refrigerant's state."""
    return Zones(
        of, of.zone_kw_k(of.inner_kw_k), of.zone_kw_k(of.vapour_inner_kw_k), of.zone_kw_k(of.liquid_inner_kw_k)
    )


def boiling_kw(coil: Zones, mean_c: Array) -> Array:
    """Heat that a whole coil takes up at a boiling temperature, dry or wet, whichever is more. [°C] -> [kW]"""
    of = coil.of
    dry = coil.boiling_kw_k * positive(of.air_c - mean_c, DIFFERENCE_ROUNDING_K)
    slope = air.saturated_enthalpy_slope(mean_c + 4.0)
    conductance = 1.0 / (slope / of.inner_kw_k + air.AIR_CP / of.outer_kw_k)
    driving = of.air_enthalpy - air.saturated_enthalpy(mean_c)
    wet = -of.flow_kg_s * np.expm1(-conductance / of.flow_kg_s) * driving
    return larger(dry, wet, of.rounding_kw)


@dataclass(frozen=True)
class Evaporating:
    """A coil that boils, at one pressure: what it would take up, for any flow."""

    at: Saturated
    inlet_enthalpy: Array
    whole_kw: Array
    """Of the whole coil with two phases all along."""
    vapour_kw_k: Array
    above_k: Array
    """Incoming air (or liquid) less the dew temperature."""

    def flow_for(self, superheat_k: ArrayLike) -> Array:
        """The flow that leaves with a superheat. [K] -> [kg/s]"""
        aim = np.clip(superheat_k, 1e-6, MOST_SUPERHEAT_SHARE * self.above_k)
        boil = (self.at.vapour_enthalpy - self.inlet_enthalpy) / self.whole_kw
        heat = -self.at.vapour_cp * np.log1p(-aim / self.above_k) / self.vapour_kw_k
        return np.asarray(1.0 / (boil + heat))

    def wet_share(self, flow: Array) -> Array:
        """Share of the coil that boils, 1 and more where all of it does."""
        return flow * (self.at.vapour_enthalpy - self.inlet_enthalpy) / self.whole_kw

    def leaving(self, flow: Array) -> tuple[Array, Array]:
        """Superheat, 0 where wet, and enthalpy of what leaves. [kg/s] -> [K], [kJ/kg]"""
        flow = np.maximum(flow, LEAST_FLOW)
        share = self.wet_share(flow)
        exponent = np.maximum(1.0 - share, 0.0) * self.vapour_kw_k / (flow * self.at.vapour_cp)
        superheat = -self.above_k * np.expm1(-exponent)
        wet = self.inlet_enthalpy + self.whole_kw / flow
        return superheat, np.where(share < 1.0, self.at.superheated_enthalpy(superheat), wet)


def evaporating(coil: Zones, at: Saturated, inlet_enthalpy: Array) -> Evaporating:
    """A coil in its air that boils refrigerant of an enthalpy at a pressure; a blend boils between two temperatures."""
    inlet = np.clip(at.quality(inlet_enthalpy), 0.0, 1.0)
    mean_c = at.dew_c - 0.5 * (1.0 - inlet) * (at.dew_c - at.bubble_c)
    return Evaporating(
        at,
        inlet_enthalpy,
        boiling_kw(coil, mean_c),
        coil.vapour_kw_k,
        positive(coil.of.air_c - at.dew_c, DIFFERENCE_ROUNDING_K),
    )


def boiling_against_liquid(
    at: Saturated, inlet_enthalpy: Array, hot_c: Array, hot_kw_k: Array, conductance_kw_k: Array
) -> Evaporating:
    """The bypass's side of a subcooler: it boils against liquid as a coil does against air."""
    above = positive(hot_c - at.dew_c, DIFFERENCE_ROUNDING_K)
    whole = -hot_kw_k * np.expm1(-conductance_kw_k / hot_kw_k) * above
    vapour = -hot_kw_k * np.expm1(-SUBCOOLER_VAPOUR * conductance_kw_k / hot_kw_k)
    return Evaporating(at, inlet_enthalpy, whole, vapour, above)


@dataclass(frozen=True)
class Condensing:
    """A coil that condenses, at one pressure: shares of its area a unit of flow."""

    at: Saturated
    inlet_enthalpy: Array
    vapour_per_flow: Array
    """Share of the coil a kilogram a second needs to lose its superheat."""
    wet_per_flow: Array
    """The same to condense."""
    wet_kw: Array
    """Of the whole coil with two phases all along."""
    liquid_kw_k: Array
    above_k: Array
    """Bubble temperature less the incoming air."""

    def flow_for(self, subcooling_k: ArrayLike) -> Array:
        """The flow that leaves with a subcooling. [K] -> [kg/s]"""
        aim = np.clip(subcooling_k, 1e-6, MOST_SUPERHEAT_SHARE * self.above_k)
        cool = -self.at.liquid_cp * np.log1p(-aim / self.above_k) / self.liquid_kw_k
        return np.asarray(1.0 / (self.vapour_per_flow + self.wet_per_flow + cool))

    def flooded_share(self, flow: Array) -> Array:
        """Share of the coil left for liquid; negative where the coil is too small to condense everything."""
        return 1.0 - flow * (self.vapour_per_flow + self.wet_per_flow)

    def leaving(self, flow: Array) -> tuple[Array, Array]:
        """Subcooling, 0 where wet, and enthalpy without the pressure's small part. [kg/s] -> [K], [kJ/kg]"""
        flow = np.maximum(flow, LEAST_FLOW)
        share = self.flooded_share(flow)
        exponent = np.maximum(share, 0.0) * self.liquid_kw_k / (flow * self.at.liquid_cp)
        subcooling = -self.above_k * np.expm1(-exponent)
        wet = np.minimum(self.at.liquid_enthalpy + np.maximum(-share, 0.0) * self.wet_kw / flow, self.inlet_enthalpy)
        return subcooling, np.where(share < 0.0, wet, self.at.liquid_enthalpy)


def condensing(coil: Zones, at: Saturated, inlet_enthalpy: Array, superheat_k: Array) -> Condensing:
    """A coil in its air that condenses what comes in with a superheat (0 where wet) at a pressure."""
    above_dew = positive(at.dew_c - coil.of.air_c, DIFFERENCE_ROUNDING_K)
    above_bubble = positive(at.bubble_c - coil.of.air_c, DIFFERENCE_ROUNDING_K)
    excess = np.maximum(inlet_enthalpy - at.vapour_enthalpy, 0.0)
    ratio = np.maximum(superheat_k, 1e-9) / above_dew
    vapour = excess * np.log1p(ratio) / (ratio * above_dew * coil.vapour_kw_k)
    wet_kw = coil.boiling_kw_k * 0.5 * (above_dew + above_bubble)
    latent = np.minimum(inlet_enthalpy, at.vapour_enthalpy) - at.liquid_enthalpy
    return Condensing(at, inlet_enthalpy, vapour, latent / wet_kw, wet_kw, coil.liquid_kw_k, above_bubble)
