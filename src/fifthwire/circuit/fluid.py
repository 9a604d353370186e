"""A refrigerant as the solver asks for it: splines over saturation temperature, over enthalpy and over entropy.

Made once a refrigerant from the fits of `properties`. What is asked for together is one spline of many columns, and
what would be a search (the state at a pressure and an enthalpy, or at a pressure and an entropy) is a surface. Every
saturated property is given at the pressure whose dew temperature is asked for; a blend's bubble temperature lies below.
"""

from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline, RectBivariateSpline

from fifthwire.properties import RefrigerantArrays, refrigerant_arrays

Array = NDArray[np.float64]

KELVIN: Final = 273.15
STEP_K: Final = 1.0
"""Between the knots of saturation.  [K]  Judgement: see the tests for the error."""
EDGE_K: Final = 0.25
"""Kept from the ends of the fits, which are met to some microkelvin only.  [K]"""
MOST_SUPERHEAT_K: Final = 99.9
"""Where the fits of vapour end.  [K]"""
COLUMNS: Final = (
    "vapour_enthalpy", "vapour_entropy", "vapour_volume", "bubble_c", "liquid_enthalpy", "liquid_entropy",
    "liquid_volume", "vapour_cp", "liquid_cp",
)  # fmt: skip
"""Of saturation, after the logarithm of pressure."""
POWERS: Final = 6
"""Of superheat in the enthalpy of vapour above saturation."""


@dataclass(frozen=True)
class Saturated:
    """Columns at pressures given by their dew temperature."""

    dew_c: Array
    kpa: Array
    vapour_enthalpy: Array
    vapour_entropy: Array
    vapour_volume: Array
    bubble_c: Array
    liquid_enthalpy: Array
    liquid_entropy: Array
    liquid_volume: Array
    vapour_cp: Array
    """Mean over the first ten kelvin of superheat. [kJ/(kg K)]"""
    liquid_cp: Array
    powers: Array
    """Of superheat, in the enthalpy of vapour above saturation. [POWERS, ...]"""

    def quality(self, enthalpy: Array) -> Array:
        """Of a mixture; below 0 and above 1 where it is none."""
        return np.asarray((enthalpy - self.liquid_enthalpy) / (self.vapour_enthalpy - self.liquid_enthalpy))

    def superheated_enthalpy(self, superheat_k: Array) -> Array:
        """Of vapour a superheat above dew, up to some 45 K. [kJ/kg]"""
        total = self.powers[POWERS - 1]
        for power in range(POWERS - 2, -1, -1):
            total = total * superheat_k + self.powers[power]
        return np.asarray(self.vapour_enthalpy + total * superheat_k)

    def columns(self) -> "Saturated":
        """The same, to be broadcast against one more axis at the end."""
        held = {name: value[..., None] for name, value in self.__dict__.items()}
        return Saturated(**held)


@dataclass(frozen=True)
class Compressed:
    """What enters a compressor: volume and entropy of what may be wet."""

    volume: Array
    entropy: Array


