"""One refrigerant on arrays: the functions of `physics.refrigerants.Refrigerant`, value by value the same.

Where one value would be refused, an array has NaN: a bad row never stops a log, and its NaNs can be counted. Inputs are
broadcast against each other.
"""

from collections.abc import Callable
from math import sqrt
from typing import Final

import numpy as np
from numpy.polynomial import chebyshev
from numpy.typing import ArrayLike

from fifthwire.physics.refrigerants import refrigerant
from fifthwire.physics.refrigerants.coefficients import Surface
from fifthwire.physics.refrigerants.refrigerant import EDGE, MOST_SUPERHEAT_K, Refrigerant
from fifthwire.properties.polynomials import Array, Fill, Line, chebyshev_rows, in_blocks

SURFACE_BLOCK: Final = 4096
"""Values a block where a value needs a matrix of sums.  Measured."""
STEPS_AT_MOST: Final = 80
CLOSE_ENOUGH: Final = 1e-15
"""Of a step in the root of superheat, where a search ends.  [1]"""


def refrigerant_arrays(name: str) -> "RefrigerantArrays":
    """A refrigerant by its number, for arrays.

    Raises
    ------
    InputError
        If it is not one of those known.

    Examples
    --------
    >>> refrigerant_arrays("R410A").dew_c([1084.82, 1883.41]).round(2)
    array([10., 30.])
    """
    return RefrigerantArrays(refrigerant(name))


