"""The scale of a head that is not the one of the spec: a factor of wide uniform law times the own law of the scale.

The density of the product at k is an integral of the own law between k over one end of the factor's range and k over
the other, so that both ends are softened by that law itself: cut batch, temperature and gain, multiplied.
"""

from dataclasses import dataclass
from math import erf, exp, log, pi, sqrt
from typing import Final

from fifthwire.diagnosis.winding.case import WindingLaws
from fifthwire.diagnosis.winding.sites import NODES
from fifthwire.diagnosis.winding.smeared import KEPT

WRONG_HEAD_TAIL_SHARE: Final = 0.02
"""Of heads that are not the one of the spec, the share beyond the usual factors. Judgement."""

ANY_FACTOR_SHARE: Final = 1e-4
"""Of heads that are not the one of the spec, those of any resistance at all, between the usual factors too: a head
that is balanced and yet reads what no factor and no heat make of it. Judgement."""

LOG_WIDTH_OF_ANYTHING: Final = 11.5
"""A resistance of which nothing is known is log-uniform over this many e-folds, 0.1 ohm to 10 kohm. Judgement."""

_HERMITE_5: Final = (
    (-2.8569700138728, 0.0112574113277),
    (-1.3556261799743, 0.2220759220057),
    (0.0, 0.5333333333333),
    (1.3556261799743, 0.2220759220057),
    (2.8569700138728, 0.0112574113277),
)
_LEGENDRE_3: Final = ((-0.7745966692, 0.2777777778), (0.0, 0.4444444444), (0.7745966692, 0.2777777778))
_ROOT_2: Final = sqrt(2.0)


def _phi(z: float) -> float:
    return 0.5 * (1.0 + erf(z / _ROOT_2))


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnScale:
    """What the scale of a head, over its centre, is the product of."""

    batch_sd: float
    gain_frac: float
    temperature_sd: float
    temperature_half: float
    """Where nothing but the limits of the temperature is known; 0 where it is known better."""

    @property
    def reach(self) -> float:
        """The scale is this near its centre."""
        temperature = self.temperature_half or 4.5 * self.temperature_sd
        return (1.0 + 3.0 * self.batch_sd) * (1.0 + temperature) * (1.0 + self.gain_frac) - 1.0


class AnotherHead:
    """The scale of another head, over this head's centre."""

    def __init__(self, own: OwnScale, laws: WindingLaws) -> None:
        tail_share = WRONG_HEAD_TAIL_SHARE if laws.wrong_head_tail_factor else 0.0
        shares = ((1.0 - tail_share, laws.wrong_head_factor), (tail_share, laws.wrong_head_tail_factor))
        self.own, self.reach = own, own.reach
        self.steps: dict[float, float] = {}
        """By how much the density of the factor rises, or falls, at the ends of its ranges."""
        for share, ranges in shares:
            height = share / sum([high - low for low, high in ranges]) if ranges else 0.0
            for low, high in ranges:
                self.steps[low] = self.steps.get(low, 0.0) + height
                self.steps[high] = self.steps.get(high, 0.0) - height
        self._whole: float | None = None

    def density(self, k: float) -> float:
        """Density of the scale."""
        of_ranges = sum([step * self.inverse_below(k / edge) for edge, step in self.steps.items()])
        return (1.0 - ANY_FACTOR_SHARE) * max(of_ranges, 0.0) + ANY_FACTOR_SHARE / (LOG_WIDTH_OF_ANYTHING * k)

    def is_out_of_ranges(self, k: float, within: float) -> bool:
        """Whether all scales near k lie beyond the softened ranges of the factor, where `ANY_FACTOR_SHARE` is left."""
        near = (1.0 + self.reach) * (1.0 + within)
        far = (1.0 - self.reach) * (1.0 - within)
        inside = sum([step for edge, step in self.steps.items() if k >= edge * near])
        return abs(inside) < 1e-12 and not any(edge * far < k < edge * near for edge in self.steps)

    def inverse_below(self, scale: float) -> float:
        """Mean of one over the own scale, counted where that is below a value."""
        if scale <= 1.0 - self.reach:
            return 0.0
        if scale < 1.0 + self.reach:
            return self._below(scale)
        if self._whole is None:
            self._whole = self._below(1.0 + self.reach)
        return self._whole

    def _below(self, scale: float) -> float:
        own = self.own
        if own.temperature_half > 0.0:
            return _below_any_temperature(scale, own)
        if own.temperature_sd > own.batch_sd:
            return _below_wide_temperature(scale, own, sqrt(own.temperature_sd**2 + own.gain_frac**2 / 3.0))
        total = 0.0
        for node, weight in _LEGENDRE_3:
            gain = 1.0 + node * own.gain_frac
            for z, share in _HERMITE_5:
                factor = gain * max(1.0 + z * own.temperature_sd, 0.05)
                total += weight * share * _batch_below(scale / factor - 1.0, own.batch_sd) / factor
        return total


def _batch_below(b: float, sd: float) -> float:
    """Mean of 1/(1 + b) where the batch, cut at three standard deviations, is below a value; to the square of sd."""
    high = min(b / sd, 3.0)
    if high <= -3.0:
        return 0.0
    mass = _phi(high) - _phi(-3.0)
    first = -sd * (exp(-0.5 * high * high) - exp(-4.5)) / sqrt(2.0 * pi)
    return (mass * (1.0 + sd * sd) - first) / KEPT


def _below_wide_temperature(scale: float, own: OwnScale, sd: float) -> float:
    """The same summed over the batch, the temperature and gain as one normal factor."""
    total = 0.0
    for x, weight in NODES:
        b = 3.0 * x * own.batch_sd
        density = 3.0 * weight * exp(-4.5 * x * x) / (KEPT * sqrt(2.0 * pi))
        t = (scale / (1.0 + b) - 1.0) / sd
        first = sd * exp(-0.5 * t * t) / sqrt(2.0 * pi)
        total += density * (_phi(t) * (1.0 + sd * sd) + first) / (1.0 + b)
    return total


def _below_any_temperature(scale: float, own: OwnScale) -> float:
    """The same where all temperatures between two limits are as probable; the gain taken with the batch."""
    half, sd = own.temperature_half, sqrt(own.batch_sd**2 + own.gain_frac**2 / 3.0)
    total = 0.0
    for x, weight in NODES:
        b = 3.0 * x * sd
        density = 3.0 * weight * exp(-4.5 * x * x) / (KEPT * sqrt(2.0 * pi))
        high = min(max(scale / (1.0 + b), 1.0 - half), 1.0 + half)
        total += density * log(high / (1.0 - half)) / (2.0 * half * (1.0 + b))
    return total
