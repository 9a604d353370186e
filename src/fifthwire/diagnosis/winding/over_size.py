"""The exact laws of a head's scale and of a fault's size, averaged over the joint normal of the two."""

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log, pi, sqrt

from fifthwire.diagnosis.winding.column import NEVER
from fifthwire.diagnosis.winding.error_law import ErrorLaw
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.diagnosis.winding.meter_noise import NoiseLaw
from fifthwire.diagnosis.winding.scale import ScaleLaw
from fifthwire.diagnosis.winding.scatter_pull import ScatterPull
from fifthwire.diagnosis.winding.sites import NODES, blurred

LIGHT = 11.0
"""A step of the size this far below the heaviest does not count.  [nat]"""

ENOUGH_STEPS = 9
"""Steps over a size's posterior that give its integral to a thousandth."""

NEAR_ZERO = 0.05
"""A range that starts nearer to 0 than this share of its width is summed over the logarithm of the size.  [1]"""

REACH = 4.75
"""The size is looked at within so many standard deviations: there twelve steps sum a normal law to a part in 10^5."""

OwnError = tuple[NoiseLaw, ErrorLaw]
"""Of a reading that alone tells of the size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Posterior:
    """Joint normal of the scale, the windings and the size, and the evidence with a flat law of the size."""

    log_evidence: float
    kappa: float
    """At the mean size."""
    kappa_sd: float
    """The size known."""
    kappa_slope: float
    """With the size. [1/Ω]"""
    size: float
    size_var: float
    windings: list[float]
    """At the mean size. [Ω]"""
    slope: list[float]
    """Of the windings with the size."""
    pull: ScatterPull


class _Along:
    """A hypothesis as a function of its size."""

    def __init__(self, hypothesis: Hypothesis, posterior: Posterior, own_error: OwnError | None) -> None:
        assert hypothesis.scale is not None
        self.hypothesis, self.posterior, self.own_error = hypothesis, posterior, own_error
        self.scale: ScaleLaw = hypothesis.scale
        self.sd = sqrt(posterior.size_var)
        self.winding = hypothesis.column.winding if hypothesis.is_share and hypothesis.column else None

    def kappa(self, size: float) -> float:
        """Mean of the scale's relative deviation."""
        return self.posterior.kappa + self.posterior.kappa_slope * (size - self.posterior.size)

    def scale_ohm(self, size: float) -> float:
        """The scale. [Ω]"""
        return self.scale.centre_ohm * max(1.0 + self.kappa(size), 0.02)

    def of_ohm(self, size: float) -> float:
        """What the size's law is a share of: the scale, or one winding. [Ω]"""
        if self.winding is None:
            return self.scale_ohm(size)
        own = self.posterior.windings[self.winding] + self.posterior.slope[self.winding] * (size - self.posterior.size)
        return max(own, 0.02 * self.scale.centre_ohm)

    def _log_likelihood(self, off: float) -> float:
        """Over the most of the normal one, by the exact law of the reading that alone tells of the size."""
        assert self.own_error is not None
        noise, law = self.own_error
        size_var = self.posterior.size_var
        variance = max(size_var - noise.variance, 1e-10)
        found = blurred(noise.mean_ohm - off, variance, law)
        return log(found[0]) + 0.5 * log(size_var / variance) if found is not None else NEVER

    def steps(self, low: float, high: float) -> list[tuple[float, float]]:
        """Sizes and the widths they stand for."""
        law = self.hypothesis.law
        assert law is not None
        if self.hypothesis.bridge is not None:
            return _bridge_steps(self, low, high)
        return _pieces(low, high, law.edge, self.posterior.size, self.sd)

    def log_weights(self, low: float, high: float) -> tuple[list[tuple[float, float]], list[float]]:
        """The steps between two limits, and the logarithm of the weight of each."""
        steps = self.steps(low, high)
        posterior, hypothesis = self.posterior, self.hypothesis
        mean, slope, pull = posterior.size, posterior.kappa_slope, posterior.pull
        centre_ohm, is_of_scale, sharp = self.scale.centre_ohm, self.winding is None, -0.5 / posterior.size_var
        ratio = _ratios(self, low, high)
        logs = []
        for size, width in steps:
            off = size - mean
            kappa = posterior.kappa + slope * off
            scale_ohm = centre_ohm * (1.0 + kappa if kappa > -0.98 else 0.02)
            density = hypothesis.size_density(size, scale_ohm if is_of_scale else self.of_ohm(size))
            if density <= 0.0:
                logs.append(NEVER)
                continue
            likelihood = sharp * off * off if self.own_error is None else self._log_likelihood(off)
            logs.append(log(width * density) + likelihood + ratio(kappa) + pull.log_factor(off, scale_ohm))
        return steps, logs


