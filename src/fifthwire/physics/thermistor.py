"""Temperature sensors: resistance to temperature and back by a table, the beta law or the Steinhart-Hart equation.

J. S. Steinhart and S. R. Hart, "Calibration curves for thermistors", Deep-Sea Research 15 (1968) 497-503. A plain beta
law fitted at 25 °C reads 2.4 K high at -20 °C for a usual sensor: superheat is not decided on it below about 5 °C.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import exp, log
from typing import Final

from fifthwire.model.errors import InputError, RangeError

KELVIN: Final = 273.15
"""0 °C on the Kelvin scale.  [K]  Definition."""
COLDEST_C: Final = -60.0
HOTTEST_C: Final = 200.0
"""No sensor of a refrigerant circuit is colder or hotter.  [°C]  Our choice."""
HOTTEST_LAW_C: Final = 1e4
"""Beyond it a law of three or two numbers gives no temperature at all.  [°C]  Our choice."""
LEAST_OHM: Final = 0.1
MOST_OHM: Final = 1e8
"""Between them a resistance is looked for.  [Ω]  Our choice."""
HALVINGS: Final = 200


def beta_ohm(r25_ohm: float, beta_k: float, c: float) -> float:
    """Resistance by the beta law.

    Parameters
    ----------
    r25_ohm : float
        At 25 °C.  [Ω]
    beta_k : float
        [K]
    c : float
        [°C]

    Returns
    -------
    float
        [Ω]

    Examples
    --------
    >>> round(beta_ohm(10000.0, 3950.0, 0.0), 1)
    33620.6
    """
    return r25_ohm * exp(beta_k * (1.0 / (c + KELVIN) - 1.0 / (25.0 + KELVIN)))


def beta_c(r25_ohm: float, beta_k: float, ohm: float) -> float:
    """Temperature by the beta law. [Ω], [K], [Ω] -> [°C]"""
    _positive(ohm)
    return _celsius(1.0 / (25.0 + KELVIN) + log(ohm / r25_ohm) / beta_k, ohm)


def beta_between_k(first: tuple[float, float], second: tuple[float, float]) -> float:
    """Beta between two points of a sensor, as data sheets state it for 25 and 50 or 85 °C.

    Parameters
    ----------
    first, second : (float, float)
        Temperature and resistance.  [°C], [Ω]

    Returns
    -------
    float
        [K]

    Raises
    ------
    InputError
        If the two temperatures are one.

    References
    ----------
    .. [1] IEC 60539-1, "Directly heated negative temperature coefficient thermistors" (from memory).

    Examples
    --------
    >>> round(beta_between_k((25.0, 10000.0), (0.0, 33620.6)))
    3950
    """
    (c1, ohm1), (c2, ohm2) = first, second
    _positive(ohm1)
    _positive(ohm2)
    if c1 == c2:
        raise InputError("two temperatures make a beta, not one")
    return log(ohm1 / ohm2) / (1.0 / (c1 + KELVIN) - 1.0 / (c2 + KELVIN))


def steinhart_c(coefficients: tuple[float, float, float], ohm: float) -> float:
    """Temperature by 1/T = A + B ln R + C (ln R)^3. [Ω] -> [°C]

    Examples
    --------
    >>> round(steinhart_c((1.129148e-3, 2.34125e-4, 8.76741e-8), 10000.0), 2)
    25.0
    """
    _positive(ohm)
    a, b, c = coefficients
    x = log(ohm)
    return _celsius(a + b * x + c * x**3, ohm)


def steinhart_ohm(coefficients: tuple[float, float, float], c: float) -> float:
    """Resistance by the Steinhart-Hart equation, found by halving. [°C] -> [Ω]"""
    if not -KELVIN < c < HOTTEST_LAW_C:
        raise RangeError(f"{c:.4g} °C lies outside this curve")
    a, b, cubed = coefficients
    aim, low, high = 1.0 / (c + KELVIN), log(LEAST_OHM), log(MOST_OHM)
    if not a + b * low + cubed * low**3 <= aim <= a + b * high + cubed * high**3:
        raise RangeError(f"{c:.4g} °C lies outside this curve")
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if a + b * middle + cubed * middle**3 < aim else (low, middle)
    return exp((low + high) / 2.0)


def steinhart_of(points: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """A, B and C through three points.

    Parameters
    ----------
    points : sequence of (float, float)
        Temperature and resistance.  [°C], [Ω]

    Raises
    ------
    InputError
        If there are not three different points.
    """
    if len({ohm for _, ohm in points}) != 3 or len(points) != 3:
        raise InputError("three different points make a Steinhart-Hart curve")
    (l1, y1), (l2, y2), (l3, y3) = ((log(ohm), 1.0 / (c + KELVIN)) for c, ohm in points)
    g2, g3 = (y2 - y1) / (l2 - l1), (y3 - y1) / (l3 - l1)
    c = (g3 - g2) / (l3 - l2) / (l1 + l2 + l3)
    b = g2 - c * (l1 * l1 + l1 * l2 + l2 * l2)
    return y1 - (b + l1 * l1 * c) * l1, b, c


def table_c(table: Sequence[tuple[float, float]], ohm: float) -> float:
    """Temperature by a table between whose points ln R is linear in 1/T; never beyond its ends.

    Parameters
    ----------
    table : sequence of (float, float)
        Temperature and resistance.  [°C], [Ω]
    ohm : float
        [Ω]

    Raises
    ------
    RangeError
        If the resistance lies beyond the table.
    """
    _positive(ohm)
    rows = sorted(table, key=lambda row: row[1])
    for (c_low, ohm_low), (c_high, ohm_high) in pairwise(rows):
        if ohm_low <= ohm <= ohm_high:
            part = log(ohm / ohm_low) / log(ohm_high / ohm_low)
            inverse = (1.0 - part) / (c_low + KELVIN) + part / (c_high + KELVIN)
            return 1.0 / inverse - KELVIN
    raise RangeError(f"{ohm:.6g} Ω lies beyond the table, which ends at {rows[0][1]:.6g} and {rows[-1][1]:.6g} Ω")


def table_ohm(table: Sequence[tuple[float, float]], c: float) -> float:
    """Resistance by a table between whose points ln R is linear in 1/T. [°C] -> [Ω]"""
    rows = sorted(table)
    for (c_low, ohm_low), (c_high, ohm_high) in pairwise(rows):
        if c_low <= c <= c_high:
            first, last = 1.0 / (c_low + KELVIN), 1.0 / (c_high + KELVIN)
            part = (1.0 / (c + KELVIN) - first) / (last - first)
            return exp((1.0 - part) * log(ohm_low) + part * log(ohm_high))
    raise RangeError(f"{c:.4g} °C lies beyond the table, which ends at {rows[0][0]:.4g} and {rows[-1][0]:.4g} °C")


def _celsius(per_kelvin: float, ohm: float) -> float:
    """The temperature of its inverse, which far from a law's own range is none."""
    if per_kelvin <= 1.0 / (HOTTEST_LAW_C + KELVIN):
        raise RangeError(f"{ohm:.6g} Ω is no temperature on this curve", "See whether the curve is the sensor's own.")
    return 1.0 / per_kelvin - KELVIN


def _positive(ohm: float) -> None:
    if ohm <= 0.0:
        raise InputError(
            f"{ohm:.6g} Ω is no resistance of a temperature sensor", "Unplug the sensor and measure again."
        )