class RefrigerantArrays:
    """A refrigerant: every function takes numbers or arrays and gives an array; NaN in or out of range, NaN out.

    Parameters
    ----------
    of : Refrigerant
        The same for single values.
    """

    def __init__(self, of: Refrigerant) -> None:
        self.name, self.model_u_k = of.name, of.model_u_k
        self.low_c, self.high_c, self.critical_c = of.low_c, of.high_c, of.critical_c
        stored = self._stored = of.coefficients
        ends = (of.low_c, of.high_c)
        self._dew_c = Line(stored.dew_c, *stored.dew_ends)
        self._bubble_c = Line(stored.bubble_c, *stored.bubble_ends)
        self._dew_log = Line(stored.dew_log_kpa, *ends)
        self._bubble_log = Line(stored.bubble_log_kpa, *ends)
        self._liquid_enthalpy = Line(stored.liquid_enthalpy, *ends)
        self._liquid_entropy = Line(stored.liquid_entropy, *ends)
        self._liquid_log_density = Line(stored.liquid_log_density, *ends)
        self._liquid_slope = Line(stored.liquid_slope, *ends)
        near, far = sqrt(stored.root_c - of.high_c), sqrt(stored.root_c - of.low_c)
        self._root_middle, self._root_half = (near + far) / 2.0, (far - near) / 2.0

    def dew_c(self, kpa_abs: ArrayLike) -> Array:
        """Temperature at which the last liquid is gone: what superheat is counted from. [kPa] -> [°C]"""
        return in_blocks(lambda size: self._dew_c.filler(size, before=np.log), _floats(kpa_abs))

    def bubble_c(self, kpa_abs: ArrayLike) -> Array:
        """Temperature at which the first bubble appears: what subcooling is counted from. [kPa] -> [°C]"""
        return in_blocks(lambda size: self._bubble_c.filler(size, before=np.log), _floats(kpa_abs))

    def dew_kpa_abs(self, c: ArrayLike) -> Array:
        """Pressure of saturated vapour. [°C] -> [kPa]"""
        return in_blocks(lambda size: self._dew_log.filler(size, after=np.exp), _floats(c))

    def bubble_kpa_abs(self, c: ArrayLike) -> Array:
        """Pressure of saturated liquid. [°C] -> [kPa]"""
        return in_blocks(lambda size: self._bubble_log.filler(size, after=np.exp), _floats(c))

    def liquid_enthalpy_kj_kg(self, c: ArrayLike) -> Array:
        """Of saturated liquid, and near enough of liquid a few kelvin below saturation. [°C] -> [kJ/kg]"""
        return in_blocks(self._liquid_enthalpy.filler, _floats(c))

    def liquid_entropy_kj_kg_k(self, c: ArrayLike) -> Array:
        """Of saturated liquid. [°C] -> [kJ/(kg K)]"""
        return in_blocks(self._liquid_entropy.filler, _floats(c))

    def liquid_log_density(self, c: ArrayLike) -> Array:
        """Logarithm of the density of saturated liquid. [°C] -> [ln kg/m³]"""
        return in_blocks(self._liquid_log_density.filler, _floats(c))

    def liquid_slope(self, c: ArrayLike) -> Array:
        """What a kPa above saturation adds to the enthalpy of liquid. [°C] -> [kJ/(kg kPa)]"""
        return in_blocks(self._liquid_slope.filler, _floats(c))

    def vapour_enthalpy_kj_kg(self, kpa_abs: ArrayLike, superheat_k: ArrayLike = 0.0) -> Array:
        """Of vapour a superheat above its dew line. [kPa], [K] -> [kJ/kg]"""
        return self._vapour(kpa_abs, superheat_k, self._stored.vapour_enthalpy)

    def vapour_entropy_kj_kg_k(self, kpa_abs: ArrayLike, superheat_k: ArrayLike = 0.0) -> Array:
        """Of vapour a superheat above its dew line. [kPa], [K] -> [kJ/(kg K)]"""
        return self._vapour(kpa_abs, superheat_k, self._stored.vapour_entropy)

    def vapour_density_kg_m3(self, kpa_abs: ArrayLike, superheat_k: ArrayLike = 0.0) -> Array:
        """Of vapour a superheat above its dew line. [kPa], [K] -> [kg/m³]"""
        log_density = self._vapour(kpa_abs, superheat_k, self._stored.vapour_log_density)
        return np.asarray(np.exp(log_density, out=log_density))

    def wet_enthalpy_kj_kg(self, kpa_abs: ArrayLike, quality: ArrayLike) -> Array:
        """Of a homogeneous mixture of saturated liquid and vapour. [kPa], [1] -> [kJ/kg]"""
        liquid = self.liquid_enthalpy_kj_kg(self.bubble_c(kpa_abs))
        return np.asarray(liquid + _floats(quality) * (self.vapour_enthalpy_kj_kg(kpa_abs) - liquid))

    def wet_entropy_kj_kg_k(self, kpa_abs: ArrayLike, quality: ArrayLike) -> Array:
        """Of a homogeneous mixture of saturated liquid and vapour. [kPa], [1] -> [kJ/(kg K)]"""
        liquid = self.liquid_entropy_kj_kg_k(self.bubble_c(kpa_abs))
        return np.asarray(liquid + _floats(quality) * (self.vapour_entropy_kj_kg_k(kpa_abs) - liquid))

    def isentropic_enthalpy_kj_kg(self, entropy_kj_kg_k: ArrayLike, kpa_abs: ArrayLike) -> Array:
        """Enthalpy at a pressure and an entropy, wet or dry: where an ideal compression ends.

        Parameters
        ----------
        entropy_kj_kg_k : array_like
            [kJ/(kg K)]
        kpa_abs : array_like
            [kPa]

        Returns
        -------
        array
            NaN where the entropy lies beyond the superheat that is fitted.  [kJ/kg]
        """
        entropy, kpa = (np.array(one) for one in np.broadcast_arrays(_floats(entropy_kj_kg_k), _floats(kpa_abs)))
        dry = self.vapour_entropy_kj_kg_k(kpa)
        liquid = self.liquid_entropy_kj_kg_k(self.bubble_c(kpa))
        superheat = self._superheat_where(kpa, np.maximum(entropy, dry), self._stored.vapour_entropy)
        wet = self.wet_enthalpy_kj_kg(kpa, (entropy - liquid) / (dry - liquid))
        return np.where(entropy < dry, wet, self.vapour_enthalpy_kj_kg(kpa, superheat))

    def superheat_k(self, kpa_abs: ArrayLike, enthalpy_kj_kg: ArrayLike) -> Array:
        """Superheat of vapour of an enthalpy; 0 where it is wet, NaN beyond what is fitted. [kPa], [kJ/kg] -> [K]"""
        kpa, enthalpy = (np.array(one) for one in np.broadcast_arrays(_floats(kpa_abs), _floats(enthalpy_kj_kg)))
        dry = self.vapour_enthalpy_kj_kg(kpa)
        found = self._superheat_where(kpa, np.maximum(enthalpy, dry), self._stored.vapour_enthalpy)
        return np.where(enthalpy <= dry, 0.0, found)

    def _vapour(self, kpa_abs: ArrayLike, superheat_k: ArrayLike, coefficients: Surface) -> Array:
        table = np.array(coefficients)

        def make_fill(size: int) -> Fill:
            root_of = self._root_of(size)

            def fill(out: Array, kpa: Array, superheat: Array) -> None:
                is_fitted = (superheat >= -EDGE) & (superheat <= MOST_SUPERHEAT_K)
                part = np.where(is_fitted, np.maximum(superheat, 0.0) / MOST_SUPERHEAT_K, np.nan)
                sums = table @ chebyshev_rows(2.0 * np.sqrt(part) - 1.0, table.shape[1])
                out[...] = chebyshev.chebval(root_of(kpa), sums, tensor=False)

            return fill

        pressure, above = np.broadcast_arrays(_floats(kpa_abs), _floats(superheat_k))
        return in_blocks(make_fill, pressure, above, size=SURFACE_BLOCK)

    def _superheat_where(self, kpa_abs: Array, value: Array, coefficients: Surface) -> Array:
        table = np.array(coefficients).T

        def make_fill(size: int) -> Fill:
            root_of = self._root_of(size)

            def fill(out: Array, kpa: Array, values: Array) -> None:
                across = table @ chebyshev_rows(root_of(kpa), table.shape[1])
                out[...] = MOST_SUPERHEAT_K * ((_where_rising(across, values) + 1.0) / 2.0) ** 2

            return fill

        return in_blocks(make_fill, kpa_abs, value, size=SURFACE_BLOCK)

    def _root_of(self, size: int) -> Callable[[Array], Array]:
        """A function that gives the variable across pressures in which vapour is fitted, from -1 to 1."""
        dew_of, room = self._dew_c.filler(size, before=np.log), np.empty(size)

        def root_of(kpa: Array) -> Array:
            dew_c = room[: kpa.size]
            dew_of(dew_c, kpa)
            return np.asarray((np.sqrt(self._stored.root_c - dew_c) - self._root_middle) / self._root_half)

        return root_of


def _where_rising(series: Array, value: Array) -> Array:
    """Where a rising Chebyshev series, a column each, has a value; NaN where it has it nowhere from -1 to 1."""
    slope = chebyshev.chebder(series)
    low, high = np.full(value.shape, -1.0), np.ones(value.shape)
    y = np.zeros(value.shape)
    for _ in range(STEPS_AT_MOST):
        excess = chebyshev.chebval(y, series, tensor=False) - value
        low, high = np.where(excess < 0.0, y, low), np.where(excess < 0.0, high, y)
        newton = y - excess / chebyshev.chebval(y, slope, tensor=False)
        is_inside = (newton >= low) & (newton <= high)
        step = np.where(is_inside, newton, (low + high) / 2.0) - y
        y = y + step
        if not np.any(np.abs(step) > CLOSE_ENOUGH):
            break
    top = chebyshev.chebval(1.0, series)
    return np.where(np.isfinite(value) & (value <= top), y, np.nan)


def _floats(values: ArrayLike) -> Array:
    return np.asarray(values, dtype=np.float64)
