"""Flow of liquid through valves and short tubes: published laws, to hold the simulated valves against.

Absolute flows of refrigerant valves differ by a factor of 2 to 3.6 between sources: ratios between like valves mean
something, absolute figures do not.
"""

from math import log, sqrt
from typing import Final

from fifthwire.model.errors import InputError

WATER_KG_M3: Final = 999.1
"""At 15 °C, to which a flow coefficient is referred.  [kg/m³]  IEC 60534-2-1."""
KPA_PER_BAR: Final = 100.0
SHORT_TUBE: Final = (0.38811, 11.427, -14.194, 1.0703, -0.091928, 21.425, -581.95)
"""Coefficients a1 to a7 of W. V. Payne, D. L. O'Neal, "A mass flow rate correlation for refrigerants and refrigerant
mixtures flowing through short tubes", HVAC&R Research 10 (2004), as an academic program gives them."""
LI_POLYNOMIAL: Final = (-0.07374, 1.5461, -0.73679, 1.09651)
"""Of W. Li, Applied Thermal Engineering 53 (2013) 8-12: R410A, a bore of 1.8 mm, condensing 30 to 50 °C, evaporating 0
to 30 °C, subcooling 1.5 to 15 K. Coefficients as an open library gives them; the paper was not seen."""
LI_POWER: Final = (1.066, 0.8006, 0.0609)
"""The same paper's power form, bores of 1.6 to 1.8 mm."""


def critical_pressure_ratio_factor(vapour_kpa_abs: float, critical_kpa_abs: float) -> float:
    """F_F of IEC 60534-2-1: how far below its vapour pressure a liquid can fall in a valve. [kPa], [kPa] -> [1]"""
    return 0.96 - 0.28 * sqrt(vapour_kpa_abs / critical_kpa_abs)


def choked_drop_kpa(inlet_kpa_abs: float, vapour_kpa_abs: float, critical_kpa_abs: float, *, recovery: float) -> float:
    """Difference of pressures beyond which a liquid's flow no longer rises, IEC 60534-2-1.

    Parameters
    ----------
    inlet_kpa_abs, vapour_kpa_abs, critical_kpa_abs : float
        [kPa]
    recovery : float
        The valve's liquid pressure recovery factor F_L.  [1]

    Returns
    -------
    float
        [kPa]

    Examples
    --------
    >>> round(choked_drop_kpa(680.0, 70.1, 22120.0, recovery=0.9), 2)
    497.19
    """
    factor = critical_pressure_ratio_factor(vapour_kpa_abs, critical_kpa_abs)
    return recovery**2 * (inlet_kpa_abs - factor * vapour_kpa_abs)


def flow_coefficient_kv(flow_m3_h: float, density_kg_m3: float, drop_kpa: float, choked_kpa: float) -> float:
    """K_v that a valve needs for a flow of liquid, choked or not. [m³/h], [kg/m³], [kPa], [kPa] -> [m³/h at 1 bar]

    Raises
    ------
    InputError
        If no pressure drives the flow.
    """
    driving = min(drop_kpa, choked_kpa) / KPA_PER_BAR
    if driving <= 0.0:
        raise InputError(f"{driving * KPA_PER_BAR:g} kPa drive no flow", "The pressure falls along a valve.")
    return flow_m3_h * sqrt(density_kg_m3 / WATER_KG_M3 / driving)


def liquid_flow_m3_h(kv: float, density_kg_m3: float, drop_kpa: float, choked_kpa: float) -> float:
    """Flow of liquid through a valve, choked or not: `flow_coefficient_kv` the other way round."""
    return kv * sqrt(max(min(drop_kpa, choked_kpa), 0.0) / KPA_PER_BAR / (density_kg_m3 / WATER_KG_M3))


def cavitation_index(inlet_kpa_abs: float, outlet_kpa_abs: float, vapour_kpa_abs: float) -> float:
    """Sigma: the inlet's distance from vapour over the difference of pressures. [kPa] -> [1]"""
    return (inlet_kpa_abs - vapour_kpa_abs) / (inlet_kpa_abs - outlet_kpa_abs)


def short_tube_flux_kg_s_m2(
    *,
    above_saturation: float,
    density_ratio: float,
    subcooling_ratio: float,
    length_over_bore: float,
    liquid_kg_m3: float,
    critical_kpa_abs: float,
) -> float:
    """Flow over area of subcooled liquid through a short tube, after Payne and O'Neal (2004).

    Parameters
    ----------
    above_saturation : float
        Inlet pressure less saturation pressure at the inlet's temperature, over the critical pressure.  [1]
    density_ratio : float
        Saturated vapour over saturated liquid, at the inlet's temperature.  [1]
    subcooling_ratio : float
        Subcooling over the critical temperature in kelvin.  [1]
    length_over_bore : float
        [1]
    liquid_kg_m3 : float
        Saturated liquid at the inlet's temperature.  [kg/m³]
    critical_kpa_abs : float
        [kPa]

    Returns
    -------
    float
        [kg/(s m²)]
    """
    a1, a2, a3, a4, a5, a6, a7 = SHORT_TUBE
    rising = a1 + a2 * above_saturation + a3 * subcooling_ratio + a4 * density_ratio + a5 * log(length_over_bore)
    share = rising / (1.0 + a6 * above_saturation + a7 * subcooling_ratio**2)
    return share * sqrt(liquid_kg_m3 * 1e3 * critical_kpa_abs)


def li_flow_coefficient(opening_frac: float, subcooling_over_critical_c: float) -> float:
    """Of an expansion valve, Li (2013), polynomial form; nothing below an opening of about 0.05. [1], [1] -> [1]"""
    a, b, c, d = LI_POLYNOMIAL
    z = opening_frac
    return max(a + b * z + c * z * z + d * z * subcooling_over_critical_c, 0.0)


def li_flow_coefficient_power(opening_frac: float, subcooling_over_critical_c: float) -> float:
    """The same in the power form."""
    a, opening, subcooling = LI_POWER
    return float(a * opening_frac**opening * subcooling_over_critical_c**subcooling)
