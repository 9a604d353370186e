"""The laws of a head and its meter as tables: one reading's error, and the scale of all windings together."""

from dataclasses import dataclass
from functools import cached_property
from math import erf, exp, log, pi, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.special import erf as erf_of
from scipy.stats import norm

from fifthwire.diagnosis.winding.case import HeadTemperature, RangeLaw, SpecLaw, WindingLaws

COPPER_K = 234.5
TAIL_SHARE = 0.02
"""Of bridges and wrong heads, the share in the wide tail. Judgement, as the priors leave it open."""

Floats = NDArray[np.float64]


class ReadingLaw:
    """Probability that the meter shows a value, by how far it lies over the noiseless resistance.

    Shown = noiseless + half-normal touch + uniform digits, then rounded: a mass, exact in closed form, here as a fine
    table that is looked up at the nearest point.
    """

    def __init__(self, meter_range: RangeLaw, laws: WindingLaws, n_points: int = 200_001) -> None:
        self.digits_ohm = max(meter_range.digits * meter_range.resolution_ohm, 1e-6)
        self.resolution_ohm = meter_range.resolution_ohm
        self.touch_ohm = laws.touch_ohm
        half = self.digits_ohm + self.resolution_ohm
        self.low, self.high = -half, half + 9.0 * self.touch_ohm
        at = np.linspace(self.low, self.high, n_points)
        r = 0.5 * self.resolution_ohm
        self.table = np.maximum(self._below(at + r) - self._below(at - r), 0.0)
        self.table[0] = self.table[-1] = 0.0
        self._per_ohm = (n_points - 1) / (self.high - self.low)
        self._last = n_points - 1
        self.mean = self.touch_ohm * sqrt(2.0 / pi)
        self.variance = self.digits_ohm**2 / 3.0 + self.resolution_ohm**2 / 12.0 + self.touch_ohm**2 * (1.0 - 2.0 / pi)

    def _below(self, z: Floats) -> Floats:
        """Probability that touch and digits together lie below z."""
        a = self.digits_ohm
        return (self._integral(z + a) - self._integral(z - a)) / (2.0 * a)

    def _integral(self, z: Floats) -> Floats:
        """Integral of the half-normal law's distribution function from 0 to z."""
        z = np.maximum(z, 0.0)
        s = self.touch_ohm
        return z * erf_of(z / (s * sqrt(2.0))) + s * sqrt(2.0 / pi) * (np.exp(-0.5 * (z / s) ** 2) - 1.0)

    def mass(self, over_ohm: Floats) -> Floats:
        """Probability of what is shown, `over_ohm` above the noiseless resistance."""
        index = ((over_ohm - self.low) * self._per_ohm + 0.5).astype(np.int64)
        np.clip(index, 0, self._last, out=index)
        return self.table[index]


@dataclass(frozen=True)
class LogScale:
    """Density of the logarithm of a head's scale (what every winding would read), on an even grid."""

    start: float
    step: float
    density: Floats

    def at(self, log_ohm: Floats) -> Floats:
        """Density, straight between the points of the grid."""
        place = (log_ohm - self.start) / self.step
        index = np.clip(place.astype(np.int64), 0, len(self.density) - 2)
        part = place - index
        found = self.density[index] * (1.0 - part) + self.density[index + 1] * part
        return np.where((place >= 0.0) & (place <= len(self.density) - 1), found, 0.0)

    @cached_property
    def mean_and_sd(self) -> tuple[float, float]:
        """Of the logarithm."""
        at = self.start + self.step * np.arange(len(self.density))
        mass = self.density / self.density.sum()
        mean = float((mass * at).sum())
        return mean, float(sqrt((mass * (at - mean) ** 2).sum()))


