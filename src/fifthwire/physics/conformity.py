"""Pass, fail or not proven: a measured value against limits, with its uncertainty.

A value near a limit proves nothing either way. The guard band that is left on both sides of a limit is stated with
every verdict.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import erfc, exp, inf, isnan, pi, sqrt
from typing import Final, Literal

from fifthwire.model.errors import InputError

GUARD_BAND_IN_U: Final = 1.645
"""Guard band in standard uncertainties: at most 5 % of what is passed (or failed) is wrongly so.  [1]  One-sided 95 %,
the default of ISO 14253-1:2017; factor from memory."""

Zone = Literal["pass", "fail", "not-proven"]


def normal_cdf(z: float) -> float:
    """Share of a standard normal law below z.

    Parameters
    ----------
    z : float
        In standard deviations. [1]

    Returns
    -------
    float
        Accurate far into both tails. [1]
    """
    return 0.5 * erfc(-z / sqrt(2.0))


def conformance_probability(value: float, u: float, *, low: float = -inf, high: float = inf) -> float:
    r"""How probable it is that the true value lies within the limits.

    .. math:: p_c = \Phi((T_U - y)/u) - \Phi((T_L - y)/u)

    Parameters
    ----------
    value : float
        As measured; the unit of the limits.
    u : float
        Its standard uncertainty; the unit of the limits.
    low, high : float
        Limits; leave out the one that there is not.

    Returns
    -------
    float
        Normal law, prior knowledge being small beside the measurement; NaN where a value is NaN. [1]

    Raises
    ------
    InputError
        If the uncertainty is negative or the limits are crossed.

    References
    ----------
    .. [1] JCGM 106:2012, 7.2 to 7.4 (from memory).

    Examples
    --------
    507 kPa with u = 8.6 kPa against at least 490 kPa:

    >>> round(conformance_probability(507.0, 8.6, low=490.0), 4)
    0.976
    """
    _limits_in_order(u, low, high)
    if isnan(value) or isnan(u):
        return float("nan")
    if u == 0.0:
        return float(low <= value <= high)
    below, above = (low - value) / u, (high - value) / u
    if below > 0.0:  # both limits on one side: the difference of the small tails keeps its digits
        return normal_cdf(-below) - normal_cdf(-above)
    return normal_cdf(above) - normal_cdf(below)


def zone(value: float, u: float, *, low: float = -inf, high: float = inf, guard_in_u: float = GUARD_BAND_IN_U) -> Zone:
    """Pass, fail or not proven, with a guard band on both sides of each limit.

    Parameters
    ----------
    value : float
        As measured; the unit of the limits.
    u : float
        Its standard uncertainty; the unit of the limits.
    low, high : float
        Limits; leave out the one that there is not.
    guard_in_u : float
        Width of the guard band. [u]

    Returns
    -------
    str
        "pass" inside a limit by the guard band or more, "fail" outside by it or more, "not-proven" between.

    References
    ----------
    .. [1] ISO 14253-1:2017, three zones, 95 % (from a secondary source).

    Examples
    --------
    >>> [zone(ohm, 0.5, low=55.8, high=68.2) for ohm in (62.0, 67.9, 69.1)]
    ['pass', 'not-proven', 'fail']
    """
    _limits_in_order(u, low, high)
    guard = guard_in_u * u
    if low + guard <= value <= high - guard:
        return "pass"
    if value <= low - guard or value >= high + guard:
        return "fail"
    return "not-proven"


@dataclass(frozen=True, slots=True, kw_only=True)
class GlobalRisk:
    """What a rule of acceptance costs over all items that come."""

    consumer: float
    """Share of items that are accepted and do not conform. [1]"""
    producer: float
    """Share of items that are rejected and conform. [1]"""


def global_risk(
    mean: float,
    sd: float,
    u: float,
    tolerance: tuple[float, float],
    acceptance: tuple[float, float],
) -> GlobalRisk:
    """Share of items wrongly accepted and wrongly rejected, for items from a known process.

    Parameters
    ----------
    mean, sd : float
        Of the process, normal; one unit throughout.
    u : float
        Standard uncertainty of a measurement.
    tolerance : tuple of float
        Limits that the true value must keep.
    acceptance : tuple of float
        Limits that the measured value must keep.

    Returns
    -------
    GlobalRisk
        By Simpson's rule over the process, to about 1e-9.

    References
    ----------
    .. [1] JCGM 106:2012, 9.5 (from memory).

    Examples
    --------
    >>> risk = global_risk(1500.0, 0.12, 0.04, (1499.8, 1500.2), (1499.82, 1500.18))
    >>> round(risk.consumer, 5), round(risk.producer, 5)
    (0.00988, 0.06903)
    """
    if not (sd > 0.0 and u > 0.0):
        raise InputError("a process and a measurement have some spread", "Give standard deviations above 0.")

    def accepted(true: float) -> float:
        return conformance_probability(true, u, low=acceptance[0], high=acceptance[1])

    def density(true: float) -> float:
        return exp(-0.5 * ((true - mean) / sd) ** 2) / (sd * sqrt(2.0 * pi))

    ends = (
        mean - 9.0 * sd,
        *(min(max(limit, mean - 9.0 * sd), mean + 9.0 * sd) for limit in tolerance),
        mean + 9.0 * sd,
    )
    below, within, above = (
        _simpson(lambda true: density(true) * accepted(true), ends[0], ends[1]),
        _simpson(lambda true: density(true) * (1.0 - accepted(true)), ends[1], ends[2]),
        _simpson(lambda true: density(true) * accepted(true), ends[2], ends[3]),
    )
    return GlobalRisk(consumer=below + above, producer=within)


def _simpson(integrand: Callable[[float], float], low: float, high: float, panels: int = 2000) -> float:
    step = (high - low) / panels
    inner = sum((4.0 if i % 2 else 2.0) * integrand(low + i * step) for i in range(1, panels))
    return step / 3.0 * (integrand(low) + inner + integrand(high))


def _limits_in_order(u: float, low: float, high: float) -> None:
    if u < 0.0:
        raise InputError(f"a standard uncertainty of {u}", "It is 0 or more.")
    if low > high:
        raise InputError(f"limits {low} to {high}", "The low limit comes first.")
