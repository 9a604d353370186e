"""What a compressor moves and what it takes: the law that a system's compressors follow."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.fluid import Compressed, Saturated

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Suction:
    """What enters a compressor; wet as a homogeneous mixture."""

    at: Saturated
    enthalpy: Array
    state: Compressed


class CompressorLaw(Protocol):
    """A compressor of any size: `size` scales it, and speed is a share of the rated speed."""

    def size_for(self, flow_kg_s: Array, suction: Suction, condensing_c: Array) -> Array:
        """The size that moves a flow at the rated speed."""
        ...

    def speed_frac(self, flow_kg_s: Array, size: Array, suction: Suction, condensing_c: Array) -> Array:
        """The speed at which a flow is moved, of the rated speed."""
        ...

    def work_kj_kg(
        self, speed_frac: Array, size: Array, suction: Suction, condensing_c: Array, ideal_kj_kg: Array
    ) -> Array:
        """Work into the refrigerant, for that of an ideal compression."""
        ...

    def is_outside(self, evaporating_c: Array, condensing_c: Array) -> NDArray[np.bool_]:
        """Where a state lies outside what the law covers."""
        ...


@dataclass(frozen=True)
class Efficiencies:
    """A compressor of constant efficiencies; its size is the volume it sweeps a second at the rated speed.

    Both are held where liquid enters, for want of anything better.
    """

    isentropic_frac: float
    volumetric_frac: float

    def size_for(self, flow_kg_s: Array, suction: Suction, condensing_c: Array) -> Array:
        """Swept volume. [m³/s]"""
        return np.asarray(flow_kg_s * suction.state.volume / self.volumetric_frac)

    def speed_frac(self, flow_kg_s: Array, size: Array, suction: Suction, condensing_c: Array) -> Array:
        """Speed, of the rated speed."""
        return np.asarray(flow_kg_s * suction.state.volume / (size * self.volumetric_frac))

    def work_kj_kg(
        self, speed_frac: Array, size: Array, suction: Suction, condensing_c: Array, ideal_kj_kg: Array
    ) -> Array:
        """Work into the refrigerant."""
        return np.asarray(ideal_kj_kg / self.isentropic_frac)

    def is_outside(self, evaporating_c: Array, condensing_c: Array) -> NDArray[np.bool_]:
        """Nowhere."""
        return np.zeros(np.broadcast_shapes(evaporating_c.shape, condensing_c.shape), dtype=bool)