def log_scale(
    spec: SpecLaw,
    head: HeadTemperature,
    meter_range: RangeLaw,
    factor_ranges: tuple[tuple[float, tuple[tuple[float, float], ...]], ...] = (),
    step: float = 5e-5,
) -> LogScale:
    """Batch, temperature, gain and (for a wrong head) its factor, convolved on a fine grid of logarithms.

    `factor_ranges` holds (share, ranges) pairs: uniform over the ranges of each share.
    """
    parts = [_batch(spec, step), _temperature(spec, head, step), _gain(meter_range, step)]
    if factor_ranges:
        parts.append(_factor(factor_ranges, step))
    first, mass = 0, np.ones(1)
    for offset, cells in parts:
        first += offset
        mass = _convolved(mass, cells)
    return LogScale(log(spec.resistance_ohm) + first * step, step, mass / step)


def _convolved(one: Floats, other: Floats) -> Floats:
    if min(len(one), len(other)) < 200:
        return np.convolve(one, other)
    n = len(one) + len(other) - 1
    size = 1 << (n - 1).bit_length()
    return np.maximum(np.fft.irfft(np.fft.rfft(one, size) * np.fft.rfft(other, size), size)[:n], 0.0)


def _cells(distribution, low: float, high: float, step: float) -> tuple[int, Floats]:
    """Mass in each cell of the grid of logarithms, from the distribution function of the logarithm."""
    first, last = int(np.floor(low / step)), int(np.ceil(high / step))
    edges = (np.arange(first, last + 2) - 0.5) * step
    return first, np.diff(distribution(np.clip(edges, low, high)))


def _batch(spec: SpecLaw, step: float) -> tuple[int, Floats]:
    cut, sd = spec.tolerance_frac, spec.tolerance_frac / 3.0
    whole = erf(3.0 / sqrt(2.0))

    def distribution(at: Floats) -> Floats:
        return (norm.cdf((np.exp(at) - 1.0) / sd) - 0.5 * (1.0 - whole)) / whole

    return _cells(distribution, log(1.0 - cut), log(1.0 + cut), step)


def _temperature(spec: SpecLaw, head: HeadTemperature, step: float) -> tuple[int, Floats]:
    def log_factor(at_c: float) -> float:
        return log((COPPER_K + at_c) / (COPPER_K + spec.at_c))

    if head.centre_c is None:
        low_c, high_c = head.low_c, head.high_c

        def distribution(at: Floats) -> Floats:
            return (np.exp(at) * (COPPER_K + spec.at_c) - COPPER_K - low_c) / (high_c - low_c)

        return _cells(distribution, log_factor(low_c), log_factor(high_c), step)
    centre_c, sd_k = head.centre_c, max(head.sd_k, 1e-3)

    def normal(at: Floats) -> Floats:
        return norm.cdf((np.exp(at) * (COPPER_K + spec.at_c) - COPPER_K - centre_c) / sd_k)

    low_c, high_c = max(centre_c - 8.0 * sd_k, -COPPER_K + 1.0), centre_c + 8.0 * sd_k
    return _cells(normal, log_factor(low_c), log_factor(high_c), step)


def _gain(meter_range: RangeLaw, step: float) -> tuple[int, Floats]:
    limit = meter_range.of_reading_frac
    if limit <= 0.0:
        return 0, np.ones(1)
    return _cells(lambda at: (np.exp(at) - 1.0 + limit) / (2.0 * limit), log(1.0 - limit), log(1.0 + limit), step)


def _factor(
    factor_ranges: tuple[tuple[float, tuple[tuple[float, float], ...]], ...], step: float
) -> tuple[int, Floats]:
    pieces = []
    for share, ranges in factor_ranges:
        whole = sum(high - low for low, high in ranges)
        pieces += [(share / whole, low, high) for low, high in ranges]
    low, high = min(piece[1] for piece in pieces), max(piece[2] for piece in pieces)

    def distribution(at: Floats) -> Floats:
        factor = np.exp(at)
        return sum(density * np.clip(factor - lo, 0.0, hi - lo) for density, lo, hi in pieces)

    return _cells(distribution, log(low), log(high), step)


def half_normal_mean(scale: float) -> float:
    """Mean of a half-normal law."""
    return scale * sqrt(2.0 / pi)


def normal_density(at: float, mean: float, sd: float) -> float:
    """Of one number."""
    return exp(-0.5 * ((at - mean) / sd) ** 2) / (sd * sqrt(2.0 * pi))
