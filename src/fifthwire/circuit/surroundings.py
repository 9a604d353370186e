"""Coils of a plant in the air of many cases."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import air, sizes
from fifthwire.circuit.coil import AIRFLOW_EXPONENT, WET_ROUNDING, AirSide, Zones, zones_of
from fifthwire.circuit.scenario import Scenarios
from fifthwire.circuit.system import CircuitSystem, CoilSizes

Array = NDArray[np.float64]

LEAST_AIRFLOW: Final = 1e-3
"""Of the rated airflow; below it a coil in no air at all would divide by nothing.  [1]"""


def indoor_coils(system: CircuitSystem, cases: Scenarios) -> Zones:
    """Indoor coils in their rooms, the fan standing where a unit is off. [n, units]"""
    airflow = np.where(cases.on, cases.airflow_frac, sizes.OFF_AIRFLOW)
    return _in_air(system.indoor_coils, airflow, cases.rooms_c, sizes.RATED_ROOM_HUMIDITY)


def outdoor_coils(system: CircuitSystem, cases: Scenarios) -> Zones:
    """Outdoor coils in the air outside. [n, outdoor]"""
    airflow = np.maximum(cases.outdoor_airflow_frac, LEAST_AIRFLOW)
    ambient = np.broadcast_to(cases.ambient_c[:, None], airflow.shape)
    return _in_air(system.outdoor_coils, airflow, ambient, sizes.OUTDOOR_HUMIDITY_HEATING)


def _in_air(of: CoilSizes, airflow_frac: Array, air_c: Array, humidity: float) -> Zones:
    outer = of.outer_kw_k * airflow_frac**AIRFLOW_EXPONENT
    inner = np.broadcast_to(of.inner_kw_k, outer.shape)
    side = AirSide(
        air_c,
        air.enthalpy(air_c, humidity * air.saturated_humidity(air_c)),
        of.air_kg_s * airflow_frac,
        outer,
        inner,
        sizes.VAPOUR_INNER * inner,
        sizes.LIQUID_INNER * inner,
        np.broadcast_to(WET_ROUNDING * of.kw, outer.shape),
    )
    return zones_of(side)
