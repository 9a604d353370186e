"""A compressor's map as the law that a system's compressors follow, on surfaces laid through it once.

A map speaks of one compressor: a system has as many of them side by side as its rated flow needs. Outside the map's
limits its edge is carried on only to let the search come back inside; a state found there is none (`is_outside`).
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import RectBivariateSpline

from fifthwire.circuit.ahri540 import MappedCompressor, along_speed, speed_of_flow, suction_correction
from fifthwire.circuit.compressor import Suction

Array = NDArray[np.float64]

KNOTS: Final = 25
"""Of a surface, each way.  Our choice: its error is tested."""
NEARLY_ONE: Final = 0.02
"""So little of a further compressor is not installed.  [1]  Our choice."""


class MappedLaw:
    """Whole compressors of one map.

    Parameters
    ----------
    of : MappedCompressor
        The map with its refrigerant.
    """

    def __init__(self, of: MappedCompressor) -> None:
        self.map = of.map
        self._speeds = of.speeds
        evaporating, condensing = (np.linspace(*ends, KNOTS) for ends in (of.map.evaporating_c, of.map.condensing_c))
        rated = of.rated(evaporating[:, np.newaxis], condensing)
        efficiency = rated.isentropic_frac
        self._flow = [RectBivariateSpline(evaporating, condensing, one) for one in rated.flow_kg_s]
        self._efficiency = [RectBivariateSpline(evaporating, condensing, one) for one in efficiency]
        self._volume = RectBivariateSpline(evaporating, condensing, rated.suction_m3_kg)

    def size_for(self, flow_kg_s: Array, suction: Suction, condensing_c: Array) -> Array:
        """How many of them move a flow at the rated speed; at least one."""
        one = self._flow_kg_s(np.ones_like(flow_kg_s), suction, condensing_c)
        return np.maximum(np.ceil(flow_kg_s / one - NEARLY_ONE), 1.0)

    def speed_frac(self, flow_kg_s: Array, size: Array, suction: Suction, condensing_c: Array) -> Array:
        """Speed at which so many of them move a flow, of the rated speed."""
        evaporating, condensing = self._inside(suction, condensing_c)
        correction = suction_correction(self._volume.ev(evaporating, condensing), suction.state.volume)
        rows = np.array([one.ev(evaporating, condensing) for one in self._flow])
        return speed_of_flow(self._speeds, rows, np.asarray(flow_kg_s / size / correction))

    def work_kj_kg(
        self, speed_frac: Array, size: Array, suction: Suction, condensing_c: Array, ideal_kj_kg: Array
    ) -> Array:
        """Work into the refrigerant, by the efficiency that the map implies there."""
        evaporating, condensing = self._inside(suction, condensing_c)
        rows = np.array([one.ev(evaporating, condensing) for one in self._efficiency])
        # an efficiency, unlike a flow, does not go to nothing with the speed
        return np.asarray(ideal_kj_kg / along_speed(self._speeds, rows, np.asarray(speed_frac), starts_at_zero=False))

    def is_outside(self, evaporating_c: Array, condensing_c: Array) -> NDArray[np.bool_]:
        """Where a state lies outside the map's limits, so that nothing is known of it."""
        return self.map.is_outside(evaporating_c, condensing_c)

    def _flow_kg_s(self, speed_frac: Array, suction: Suction, condensing_c: Array) -> Array:
        evaporating, condensing = self._inside(suction, condensing_c)
        correction = suction_correction(self._volume.ev(evaporating, condensing), suction.state.volume)
        rows = np.array([one.ev(evaporating, condensing) for one in self._flow])
        return np.asarray(along_speed(self._speeds, rows, speed_frac) * correction)

    def _inside(self, suction: Suction, condensing_c: Array) -> tuple[Array, Array]:
        evaporating, condensing = np.broadcast_arrays(suction.at.dew_c, condensing_c)
        return np.clip(evaporating, *self.map.evaporating_c), np.clip(condensing, *self.map.condensing_c)