def log_expected_laws(hypothesis: Hypothesis, posterior: Posterior, own_error: OwnError | None) -> float:
    """Logarithm of the exact laws of scale and size, averaged over their joint normal."""
    if hypothesis.law is None or posterior.size_var <= 0.0:
        assert hypothesis.scale is not None
        ratio = hypothesis.scale.expected_ratio_within(posterior.kappa_sd)(posterior.kappa)
        scale_ohm = hypothesis.scale.centre_ohm * max(1.0 + posterior.kappa, 0.02)
        return ratio + posterior.pull.log_factor(0.0, scale_ohm)
    along = _Along(hypothesis, posterior, own_error)
    low, high = hypothesis.size_limits(along.of_ohm)
    near = min(max(posterior.size, low), high)
    low, high = max(low, near - REACH * along.sd), min(high, near + REACH * along.sd)
    for _ in range(3):
        if low >= high:
            return NEVER
        steps, logs = along.log_weights(low, high)
        top = max(logs, default=NEVER)
        if top == NEVER:
            return NEVER
        heavy = [index for index, value in enumerate(logs) if value > top - LIGHT]
        if len(heavy) >= ENOUGH_STEPS or len(heavy) == len(steps):
            break
        # the weight lies between few of the steps: once more with all of them there
        low = steps[heavy[0] - 1][0] if heavy[0] > 0 else low
        high = steps[heavy[-1] + 1][0] if heavy[-1] + 1 < len(steps) else high
    total = sum([exp(value - top) for value in logs])
    return top + log(total) - 0.5 * log(2.0 * pi) - log(along.sd)


def _pieces(low: float, high: float, edge: float, found: float, sd: float) -> list[tuple[float, float]]:
    """Steps on either side of an edge of the law, where it lies between; the size is found at so much, give or take."""
    if low < edge < high:
        return _pieces(low, edge, 0.0, found, sd) + _pieces(edge, high, 0.0, found, sd)
    is_wide = found - 2.5 * sd < low and low < NEAR_ZERO * (high - low)
    return _steps_of_logarithm(low, high) if is_wide and low > 0.0 else _steps(low, high)


def _steps(low: float, high: float) -> list[tuple[float, float]]:
    """Sizes and the widths they stand for."""
    middle, half = 0.5 * (high + low), 0.5 * (high - low)
    return [(middle + half * x, half * w) for x, w in NODES]


def _steps_of_logarithm(low: float, high: float) -> list[tuple[float, float]]:
    """The same even in the logarithm."""
    return [(exp(at), exp(at) * width) for at, width in _steps(log(low), log(high))]


def _bridge_steps(along: _Along, low: float, high: float) -> list[tuple[float, float]]:
    """Sizes and their widths, even in the logarithm of the bridge's resistance: a dead short's are crowded together."""
    law, bridge, scale_ohm = along.hypothesis.law, along.hypothesis.bridge, along.scale_ohm
    rise = along.scale.centre_ohm * along.posterior.kappa_slope
    assert law is not None and bridge is not None

    def bridge_ohm(size: float) -> float:
        k = scale_ohm(size)
        loss = bridge.loss_at(size, k)
        return k * k / loss - 2.0 * k if loss > 0.0 else law.high

    least, most = max(law.low, bridge_ohm(high)), min(law.high, bridge_ohm(low))
    if not 0.0 < least < most:
        return _steps(low, high)
    found = []
    start = high
    for resistance, width in reversed(_pieces(least, most, law.edge, least, most)):
        size = bridge.size_of(resistance, scale_ohm, start)
        if size is None:
            continue
        start, k = size, scale_ohm(size)
        loss = k * k / (2.0 * k + resistance)
        slope = -k * k / (loss * loss) * bridge.loss_slope(rise) + (2.0 * k / loss - 2.0) * rise
        found.append((size, width / max(abs(slope), 1e-9)))
    return found


def _ratios(along: _Along, low: float, high: float) -> Callable[[float], float]:
    """The scale's expected ratio over the scale: a parabola through three points where it bends little."""
    scale = along.scale
    first, last = sorted((along.kappa(low), along.kappa(high)))
    at = scale.expected_ratio_within(along.posterior.kappa_sd)
    if last - first > 0.6 * scale.sd:
        return at
    middle, half = 0.5 * (first + last), max(0.5 * (last - first), 1e-12)
    below, level, above = at(first), at(middle), at(last)
    rise, bend = 0.5 * (above - below), 0.5 * (above + below) - level

    def parabola(kappa: float) -> float:
        t = (kappa - middle) / half
        return level + t * (rise + t * bend)

    return parabola
