"""Temperature sensors: what one reads on its curve, how far it is off, and which cannot be right while a coil runs."""

from math import exp, hypot, isinf
from typing import Final

from fifthwire.model.errors import InputError, RangeError
from fifthwire.model.record import record
from fifthwire.model.running import Curve, UnitReadings
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
STANDSTILL_U_K: Final = 0.8
"""How far a pipe at standstill may be from the air around it.  [K]  Judgement."""
IMPOSSIBLE_K: Final = 3.0
"""An order of temperatures wrong by more is a sensor's fault.  [K]  Judgement: twice two sensors' usual error."""


@record
class SensorSeen:
    """One sensor as it was found."""

    id: str
    verdict: str
    reads_c: float | None = None
    off_by_k: float | None = None
    u_k: float | None = None


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
        warmer = curve_c(curve, ohm * exp(-u_ohm_frac))
    except (RangeError, InputError):
        return SensorSeen(id=sensor_id, verdict=_beyond(curve, ohm))
    if reads > SHORTED_OVER_C or reads < OPEN_UNDER_C:
        return SensorSeen(id=sensor_id, verdict="shorted" if reads > 0.0 else "open", reads_c=reads)
    of_reference = U_ELSE_K if true_within_k is None else true_within_k / 2.0
    u_k = hypot(warmer - reads, of_reference)
    if true_c is None:
        return SensorSeen(id=sensor_id, verdict="undecided", reads_c=reads, u_k=abs(warmer - reads))
    off = reads - true_c
    return SensorSeen(id=sensor_id, verdict=_within(off, u_k), reads_c=reads, off_by_k=off, u_k=u_k)


def _beyond(curve: Curve, ohm: float) -> str:
    if ohm <= 0.0:
        return "shorted"
    ohms = [of for _, of in curve.table]
    if not ohms or min(ohms) / 3.0 < ohm < max(ohms) * 3.0:
        return "undecided"
    return "shorted" if ohm < min(ohms) else "open"


def _within(off_k: float, u_k: float) -> str:
    guard = COVERAGE * u_k
    if abs(off_k) <= OFF_BY_K - guard:
        return "good"
    return "off" if abs(off_k) >= OFF_BY_K + guard else "undecided"


def at_standstill(unit: str, of: UnitReadings) -> list[SensorSeen]:
    """The pipe sensors of a unit that stands still, against the air around them."""
    if of.return_air_c is None:
        return []
    read = (("gas_pipe", of.gas_pipe_c), ("liquid_pipe", of.liquid_pipe_c), ("supply_air", of.supply_air_c))
    return [
        SensorSeen(
            id=f"{unit}/{name}",
            verdict=_within(reads - of.return_air_c, STANDSTILL_U_K * 0.6),
            reads_c=reads,
            off_by_k=reads - of.return_air_c,
            u_k=STANDSTILL_U_K,
        )
        for name, reads in read
        if reads is not None
    ]


def impossible_in_cooling(unit: str, of: UnitReadings, evaporating_c: float | None) -> list[SensorSeen]:
    """Sensors of a running unit that no cooling coil can give: colder than what evaporates, or the wrong way round."""
    found = []
    for name, reads in (("gas_pipe", of.gas_pipe_c), ("liquid_pipe", of.liquid_pipe_c)):
        if reads is not None and evaporating_c is not None and reads < evaporating_c - IMPOSSIBLE_K:
            found.append(SensorSeen(id=f"{unit}/{name}", verdict="off", reads_c=reads))
    if of.supply_air_c is not None and evaporating_c is not None and of.supply_air_c < evaporating_c - IMPOSSIBLE_K:
        found.append(SensorSeen(id=f"{unit}/supply_air", verdict="off", reads_c=of.supply_air_c))
    if of.gas_pipe_c is not None and of.return_air_c is not None and of.gas_pipe_c > of.return_air_c + IMPOSSIBLE_K:
        found.append(SensorSeen(id=f"{unit}/gas_pipe", verdict="off", reads_c=of.gas_pipe_c))
    if found or of.gas_pipe_c is None or of.liquid_pipe_c is None:
        return found
    if of.gas_pipe_c < of.liquid_pipe_c - IMPOSSIBLE_K:  # one of the two: which, this does not tell
        pair = (("gas_pipe", of.gas_pipe_c), ("liquid_pipe", of.liquid_pipe_c))
        return [SensorSeen(id=f"{unit}/{name}", verdict="undecided", reads_c=reads) for name, reads in pair]
    return []
