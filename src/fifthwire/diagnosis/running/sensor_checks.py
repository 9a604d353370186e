"""Temperature sensors that were measured with the meter: what one reads on its curve, and how far it is off."""

from collections.abc import Mapping
from dataclasses import field
from math import exp, hypot, isinf
from typing import Final

from fifthwire.model.errors import InputError, RangeError
from fifthwire.model.record import record
from fifthwire.model.running import Curve
from fifthwire.physics import thermistor

OFF_BY_K: Final = 1.5
"""A sensor further off is off: a third of a usual superheat.  [K]  Judgement."""
COVERAGE: Final = 1.645
"""One-sided 95 %, as ISO 14253-1 decides.  [1]"""
U_ELSE_K: Final = 0.3
"""Of a reference whose doubt is not written.  [K]  Judgement."""
SHORTED_OVER_C: Final = 150.0
"""A coil's or pipe's sensor that reads hotter is shorted.  [°C]  Judgement."""
OPEN_UNDER_C: Final = -45.0
"""One that reads colder is open.  [°C]  Judgement."""


@record
class SensorSeen:
    """One sensor as it was found."""

    id: str
    verdict: str
    reads_c: float | None = None
    off_by_k: float | None = None
    u_k: float | None = None
    why: str = ""
    """Code of what tells; empty where the verdict and its figures say it all."""
    values: Mapping[str, object] = field(default_factory=dict)


def curve_c(curve: Curve, ohm: float) -> float:
    """Temperature of a resistance on a curve.

    Parameters
    ----------
    curve : Curve
        A table, r25 and beta, or Steinhart-Hart coefficients.
    ohm : float
        [Ω]

    Returns
    -------
    float
        [°C]

    Raises
    ------
    RangeError
        If the resistance lies beyond the table.
    InputError
        If the curve says nothing, or the resistance is none.
    """
    if curve.table:
        return thermistor.table_c(curve.table, ohm)
    if curve.steinhart is not None:
        return thermistor.steinhart_c(curve.steinhart, ohm)
    if curve.r25_ohm is not None and curve.beta_k is not None:
        return thermistor.beta_c(curve.r25_ohm, curve.beta_k, ohm)
    raise InputError("the curve gives neither a table nor a law")


def checked(
    sensor_id: str,
    curve: Curve | None,
    ohm: float | None,
    true_c: float | None,
    true_within_k: float | None,
    u_ohm_frac: float = 0.01,
) -> SensorSeen:
    """A sensor that was measured with the meter.

    Parameters
    ----------
    sensor_id : str
        Its label.
    curve : Curve or None
        Without one only an open sensor is told.
    ohm : float or None
        Infinite where it read open.  [Ω]
    true_c, true_within_k : float or None
        A reference beside it, and two standard deviations of it.  [°C], [K]
    u_ohm_frac : float
        Standard uncertainty of the resistance, as a share of it.  [1]
    """
    if ohm is None:
        return SensorSeen(id=sensor_id, verdict="undecided")
    if isinf(ohm):
        return SensorSeen(id=sensor_id, verdict="open")
    if curve is None:
        return SensorSeen(id=sensor_id, verdict="undecided")
    try:
        reads = curve_c(curve, ohm)
        u_reading_k = _u_of_curve_k(curve, ohm, reads, u_ohm_frac)
    except (RangeError, InputError):
        return SensorSeen(id=sensor_id, verdict=_beyond(curve, ohm))
    if reads > SHORTED_OVER_C or reads < OPEN_UNDER_C:
        return SensorSeen(id=sensor_id, verdict="shorted" if reads > 0.0 else "open", reads_c=reads)
    of_reference = U_ELSE_K if true_within_k is None else true_within_k / 2.0
    u_k = hypot(u_reading_k, of_reference)
    if true_c is None:
        return SensorSeen(id=sensor_id, verdict="undecided", reads_c=reads, u_k=u_reading_k)
    off = reads - true_c
    return SensorSeen(id=sensor_id, verdict=within(off, u_k), reads_c=reads, off_by_k=off, u_k=u_k)


def _u_of_curve_k(curve: Curve, ohm: float, reads_c: float, u_ohm_frac: float) -> float:
    """Standard uncertainty of a temperature by that of its resistance; at an end of a table, towards its inside. [K]"""
    try:
        return abs(curve_c(curve, ohm * exp(-u_ohm_frac)) - reads_c)
    except RangeError:
        return abs(curve_c(curve, ohm * exp(u_ohm_frac)) - reads_c)


def _beyond(curve: Curve, ohm: float) -> str:
    if ohm <= 0.0:
        return "shorted"
    ohms = [of for _, of in curve.table]
    if not ohms or min(ohms) / 3.0 < ohm < max(ohms) * 3.0:
        return "undecided"
    return "shorted" if ohm < min(ohms) else "open"


def within(off_k: float, u_k: float) -> str:
    """good, off or undecided, with a guard band of 95 % on either side of what a sensor may be off.

    Parameters
    ----------
    off_k, u_k : float
        How far it is off, and the standard uncertainty of that.  [K]
    """
    guard = COVERAGE * u_k
    if abs(off_k) <= OFF_BY_K - guard:
        return "good"
    return "off" if abs(off_k) >= OFF_BY_K + guard else "undecided"
