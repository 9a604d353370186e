"""A plant with its sizes worked out: what the equations of the circuit need to know of it."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.compressor import CompressorLaw
from fifthwire.circuit.fluid import Fluid
from fifthwire.circuit.scenario import place_of_valve
from fifthwire.circuit.valve_law import Curve
from fifthwire.model.plant import Plant

Array = NDArray[np.float64]


@dataclass(frozen=True)
class CoilSizes:
    """Coils of one kind: arrays a coil."""

    air_kg_s: Array
    outer_kw_k: Array
    inner_kw_k: Array
    kw: Array
    """Rated cooling capacity of the unit."""


@dataclass(frozen=True, eq=False)
class CircuitSystem:
    """A plant ready to be solved; its arrays are in the order of `units` and `outdoor`. Made by `circuit_of`."""

    plant: Plant
    units: tuple[str, ...]
    """Ids of the indoor units."""
    outdoor: tuple[str, ...]
    """Ids of the outdoor units."""
    valves: tuple[str, ...]
    """Indoor units' valves by the unit's id, then OU1/main and so on, then OU1/subcooler-bypass where there is one."""
    has_subcooler: NDArray[np.bool_]
    """[outdoor]"""
    fluid: Fluid
    curve: Curve
    law: CompressorLaw
    indoor_coils: CoilSizes
    outdoor_coils: CoilSizes
    share: Array
    """Of each outdoor unit in the whole, by rated capacity. [outdoor]"""
    valve_k: Array
    """K of the indoor valves. [units]"""
    bypass_k: Array
    main_k: Array
    subcooler_kw_k: Array
    """[outdoor]"""
    size: Array
    """Of the compressors, as their law counts it. [outdoor]"""
    flooded_share: Array
    """Of the outdoor coils, filled with liquid at rated load. [outdoor]"""
    rated_flow_kg_s: Array
    """Of the indoor units. [units]"""
    charge_kg: float
    """What the system holds when it is rightly charged: what is in it at rated load."""
    suction_drop_k: Array
    """At rated flow. [units]"""

    @property
    def curve_name(self) -> str:
        """concave, linear or table."""
        return self.curve.name

    @property
    def mode(self) -> str:
        """cooling or heating."""
        return self.plant.mode

    @property
    def unit_kw(self) -> Array:
        """Rated cooling capacity. [units]"""
        return self.indoor_coils.kw

    @property
    def outdoor_kw(self) -> Array:
        """Rated cooling capacity. [outdoor]"""
        return self.outdoor_coils.kw

    def valve(self, name: str) -> int:
        """The place of a valve in `valves`; `main` and `subcooler-bypass` alone mean the first outdoor unit's."""
        return place_of_valve(self.valves, name)

    @cached_property
    def bypass_places(self) -> NDArray[np.int_]:
        """Of the bypass valves in `valves`, -1 without a subcooler. [outdoor]"""
        names = [f"{name}/subcooler-bypass" for name in self.outdoor]
        return np.array([self.valves.index(name) if name in self.valves else -1 for name in names])

    @cached_property
    def main_places(self) -> NDArray[np.int_]:
        """Of the main valves in `valves`. [outdoor]"""
        return np.array([self.valves.index(f"{name}/main") for name in self.outdoor])

    @cached_property
    def heating_kg(self) -> float:
        """What takes part when a rightly charged system heats: the rest waits in its accumulators by design."""
        from fifthwire.circuit.design import heating_design_kg  # which solves this system's own rated state

        return heating_design_kg(self)
