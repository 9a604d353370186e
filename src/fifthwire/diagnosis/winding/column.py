"""One more column: a fault that adds x times a known pattern to the readings, x by its own law.

Given the base fit the likelihood of x is exp(gamma x - beta x²/2); times the density of x it is integrated here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, inf, log, sqrt

NEVER = -inf

N_MIDPOINTS = 8
"""Steps of a size for a first look: those that matter are summed once more, see `over_size`."""

REACH = 4.5
"""The size is looked at within so many standard deviations."""


@dataclass(frozen=True, slots=True)
class SizeLaw:
    """The law of a fault's size x, in a coordinate that the readings are linear in."""

    low: float
    high: float
    density: Callable[[float], float]
    is_flat: bool = False
    """Uniform between its limits."""
    edge: float = 0.0
    """Where the density jumps between its limits; 0 where it does not."""


@dataclass(frozen=True, slots=True)
class Sized:
    """A size integrated over: logarithm of the mean likelihood, and the size's posterior."""

    log_mean: float
    mean: float
    variance: float
    flat_mean: float = 0.0
    """Where the size's law is flat, as all else is normal."""
    flat_variance: float = 0.0


def log_uniform(low: float, high: float, tail_high: float = 0.0, tail_share: float = 0.0) -> SizeLaw:
    """Log-uniform between limits, with a share of it in a tail beyond."""
    height = (1.0 - tail_share) / log(high / low)
    tail = tail_share / log(tail_high / high) if tail_share > 0.0 else 0.0
    if tail == 0.0:
        return SizeLaw(low, high, lambda x: height / x)
    return SizeLaw(low, tail_high, lambda x: (height if x <= high else tail) / x, edge=high)


def uniform(low: float, high: float) -> SizeLaw:
    """Uniform between limits."""
    height = 1.0 / (high - low)
    return SizeLaw(low, high, lambda _: height, is_flat=True)


def scaled(law: SizeLaw, factor: float) -> SizeLaw:
    """The law of a size times a factor, where the size itself has this law."""
    return SizeLaw(law.low * factor, law.high * factor, lambda x: law.density(x / factor) / factor, law.is_flat)


def most_it_can_be(gamma: float, beta: float, law: SizeLaw) -> float:
    """An upper limit of the logarithm of the mean likelihood, for a law whose density nowhere rises.

    The likelihood at the best size the law allows, times what share of the law the likelihood can cover.
    """
    best = min(max(gamma / beta, law.low), law.high)
    sd = 1.0 / sqrt(beta)
    densest = law.density(min(max(gamma / beta - 6.0 * sd, law.low), law.high))
    covered = 2.5066283 * sd * densest + 1e-6
    return gamma * best - 0.5 * beta * best * best + (log(covered) if covered < 1.0 else 0.0)


def integrate(gamma: float, beta: float, law: SizeLaw) -> Sized:
    """The mean of the likelihood over the law, and the posterior's mean and variance."""
    if beta <= 1e-12 and abs(gamma) <= 1e-9:
        return _by_midpoints(0.0, 0.0, law, law.low, law.high)
    if beta <= 0.0:
        return Sized(NEVER, law.low, 0.0)
    best, sd = gamma / beta, 1.0 / sqrt(beta)
    if best - 5.0 * sd > law.low and best + 5.0 * sd < law.high and sd < 0.1 * best:
        return _well_inside(best, sd, law)
    low, high = max(law.low, best - REACH * sd), min(law.high, best + REACH * sd)
    if low >= high:  # the best size lies well outside the law: what counts is its near edge
        edge = law.low if best < law.low else law.high
        slope = abs(gamma - beta * edge)
        width = min(law.high - law.low, 8.0 / max(slope, 1e-300))
        low, high = (edge, edge + width) if best < law.low else (edge - width, edge)
    return _by_midpoints(gamma, beta, law, low, high)


def _well_inside(best: float, sd: float, law: SizeLaw) -> Sized:
    """Three Gauss-Hermite points, where the law hardly changes over the likelihood."""
    reach = 1.7320508 * sd
    low, middle, high = law.density(best - reach) / 6.0, law.density(best) / 1.5, law.density(best + reach) / 6.0
    total = low + middle + high
    off = reach * (high - low) / total
    variance = max(reach * reach * (high + low) / total - off * off, 0.0)
    log_mean = 0.5 * (best / sd) ** 2 + log(sd * total) + 0.9189385332
    return Sized(log_mean, best + off, variance, best, sd * sd)


def _by_midpoints(gamma: float, beta: float, law: SizeLaw, low: float, high: float) -> Sized:
    """Eight midpoints: even where the law is flat or the range narrow, even in the logarithm otherwise."""
    best = gamma / beta if beta > 0.0 else low
    sharp, near, density = -0.5 * beta, min(max(best, low), high), law.density
    top, slope = gamma * near + sharp * near * near, gamma - beta * near
    is_even = law.is_flat or high < 2.0 * low
    step = (high - low) / N_MIDPOINTS if is_even else log(high / low) / N_MIDPOINTS
    factor = 1.0 if is_even else exp(step)
    x = low + 0.5 * step if is_even else low * exp(0.5 * step)
    total = one = two = 0.0
    for _ in range(N_MIDPOINTS):
        off = x - near
        weight = exp(min(off * (slope + sharp * off), 0.0)) * density(x) * (1.0 if is_even else x)
        total += weight
        one += weight * off
        two += weight * off * off
        x = x + step if is_even else x * factor
    flat = (best, 1.0 / beta) if beta > 0.0 else (0.0, 0.0)
    if total <= 0.0 or step <= 0.0:
        return Sized(NEVER, 0.5 * (low + high), 0.0, *flat)
    off = one / total
    return Sized(top + log(total) + log(step), near + off, max(two / total - off * off, 0.0), *flat)