class Fluid:
    """A refrigerant ready for the solver.

    Parameters
    ----------
    arrays : RefrigerantArrays
        Its properties.
    """

    def __init__(self, arrays: RefrigerantArrays) -> None:
        self.name = arrays.name
        self.arrays = arrays
        self.low_c, self.high_c = arrays.low_c + EDGE_K, arrays.high_c - EDGE_K
        self.knots = np.append(np.arange(self.low_c, self.high_c - 0.1 * STEP_K, STEP_K), self.high_c)
        self._saturated = CubicSpline(self.knots, _saturated_columns(arrays, self.knots))
        self._of_liquid = CubicSpline(self.knots, _liquid_columns(arrays, self.knots))
        enthalpy = arrays.liquid_enthalpy_kj_kg(self.knots)
        density = np.exp(arrays.liquid_log_density(self.knots))
        self._from_enthalpy = CubicSpline(enthalpy, np.column_stack([self.knots, 1.0 / density]))
        self._surfaces()

    def saturated(self, dew_c: Array) -> Saturated:
        """Everything on both saturation lines at pressures given by their dew temperature. [°C]"""
        found = np.moveaxis(self._saturated(dew_c), -1, 0)
        columns = dict(zip(COLUMNS, found[1:], strict=False))
        return Saturated(dew_c=dew_c, kpa=np.exp(found[0]), **columns, powers=found[1 + len(COLUMNS) :])

    def liquid(self, c: Array, kpa: Array) -> Array:
        """Enthalpy of liquid at a temperature and a pressure above its own. [°C], [kPa] -> [kJ/kg]"""
        enthalpy, slope, log_kpa = np.moveaxis(self._of_liquid(c), -1, 0)
        return np.asarray(enthalpy + slope * (kpa - np.exp(log_kpa)))

    def liquid_c(self, enthalpy: Array, kpa: Array) -> Array:
        """Temperature of liquid of an enthalpy and a pressure. [kJ/kg], [kPa] -> [°C]"""
        c = self._from_enthalpy(enthalpy)[..., 0]
        for _ in range(3):
            _, slope, log_kpa = np.moveaxis(self._of_liquid(c), -1, 0)
            c = self._from_enthalpy(enthalpy - slope * (kpa - np.exp(log_kpa)))[..., 0]
        return np.asarray(c)

    def liquid_volume(self, enthalpy: Array) -> Array:
        """Of liquid of an enthalpy, near enough whatever its pressure. [kJ/kg] -> [m³/kg]"""
        return np.asarray(self._from_enthalpy(enthalpy)[..., 1])

    def dew_c(self, kpa: Array) -> Array:
        """Dew temperature of a pressure. [kPa] -> [°C]"""
        return self.arrays.dew_c(kpa)

    def entering(self, at: Saturated, enthalpy: Array) -> Compressed:
        """Volume and entropy at a pressure and an enthalpy, wet as a homogeneous mixture."""
        above = enthalpy - at.vapour_enthalpy
        dry = np.clip(above, 0.0, self._most_above)
        is_wet = above < 0.0
        quality = at.quality(enthalpy)
        wet_volume = at.liquid_volume + quality * (at.vapour_volume - at.liquid_volume)
        wet_entropy = at.liquid_entropy + quality * (at.vapour_entropy - at.liquid_entropy)
        volume = at.vapour_volume * self._volume.ev(at.dew_c, dry)
        entropy = at.vapour_entropy + self._entropy.ev(at.dew_c, dry)
        return Compressed(np.where(is_wet, wet_volume, volume), np.where(is_wet, wet_entropy, entropy))

    def at_entropy(self, at: Saturated, entropy: Array) -> Array:
        """Enthalpy at a pressure and an entropy: where an ideal compression ends. [kJ/kg]"""
        above = entropy - at.vapour_entropy
        share = (entropy - at.liquid_entropy) / (at.vapour_entropy - at.liquid_entropy)
        wet = at.liquid_enthalpy + share * (at.vapour_enthalpy - at.liquid_enthalpy)
        dry = at.vapour_enthalpy + self._enthalpy.ev(at.dew_c, np.clip(above, 0.0, self._most_entropy))
        return np.where(above < 0.0, wet, dry)

    def superheat_k(self, at: Saturated, enthalpy: Array) -> Array:
        """Above dew, of vapour of an enthalpy; 0 where it is wet. [K]"""
        above = np.clip(enthalpy - at.vapour_enthalpy, 0.0, self._most_above)
        return np.where(above > 0.0, self._superheat.ev(at.dew_c, above), 0.0)

    def _surfaces(self) -> None:
        """Over dew temperature and what is above saturation: enthalpy, or entropy."""
        arrays, dew = self.arrays, self.knots[::2]
        kpa = arrays.dew_kpa_abs(dew)[:, None]
        superheat = MOST_SUPERHEAT_K * np.linspace(0.0, 1.0, 120) ** 2
        enthalpy = arrays.vapour_enthalpy_kj_kg(kpa, superheat) - arrays.vapour_enthalpy_kj_kg(kpa)
        entropy = arrays.vapour_entropy_kj_kg_k(kpa, superheat) - arrays.vapour_entropy_kj_kg_k(kpa)
        volume = arrays.vapour_density_kg_m3(kpa) / arrays.vapour_density_kg_m3(kpa, superheat)
        self._most_above, self._most_entropy = float(enthalpy[:, -1].max()), float(entropy[:, -1].max())
        spread = np.linspace(0.0, 1.0, 60) ** 1.5
        above, beyond = self._most_above * spread, self._most_entropy * spread
        superheats = _rows(enthalpy, superheat, above)
        self._superheat = RectBivariateSpline(dew, above, superheats)
        self._entropy = RectBivariateSpline(dew, above, _rows(enthalpy, entropy, above))
        self._volume = RectBivariateSpline(dew, above, _rows(enthalpy, volume, above))
        self._enthalpy = RectBivariateSpline(dew, beyond, _beyond(dew, superheat, entropy, enthalpy, beyond))


