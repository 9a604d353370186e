"""What is stored of a refrigerant: Chebyshev coefficients, where they hold, and how far they are from the source."""

from fifthwire.model.record import record

Series = tuple[float, ...]
Surface = tuple[Series, ...]


@record
class Coefficients:
    """One refrigerant, fitted by tools/refrigerants.py. Pressures in kPa absolute, reference state IIR."""

    name: str
    critical_c: float
    low_c: float
    high_c: float
    """Saturation holds from low to high. [°C]"""
    root_c: float
    """Vapour is fitted in the root of the distance of its dew temperature to this. [°C]"""
    dew_log_kpa: Series
    dew_ends: tuple[float, float]
    dew_c: Series
    bubble_log_kpa: Series
    bubble_ends: tuple[float, float]
    bubble_c: Series
    liquid_enthalpy: Series
    liquid_entropy: Series
    liquid_log_density: Series
    liquid_slope: Series
    """What a kPa above saturation adds to the enthalpy of liquid. [kJ/(kg kPa)]"""
    vapour_enthalpy: Surface
    vapour_entropy: Surface
    vapour_log_density: Surface
    left_out: float
    """Share of the points asked for that the source could not find.  [1]"""
    saturation_error_k: float
    liquid_enthalpy_error_kj_kg: float
    vapour_enthalpy_error_kj_kg: float
    vapour_entropy_error_kj_kg_k: float
    vapour_density_error_frac: float
