"""What a reading is worth: the limits of a meter's error, its standard uncertainty, and a check of the meter itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isnan, sqrt

from fifthwire.model.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterRange:
    """One range of a meter: up to where it goes and the limits of its error there."""

    to_ohm: float = inf
    of_reading_frac: float
    digits: float
    resolution_ohm: float


def range_of(shown_ohm: float, ranges: Sequence[MeterRange]) -> MeterRange:
    """The range that a reading was taken on: the lowest that holds it, else the last.

    Parameters
    ----------
    shown_ohm : float
        As the meter showed it. [Ω]
    ranges : sequence of MeterRange
        By rising `to_ohm`; never empty.

    Returns
    -------
    MeterRange
        An automatic meter takes the lowest range that shows the value.

    Raises
    ------
    InputError
        If the meter has no range.
    """
    if not ranges:
        raise InputError("a meter without a range", "Give its accuracy and resolution.")
    return next((one for one in ranges if shown_ohm <= one.to_ohm), ranges[-1])


def error_limit_ohm(shown_ohm: float, of_reading_frac: float, digits: float, resolution_ohm: float) -> float:
    """Largest error of a reading that the meter's specification allows: "a % of reading + n digits".

    The digits already cover the rounding of the display; it is not added again.

    Parameters
    ----------
    shown_ohm : float
        As the meter showed it. [Ω]
    of_reading_frac : float
        Share of the reading. [1]
    digits : float
        Counts of the last digit. [1]
    resolution_ohm : float
        What one count is worth on this range. [Ω]

    Returns
    -------
    float
        Half-width of the interval that holds the error. [Ω]

    Raises
    ------
    InputError
        If a part of the specification is negative.

    Examples
    --------
    32.00 Ω on ±(2.5 % + 3 digits) with 0.01 Ω a digit:

    >>> round(error_limit_ohm(32.0, 0.025, 3, 0.01), 2)
    0.83
    """
    if min(of_reading_frac, digits, resolution_ohm) < 0.0:
        raise InputError("a meter's accuracy is negative", 'Write it as "0.9 % + 2 digits".')
    return abs(shown_ohm) * of_reading_frac + digits * resolution_ohm


def standard_u_ohm(limit_ohm: float) -> float:
    """Standard uncertainty behind limits of which nothing else is known.

    Parameters
    ----------
    limit_ohm : float
        Half-width of the interval. [Ω]

    Returns
    -------
    float
        Of a uniform distribution: limit / sqrt 3. [Ω]

    References
    ----------
    .. [1] JCGM 100:2008, 4.3.7 (from memory).

    Examples
    --------
    >>> round(standard_u_ohm(0.83), 4)
    0.4792
    """
    return limit_ohm / sqrt(3.0)


def resolution_u_ohm(resolution_ohm: float) -> float:
    """Standard uncertainty of rounding alone, for a meter whose digits are not stated.

    Parameters
    ----------
    resolution_ohm : float
        What one count is worth. [Ω]

    Returns
    -------
    float
        Resolution / sqrt 12. [Ω]

    Examples
    --------
    >>> round(resolution_u_ohm(0.1), 5)
    0.02887
    """
    return resolution_ohm / sqrt(12.0)


def reading_u_ohm(shown_ohm: float, ranges: Sequence[MeterRange], leads_within_ohm: float = 0.0) -> float:
    """Standard uncertainty of one reading: the meter's limits on its range, and the leads.

    Parameters
    ----------
    shown_ohm : float
        As the meter showed it. [Ω]
    ranges : sequence of MeterRange
        Of the meter, by rising `to_ohm`.
    leads_within_ohm : float
        Half-width of what is not known of the leads. [Ω]

    Returns
    -------
    float
        Root of the sum of squares; uniform laws. [Ω]

    Examples
    --------
    >>> handheld = MeterRange(of_reading_frac=0.009, digits=3, resolution_ohm=0.1)
    >>> round(reading_u_ohm(46.0, [handheld]), 4)
    0.4122
    """
    taken_on = range_of(shown_ohm, ranges)
    limit = error_limit_ohm(shown_ohm, taken_on.of_reading_frac, taken_on.digits, taken_on.resolution_ohm)
    return sqrt(standard_u_ohm(limit) ** 2 + standard_u_ohm(leads_within_ohm) ** 2)


def without_leads_ohm(shown_ohm: float, leads_ohm: float) -> float:
    """A reading less what the meter shows with its probes shorted.

    Parameters
    ----------
    shown_ohm : float
        As the meter showed it. [Ω]
    leads_ohm : float
        What it shows with the probes shorted; 0 where it was zeroed. [Ω]

    Returns
    -------
    float
        May come out a little below zero where the probes touched one another. [Ω]
    """
    return shown_ohm - leads_ohm


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterCheck:
    """What a known resistor says of the meter on the day."""

    error_ohm: float
    """Shown, leads taken off, less known. [Ω]"""
    limit_ohm: float
    """How far it may be off. [Ω]"""
    agrees: bool


def check_resistor(
    known_ohm: float,
    shown_ohm: float,
    ranges: Sequence[MeterRange],
    *,
    leads_ohm: float = 0.0,
    leads_within_ohm: float = 0.0,
    known_within_ohm: float = 0.0,
) -> MeterCheck:
    """Whether what the meter made of a known resistor lies within the meter's limits.

    Limits of uniform errors add straight: an error beyond their sum cannot be, so a meter that shows it is not the
    meter it is said to be, and no reading it took on that visit can be trusted.

    Parameters
    ----------
    known_ohm : float
        Value of the resistor. [Ω]
    shown_ohm : float
        As the meter showed it, leads included. [Ω]
    ranges : sequence of MeterRange
        Of the meter, by rising `to_ohm`.
    leads_ohm, leads_within_ohm : float
        What the probes shorted show, and the half-width of what is not known of it. [Ω]
    known_within_ohm : float
        Half-width of the resistor's own tolerance. [Ω]

    Returns
    -------
    MeterCheck
        Never in agreement where a value is not a number.

    Examples
    --------
    >>> handheld = [MeterRange(of_reading_frac=0.009, digits=2, resolution_ohm=0.1)]
    >>> check_resistor(100.0, 100.3, handheld).agrees, check_resistor(100.0, 103.0, handheld).agrees
    (True, False)
    """
    if known_ohm <= 0.0:
        raise InputError(f"a check resistor of {known_ohm} ohm", "Use one near what the windings read.")
    taken_on = range_of(shown_ohm, ranges)
    limit = error_limit_ohm(shown_ohm, taken_on.of_reading_frac, taken_on.digits, taken_on.resolution_ohm)
    limit += leads_within_ohm + known_within_ohm
    error = without_leads_ohm(shown_ohm, leads_ohm) - known_ohm
    is_within = not isnan(error) and abs(error) <= limit * (1.0 + 1e-9)  # 1e-9: a value on the limit itself is within
    return MeterCheck(error_ohm=error, limit_ohm=limit, agrees=is_within)
