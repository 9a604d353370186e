"""Dew, bubble and glide of a refrigerant at a pressure or at a temperature, and a table of them."""

from collections.abc import Callable, Iterable
from typing import Final

from fifthwire.model.errors import RangeError
from fifthwire.model.record import record
from fifthwire.physics.refrigerants import Refrigerant

SMALLEST_GLIDE_K: Final = 0.02
"""A glide below it is no glide: dew and bubble are one line.  [K]  Our choice; the fits are within 1 mK."""


@record
class AtPressure:
    """Saturation at a pressure; None where a line does not reach it."""

    kpa_abs: float
    dew_c: float | None
    bubble_c: float | None

    @property
    def glide_k(self) -> float | None:
        """Dew less bubble at this pressure.  [K]"""
        return None if self.dew_c is None or self.bubble_c is None else max(self.dew_c - self.bubble_c, 0.0)


@record
class AtTemperature:
    """Saturation at a temperature."""

    c: float
    dew_kpa_abs: float
    bubble_kpa_abs: float
    glide_k: float | None
    """Dew less bubble at the dew pressure; None where the bubble line does not reach that.  [K]"""


@record
class PressureChart:
    """A table of saturation pressures by temperature."""

    of: Refrigerant
    units: str
    air_kpa_abs: float
    rows: tuple[AtTemperature, ...]
    temperatures: tuple[float, ...]
    """In the scale of `units`, as they are printed.  [°C or °F]"""


def saturation_at_pressure(of: Refrigerant, kpa_abs: float) -> AtPressure:
    """Dew and bubble temperature at a pressure.

    Near the ends of the range only one of the two lines reaches a pressure: then that one is told.

    Parameters
    ----------
    of : Refrigerant
        The refrigerant.
    kpa_abs : float
        [kPa]

    Raises
    ------
    RangeError
        If neither line reaches the pressure.

    Examples
    --------
    >>> from fifthwire.physics.refrigerants import refrigerant
    >>> round(saturation_at_pressure(refrigerant("R407C"), 460.72).glide_k or 0.0, 2)
    6.27
    """
    dew_c = _within(of.dew_c, kpa_abs)
    bubble_c = _within(of.bubble_c, kpa_abs)
    if dew_c is None and bubble_c is None:
        of.dew_c(kpa_abs)
    return AtPressure(kpa_abs=kpa_abs, dew_c=dew_c, bubble_c=bubble_c)


def saturation_at_temperature(of: Refrigerant, c: float) -> AtTemperature:
    """Dew and bubble pressure at a temperature.

    Raises
    ------
    RangeError
        If the temperature lies outside the refrigerant's range.
    """
    dew_kpa_abs = of.dew_kpa_abs(c)
    bubble_c = _within(of.bubble_c, dew_kpa_abs)
    return AtTemperature(
        c=c,
        dew_kpa_abs=dew_kpa_abs,
        bubble_kpa_abs=max(of.bubble_kpa_abs(c), dew_kpa_abs),
        glide_k=None if bubble_c is None else max(c - bubble_c, 0.0),
    )


def saturation_table(of: Refrigerant, temperatures_c: Iterable[float]) -> tuple[AtTemperature, ...]:
    """Dew and bubble pressure at each temperature."""
    return tuple(saturation_at_temperature(of, c) for c in temperatures_c)


def has_glide(of: Refrigerant) -> bool:
    """Whether dew and bubble are two lines.

    Examples
    --------
    >>> from fifthwire.physics.refrigerants import refrigerant
    >>> has_glide(refrigerant("R32")), has_glide(refrigerant("R410A"))
    (False, True)
    """
    found = saturation_at_temperature(of, 0.0).glide_k
    return found is not None and found >= SMALLEST_GLIDE_K


def _within(line: Callable[[float], float], value: float) -> float | None:
    try:
        return line(value)
    except RangeError:
        return None
