"""What a valve passes: m = K f(z) sqrt(2 rho dp), with the curve f an input and the seat's leak below it.

Published absolute flows for one bore differ by a factor of 2 to 3.6 between sources, so that K is never taken from a
bore: it comes from the rated capacity. The curve's shape decides how bad a valve stuck open is, so that it is an input.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fifthwire.circuit.fluid import Fluid, Saturated
from fifthwire.circuit.smooth import positive, root
from fifthwire.physics.valve_flow import LI_POLYNOMIAL

Array = NDArray[np.float64]

PRESSURE_ROUNDING_KPA: Final = 20.0
"""Below this difference of pressures the root is rounded.  [kPa]"""
FLASH_ROUNDING_KJ_KG: Final = 0.8
"""Around the beginning of flash gas at the inlet.  [kJ/kg]"""
LI_SUBCOOLING: Final = 5.0 / 71.344
"""Of the default curve: 5 K of subcooling, R410A.  [1]"""


@dataclass(frozen=True)
class Curve:
    """Flow against opening, 0 to 1 at openings from 0 to 1, and back."""

    name: str
    flow: Callable[[ArrayLike], Array]
    """Share of full flow at an opening."""
    opening: Callable[[ArrayLike], Array]
    """Opening for a share of full flow."""


def _concave() -> Curve:
    a, b, c = LI_POLYNOMIAL[0], LI_POLYNOMIAL[1] + LI_POLYNOMIAL[3] * LI_SUBCOOLING, LI_POLYNOMIAL[2]
    full = a + b + c

    def flow(z: ArrayLike) -> Array:
        at = np.clip(np.asarray(z, dtype=float), 0.0, 1.0)
        return np.asarray(np.maximum((a + b * at + c * at * at) / full, 0.0))

    def opening(share: ArrayLike) -> Array:
        wanted = np.clip(share, 0.0, 1.0) * full
        at = (-b + np.sqrt(b * b - 4.0 * c * (a - wanted))) / (2.0 * c)
        return np.where(np.asarray(share) <= 0.0, 0.0, np.minimum(at, 1.0))

    return Curve("concave", flow, opening)


def _linear() -> Curve:
    return Curve("linear", lambda z: np.clip(z, 0.0, 1.0), lambda share: np.clip(share, 0.0, 1.0))


def _table(points: tuple[tuple[float, float], ...]) -> Curve:
    z, flow = np.array(points).T
    flow = flow / flow[-1]
    return Curve(
        "table",
        lambda at: np.interp(np.asarray(at, dtype=float), z, flow),
        lambda share: np.interp(np.asarray(share, dtype=float), flow, z),
    )


def curve(of: str | tuple[tuple[float, float], ...]) -> Curve:
    """A valve's curve: "concave" (the default of a plant), "linear", or points of opening and flow.

    Parameters
    ----------
    of : str or tuple
        A name or a table, both columns rising.

    Examples
    --------
    >>> float(curve("linear").flow(0.5)), round(float(curve("concave").flow(0.5)), 3)
    (0.5, 0.681)
    """
    if not isinstance(of, str):
        return _table(of)
    return {"concave": _concave, "linear": _linear}[of]()


def passed(of: Curve, opening_frac: ArrayLike, leak_frac: ArrayLike) -> Array:
    """Share of full flow at an opening, the seat's leak with it."""
    leak = np.asarray(leak_frac, dtype=float)
    return np.asarray(leak + (1.0 - leak) * of.flow(opening_frac))


def opening_for(of: Curve, share: ArrayLike, leak_frac: ArrayLike) -> Array:
    """Opening that passes a share of full flow, the seat's leak taken off; 0 where the leak alone is more."""
    leak = np.asarray(leak_frac)
    return of.opening((np.asarray(share) - leak) / np.maximum(1.0 - leak, 1e-9))


def inlet_volume(fluid: Fluid, at: Saturated, enthalpy: Array) -> Array:
    """Of what a valve takes in: liquid, or a homogeneous mixture where it flashes. [m³/kg]"""
    span = at.vapour_enthalpy - at.liquid_enthalpy
    flash = np.minimum(positive(enthalpy - at.liquid_enthalpy, FLASH_ROUNDING_KJ_KG) / span, 1.0)
    liquid = fluid.liquid_volume(np.minimum(enthalpy, at.liquid_enthalpy))
    return np.asarray(liquid + flash * (at.vapour_volume - at.liquid_volume))


def full_flow(volume: Array, drop_kpa: Array) -> Array:
    """Flow of a fully open valve, for a K of 1 m². [m³/kg], [kPa] -> [kg/s]"""
    return np.asarray(np.sqrt(2.0e3 / volume) * root(drop_kpa, PRESSURE_ROUNDING_KPA))