def fluid(name: str) -> Fluid:
    """A refrigerant by its number, made once.

    Raises
    ------
    InputError
        If it is not known.
    """
    return _fluid(name)


@cache
def _fluid(name: str) -> Fluid:
    return Fluid(refrigerant_arrays(name))


def _saturated_columns(of: RefrigerantArrays, dew_c: Array) -> Array:
    kpa = of.dew_kpa_abs(dew_c)
    bubble = of.bubble_c(np.clip(kpa, of.bubble_kpa_abs(of.low_c + 1e-3), of.bubble_kpa_abs(of.high_c - 1e-3)))
    cooler = np.maximum(bubble - 6.0, of.low_c)
    vapour = of.vapour_enthalpy_kj_kg(kpa)
    superheat = 45.0 * np.linspace(0.0, 1.0, 40)[1:] ** 1.5
    rise = of.vapour_enthalpy_kj_kg(kpa[:, None], superheat) - vapour[:, None]
    terms = superheat[:, None] ** np.arange(1, POWERS + 1) / superheat[:, None]
    powers = np.linalg.lstsq(terms, (rise / superheat).T, rcond=None)[0].T
    return np.column_stack(
        [
            np.log(kpa),
            vapour,
            of.vapour_entropy_kj_kg_k(kpa),
            1.0 / of.vapour_density_kg_m3(kpa),
            bubble,
            of.liquid_enthalpy_kj_kg(bubble),
            of.liquid_entropy_kj_kg_k(bubble),
            np.exp(-of.liquid_log_density(bubble)),
            (of.vapour_enthalpy_kj_kg(kpa, 10.0) - vapour) / 10.0,
            (of.liquid_enthalpy_kj_kg(bubble) - of.liquid_enthalpy_kj_kg(cooler)) / (bubble - cooler),
            powers,
        ]
    )


def _liquid_columns(of: RefrigerantArrays, c: Array) -> Array:
    return np.column_stack([of.liquid_enthalpy_kj_kg(c), of.liquid_slope(c), np.log(of.bubble_kpa_abs(c))])


def _rows(x: Array, y: Array, at: Array) -> Array:
    """A function of x, row by row, at places of x; straight on where x ends."""
    rows = []
    for one, values in zip(x, np.broadcast_to(y, x.shape), strict=True):
        of = CubicSpline(one, values)
        rows.append(of(np.minimum(at, one[-1])) + of(one[-1], 1) * np.maximum(at - one[-1], 0.0))
    return np.array(rows)


def _beyond(dew_c: Array, superheat: Array, entropy: Array, enthalpy: Array, at: Array) -> Array:
    """Enthalpy at entropies, continued with dh = T ds where the fits end."""
    rows = []
    for c, entropies, enthalpies in zip(dew_c, entropy, enthalpy, strict=True):
        inside = CubicSpline(entropies, enthalpies)(np.minimum(at, entropies[-1]))
        excess = np.maximum(at - entropies[-1], 0.0)
        last_k = c + superheat[-1] + KELVIN
        cp = (enthalpies[-1] - enthalpies[-8]) / (superheat[-1] - superheat[-8])
        rows.append(inside + cp * last_k * np.expm1(excess / cp))
    return np.array(rows)
