"""One refrigerant in plain floats: saturation, vapour, saturated liquid, wet suction and isentropic compression."""

from math import exp, isnan, log, nan, sqrt
from typing import Final

from fifthwire.model.errors import NoSolution, RangeError
from fifthwire.physics.refrigerants.chebyshev import series, surface
from fifthwire.physics.refrigerants.coefficients import Coefficients, Series, Surface

MOST_SUPERHEAT_K: Final = 100.0
"""Vapour is fitted this far above its dew line.  [K]"""
EDGE: Final = 1e-9
"""Rounding at the ends of a range that is let pass.  [1]"""
MODEL_U_K: Final = {"R454B": 0.5}
"""Standard doubt of the source's own model, where published tables differ from it by as much.  [K]

R454B: a producer's chart lies up to 0.33 K from the mixture model.
"""
STEPS_AT_MOST: Final = 60
CLOSE_ENOUGH: Final = 1e-14
"""Of a property, where a search for its superheat ends.  [1]  Ten times its rounding."""


class Refrigerant:
    """A refrigerant: every function takes and gives plain floats; NaN in, NaN out.

    Parameters
    ----------
    coefficients : Coefficients
        As tools/refrigerants.py wrote them.
    """

    def __init__(self, coefficients: Coefficients) -> None:
        self.coefficients = coefficients
        self.name = coefficients.name
        self.low_c, self.high_c, self.critical_c = coefficients.low_c, coefficients.high_c, coefficients.critical_c
        self.model_u_k = MODEL_U_K.get(coefficients.name, 0.0)
        near, far = sqrt(coefficients.root_c - self.high_c), sqrt(coefficients.root_c - self.low_c)
        self._root_middle, self._root_half = (near + far) / 2.0, (far - near) / 2.0

    def dew_c(self, kpa_abs: float) -> float:
        """Temperature at which the last liquid is gone: what superheat is counted from.

        Parameters
        ----------
        kpa_abs : float
            [kPa]

        Returns
        -------
        float
            [°C]

        Raises
        ------
        RangeError
            If the pressure lies outside the refrigerant's range.
        """
        return self._saturation_c(kpa_abs, self.coefficients.dew_ends, self.coefficients.dew_c)

    def bubble_c(self, kpa_abs: float) -> float:
        """Temperature at which the first bubble appears: what subcooling is counted from. [kPa] -> [°C]"""
        return self._saturation_c(kpa_abs, self.coefficients.bubble_ends, self.coefficients.bubble_c)

    def dew_kpa_abs(self, c: float) -> float:
        """Pressure of saturated vapour. [°C] -> [kPa]"""
        return exp(self._along_temperature(c, self.coefficients.dew_log_kpa))

    def bubble_kpa_abs(self, c: float) -> float:
        """Pressure of saturated liquid. [°C] -> [kPa]"""
        return exp(self._along_temperature(c, self.coefficients.bubble_log_kpa))

    def liquid_enthalpy_kj_kg(self, c: float) -> float:
        """Of saturated liquid, and near enough of liquid a few kelvin below saturation. [°C] -> [kJ/kg]"""
        return self._along_temperature(c, self.coefficients.liquid_enthalpy)

    def liquid_entropy_kj_kg_k(self, c: float) -> float:
        """Of saturated liquid. [°C] -> [kJ/(kg K)]"""
        return self._along_temperature(c, self.coefficients.liquid_entropy)

    def vapour_enthalpy_kj_kg(self, kpa_abs: float, superheat_k: float = 0.0) -> float:
        """Of vapour a superheat above its dew line. [kPa], [K] -> [kJ/kg]"""
        return self._vapour(kpa_abs, superheat_k, self.coefficients.vapour_enthalpy)

    def vapour_entropy_kj_kg_k(self, kpa_abs: float, superheat_k: float = 0.0) -> float:
        """Of vapour a superheat above its dew line. [kPa], [K] -> [kJ/(kg K)]"""
        return self._vapour(kpa_abs, superheat_k, self.coefficients.vapour_entropy)

    def vapour_density_kg_m3(self, kpa_abs: float, superheat_k: float = 0.0) -> float:
        """Of vapour a superheat above its dew line. [kPa], [K] -> [kg/m³]"""
        return exp(self._vapour(kpa_abs, superheat_k, self.coefficients.vapour_log_density))

    def wet_enthalpy_kj_kg(self, kpa_abs: float, quality: float) -> float:
        """Of a homogeneous mixture of saturated liquid and vapour. [kPa], [1] -> [kJ/kg]"""
        liquid = self.liquid_enthalpy_kj_kg(self.bubble_c(kpa_abs))
        return liquid + quality * (self.vapour_enthalpy_kj_kg(kpa_abs) - liquid)

    def wet_entropy_kj_kg_k(self, kpa_abs: float, quality: float) -> float:
        """Of a homogeneous mixture of saturated liquid and vapour. [kPa], [1] -> [kJ/(kg K)]"""
        liquid = self.liquid_entropy_kj_kg_k(self.bubble_c(kpa_abs))
        return liquid + quality * (self.vapour_entropy_kj_kg_k(kpa_abs) - liquid)

    def isentropic_enthalpy_kj_kg(self, entropy_kj_kg_k: float, kpa_abs: float) -> float:
        """Enthalpy at a pressure and an entropy, wet or dry: where an ideal compression ends.

        Parameters
        ----------
        entropy_kj_kg_k : float
            [kJ/(kg K)]
        kpa_abs : float
            [kPa]

        Returns
        -------
        float
            [kJ/kg]

        Raises
        ------
        NoSolution
            If the entropy lies beyond the superheat that is fitted.
        """
        dry = self.vapour_entropy_kj_kg_k(kpa_abs)
        if entropy_kj_kg_k < dry:
            liquid = self.liquid_entropy_kj_kg_k(self.bubble_c(kpa_abs))
            return self.wet_enthalpy_kj_kg(kpa_abs, (entropy_kj_kg_k - liquid) / (dry - liquid))
        superheat = self._superheat_where(kpa_abs, entropy_kj_kg_k, self.coefficients.vapour_entropy)
        return self.vapour_enthalpy_kj_kg(kpa_abs, superheat)

    def superheat_k(self, kpa_abs: float, enthalpy_kj_kg: float) -> float:
        """Superheat of vapour of an enthalpy; 0 where it is wet. [kPa], [kJ/kg] -> [K]

        Raises
        ------
        NoSolution
            If the enthalpy lies beyond the superheat that is fitted.
        """
        if enthalpy_kj_kg <= self.vapour_enthalpy_kj_kg(kpa_abs):
            return 0.0
        return self._superheat_where(kpa_abs, enthalpy_kj_kg, self.coefficients.vapour_enthalpy)

    def _saturation_c(self, kpa_abs: float, ends: tuple[float, float], coefficients: Series) -> float:
        if isnan(kpa_abs):
            return nan
        low, high = ends
        x = (2.0 * log(kpa_abs) - low - high) / (high - low) if kpa_abs > 0.0 else -2.0
        if not -1.0 - EDGE <= x <= 1.0 + EDGE:
            raise RangeError(
                f"{self.name}: {kpa_abs:.6g} kPa lies outside {exp(low):.4g} to {exp(high):.4g} kPa",
                "See whether it is the pressure of this refrigerant, absolute or gauge.",
            )
        return series(coefficients, x)

    def _along_temperature(self, c: float, coefficients: Series) -> float:
        if isnan(c):
            return nan
        x = (2.0 * c - self.low_c - self.high_c) / (self.high_c - self.low_c)
        if not -1.0 - EDGE <= x <= 1.0 + EDGE:
            raise RangeError(
                f"{self.name}: {c:.6g} °C lies outside {self.low_c:.4g} to {self.high_c:.4g} °C",
                f"Its critical temperature is {self.critical_c:.1f} °C." if c > self.high_c else "",
            )
        return series(coefficients, x)

    def _vapour(self, kpa_abs: float, superheat_k: float, coefficients: Surface) -> float:
        dew_c = self.dew_c(kpa_abs)
        if isnan(superheat_k) or isnan(dew_c):
            return nan
        if not -EDGE <= superheat_k <= MOST_SUPERHEAT_K:
            raise RangeError(
                f"{self.name}: a superheat of {superheat_k:.4g} K lies outside 0 to {MOST_SUPERHEAT_K:g} K"
            )
        x = (sqrt(self.coefficients.root_c - dew_c) - self._root_middle) / self._root_half
        y = 2.0 * sqrt(max(superheat_k, 0.0) / MOST_SUPERHEAT_K) - 1.0
        return surface(coefficients, x, y)

    def _superheat_where(self, kpa_abs: float, value: float, coefficients: Surface) -> float:
        """The superheat at which a rising property has a value, by the Illinois variant of false position."""
        dew_c = self.dew_c(kpa_abs)
        if isnan(dew_c) or isnan(value):
            return nan
        x = (sqrt(self.coefficients.root_c - dew_c) - self._root_middle) / self._root_half
        along = tuple([series(column, x) for column in zip(*coefficients, strict=True)])
        low, high = -1.0, 1.0
        f_low, f_high = series(along, low) - value, series(along, high) - value
        if f_high < 0.0:
            raise NoSolution(f"{self.name}: more than {MOST_SUPERHEAT_K:g} K of superheat at {kpa_abs:.6g} kPa")
        at, close = low, CLOSE_ENOUGH * max(abs(value), 1.0)
        for _ in range(STEPS_AT_MOST):
            at = high - f_high * (high - low) / (f_high - f_low) if f_high != f_low else low
            f_at = series(along, at) - value
            if abs(f_at) < close:
                break
            if f_at * f_high < 0.0:
                low, f_low = high, f_high
            else:
                f_low /= 2.0
            high, f_high = at, f_at
        return MOST_SUPERHEAT_K * ((max(at, -1.0) + 1.0) / 2.0) ** 2
