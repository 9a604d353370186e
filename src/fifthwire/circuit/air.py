"""Moist air, as far as a wet coil asks for it.

Saturation pressure over water: O. A. Alduchov, R. E. Eskridge, "Improved Magnus form approximation of saturation vapor
pressure", Journal of Applied Meteorology 35 (1996) 601-609. Enthalpy of moist air: common textbook form, per kilogram
of dry air, 0 for dry air and liquid water at 0 °C.
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

AIR_CP: Final = 1.02
"""Of moist air, a kilogram of dry air and a kelvin.  [kJ/(kg K)]  Textbook form at 8 g/kg."""
AIR_KPA: Final = 101.325
"""Sea level.  [kPa]  ISO 2533:1975."""
HEAT_OF_WATER: Final = 2501.0
"""Of evaporation at 0 °C.  [kJ/kg]"""


def saturated_humidity(c: ArrayLike) -> Array:
    """Water in saturated air. [°C] -> [kg/kg]"""
    c = np.asarray(c, dtype=float)
    kpa = 0.61094 * np.exp(17.625 * c / (c + 243.04))
    return np.asarray(0.622 * kpa / (AIR_KPA - kpa))


def enthalpy(c: ArrayLike, humidity: ArrayLike) -> Array:
    """Of moist air. [°C], [kg/kg] -> [kJ/kg dry air]"""
    c = np.asarray(c, dtype=float)
    return np.asarray(1.006 * c + np.asarray(humidity) * (HEAT_OF_WATER + 1.86 * c))


def saturated_enthalpy(c: ArrayLike) -> Array:
    """Of saturated air. [°C] -> [kJ/kg dry air]"""
    return enthalpy(c, saturated_humidity(c))


def saturated_enthalpy_slope(c: ArrayLike) -> Array:
    """How saturated air's enthalpy rises with temperature. [kJ/(kg K)]"""
    c = np.asarray(c, dtype=float)
    return np.asarray((saturated_enthalpy(c + 0.5) - saturated_enthalpy(c - 0.5)) / 1.0)
