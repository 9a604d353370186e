"""The law of the one number that all windings of a head share: batch, temperature and the meter's gain together.

The factors are multiplied, not added: at 12 % over, the sum's density would be 15 % too low. Inference runs on a
normal stand-in for the scale; the exact law over the stand-in is a slowly varying ratio put in afterwards.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import erf, exp, floor, log, pi, sqrt
from typing import Final

from fifthwire.diagnosis.winding.case import HeadTemperature, SpecLaw, WindingLaws
from fifthwire.diagnosis.winding.sites import NODES
from fifthwire.physics.copper import COPPER_INTERCEPT_K

LOG_WIDTH_OF_ANYTHING: Final = 11.5
"""A resistance of which nothing is known is log-uniform over this many e-folds, 0.1 ohm to 10 kohm. Judgement."""

WRONG_HEAD_TAIL_SHARE: Final = 0.02
"""Of heads that are not the one of the spec, the share beyond the usual factors. Judgement."""

_HERMITE_5: Final = (
    (-2.8569700138728, log(0.0112574113277)),
    (-1.3556261799743, log(0.2220759220057)),
    (0.0, log(0.5333333333333)),
    (1.3556261799743, log(0.2220759220057)),
    (2.8569700138728, log(0.0112574113277)),
)
_HERMITE_3: Final = ((-sqrt(3.0), log(1.0 / 6.0)), (0.0, log(2.0 / 3.0)), (sqrt(3.0), log(1.0 / 6.0)))
_HERMITE_5_PLAIN: Final = tuple([(node, exp(log_weight)) for node, log_weight in _HERMITE_5])
_TINY: Final = 1e-300
_ROOT_2: Final = sqrt(2.0)


def _phi(z: float) -> float:
    return 0.5 * (1.0 + erf(z / _ROOT_2))


class LazyTable:
    """A smooth function on an even grid, straight between its points; a point is worked out when first needed."""

    __slots__ = ("function", "known", "step")

    def __init__(self, function: Callable[[float], float], step: float) -> None:
        self.function, self.step = function, step
        self.known: dict[int, float] = {}

    def at(self, x: float) -> float:
        """The function at x."""
        place = x / self.step
        index = floor(place)
        low, high = self._point(index), self._point(index + 1)
        return low + (place - index) * (high - low)

    def _point(self, index: int) -> float:
        found = self.known.get(index)
        if found is None:
            found = self.known[index] = self.function(index * self.step)
        return found


@dataclass(frozen=True, slots=True)
class ScaleLaw:
    """A normal stand-in for the scale of a head and the exact law beside it.

    `centre_ohm` (1 + kappa) is the resistance that the head's windings scatter about; kappa of the stand-in has mean 0
    and standard deviation `sd`.
    """

    centre_ohm: float
    sd: float
    log_ratio: Callable[[float], float]
    """Logarithm of the exact density of kappa over the stand-in's."""

    def log_expected_ratio(self, mean: float, sd: float) -> float:
        """Logarithm of the mean of that ratio where kappa is normal about `mean`.

        Where the exact law bends within the width of that normal, nodes stand closer.
        """
        ratio = self.log_ratio
        if sd < 0.12 * self.sd:
            logs = [log_weight + ratio(mean + node * sd) for node, log_weight in _HERMITE_3]
        elif sd < 0.35 * self.sd:
            logs = [log_weight + ratio(mean + node * sd) for node, log_weight in _HERMITE_5]
        else:
            logs = [
                log(0.5) - 0.5 * z * z - 0.9189385332 + ratio(mean + z * sd)
                for z in [-4.75 + 0.5 * index for index in range(20)]
            ]
        top = max(logs)
        return top + log(sum([exp(value - top) for value in logs]))


def _log_over_normal(density: float, kappa: float, sd: float) -> float:
    """Logarithm of a density of kappa over that of a normal about 0."""
    return log(max(density, _TINY)) + 0.5 * (kappa / sd) ** 2 + log(sd) + 0.9189385332


class SpecScale:
    """Laws of the scale of a head whose spec is known."""

    def __init__(self, spec: SpecLaw, head: HeadTemperature, gain_frac: float, laws: WindingLaws) -> None:
        self.laws = laws
        self.batch_sd = max(spec.tolerance_frac, 1e-4) / 3.0
        self.gain_frac = gain_frac
        is_stated = head.centre_c is not None
        middle_c = head.centre_c if head.centre_c is not None else 0.5 * (head.low_c + head.high_c)
        middle_k = max(COPPER_INTERCEPT_K + middle_c, 1.0)
        half_width = 0.5 * (head.high_c - head.low_c) / middle_k
        self.temperature_half = 0.0 if is_stated else max(half_width, 1e-4)
        self.temperature_sd = max(head.sd_k, 1e-6) / middle_k if is_stated else half_width / sqrt(3.0)
        self.centre_ohm = spec.resistance_ohm * middle_k / (COPPER_INTERCEPT_K + spec.at_c)
        self.sd = sqrt(0.973 * self.batch_sd**2 + self.temperature_sd**2 + gain_frac**2 / 3.0)
        self._own = LazyTable(lambda kappa: _log_over_normal(self._density(kappa), kappa, self.sd), 0.12 * self.sd)
        self._other = LazyTable(lambda at: log(max(self._density_of_another(exp(at)), _TINY)), 0.01)

    def of_this_head(self) -> ScaleLaw:
        """The scale of a head that is the one of the spec."""
        return ScaleLaw(self.centre_ohm, self.sd, self._own.at)

    def of_another_head(self, centre_ohm: float) -> ScaleLaw:
        """The scale of a head that is not the one of the spec, about what its readings say."""
        sd, relative = 0.1, centre_ohm / self.centre_ohm

        def log_ratio(kappa: float) -> float:
            k = relative * max(1.0 + kappa, 1e-3)
            return self._other.at(log(k)) + log(relative) + 0.5 * (kappa / sd) ** 2 + log(sd) + 0.9189385332

        return ScaleLaw(centre_ohm, sd, log_ratio)

    def of_what_is_left(self, centre_ohm: float, low: float, high: float) -> ScaleLaw:
        """The scale of a coil of which turns are shorted out: log-uniform between two shares of the spec's."""
        sd, relative, soft = 0.3, centre_ohm / self.centre_ohm, self.sd
        height = 1.0 / log(high / low)

        def log_ratio(kappa: float) -> float:
            left = relative * max(1.0 + kappa, 1e-3)
            inside = _phi(log(left / low) / soft) - _phi(log(left / high) / soft)
            return _log_over_normal(height * inside / max(1.0 + kappa, 1e-3), kappa, sd)

        return ScaleLaw(centre_ohm, sd, log_ratio)

    def _density(self, kappa: float) -> float:
        """Batch (normal, cut at three standard deviations) times temperature times gain: density of kappa.

        The gain is taken by three Gauss-Legendre nodes, the other two in closed form.
        """
        total = 0.0
        for node, weight in ((-0.7745966692, 0.2777777778), (0.0, 0.4444444444), (0.7745966692, 0.2777777778)):
            gain = 1.0 + node * self.gain_frac
            x = (1.0 + kappa) / gain - 1.0
            if self.temperature_half > 0.0:
                total += weight / gain * self._any_temperature(x)
            else:
                total += weight / gain * _cut_normal_smeared(x, self.batch_sd, self.temperature_sd)
        return total

    def _any_temperature(self, x: float) -> float:
        """Batch times a temperature uniform in its limits: the integral of b's law over (1 + b), where F fits."""
        sd, half = self.batch_sd, self.temperature_half
        low = min(max((1.0 + x) / (1.0 + half) - 1.0, -3.0 * sd), 3.0 * sd)
        high = min(max((1.0 + x) / (1.0 - half) - 1.0, -3.0 * sd), 3.0 * sd)
        if high <= low:
            return 0.0
        mass = _phi(high / sd) - _phi(low / sd)
        first = sd * (exp(-0.5 * (low / sd) ** 2) - exp(-0.5 * (high / sd) ** 2)) / sqrt(2.0 * pi)
        return max(0.0, mass * (1.0 + 0.973 * sd * sd) - first) / (0.9973002 * 2.0 * half)

    def _density_of_another(self, k: float) -> float:
        """Uniform factors, the edges softened by batch and gain at each temperature: density of kappa."""
        usual, tail = self.laws.wrong_head_factor, self.laws.wrong_head_tail_factor
        tail_share = WRONG_HEAD_TAIL_SHARE if tail else 0.0
        soft = sqrt(0.973 * self.batch_sd**2 + self.gain_frac**2 / 3.0)
        if self.temperature_half > 0.0:
            n = 8
            gap = 2.0 * self.temperature_half / n
            factors = [1.0 - self.temperature_half + (index + 0.5) * gap for index in range(n)]
            soft = sqrt(soft * soft + gap * gap / 12.0)
        else:
            factors, soft = [1.0], sqrt(soft * soft + self.temperature_sd**2)
        total = 0.0
        for ranges, share in ((usual, 1.0 - tail_share), (tail, tail_share)):
            if share > 0.0:
                height = share / (len(factors) * sum(high - low for low, high in ranges))
                for factor in factors:
                    at = k / factor
                    inside = sum(
                        [_phi((at / low - 1.0) / soft) - _phi((at / high - 1.0) / soft) for low, high in ranges]
                    )
                    total += height * inside / factor
        return total


def unknown_scale(centre_ohm: float) -> ScaleLaw:
    """The scale of a head without a spec: anything, so that only the windings' balance counts."""
    sd = 0.3

    def log_ratio(kappa: float) -> float:
        return _log_over_normal(1.0 / (LOG_WIDTH_OF_ANYTHING * max(1.0 + kappa, 1e-3)), kappa, sd)

    return ScaleLaw(centre_ohm, sd, log_ratio)


def _cut_normal_smeared(x: float, sd: float, width: float) -> float:
    """Density at x of (1 + b)(1 + t) - 1, b normal and cut at 3 sd, t normal of `width`.

    Gauss-Legendre over b, where the two laws meet: their product is narrow and all but normal. Adding b and t instead,
    which has a closed form, is 7 % low or high at 2 sd and 40 % at 3 sd where the temperature is known to 15 K.
    """
    if width < 1e-9:
        return exp(-0.5 * (x / sd) ** 2) / (0.9973002 * sd * sqrt(2.0 * pi)) if abs(x) <= 3.0 * sd else 0.0
    mean = x * sd * sd / (sd * sd + width * width)
    wide = width * (1.0 + mean)
    variance = sd * sd + wide * wide
    if x * x > 200.0 * variance:
        return 0.0
    mean, narrow = x * sd * sd / variance, sd * wide / sqrt(variance)
    if narrow < 0.35 * sd and abs(mean) + 5.0 * narrow < 3.0 * sd:  # the cut is far, and the product all but normal
        total = 0.0
        for node, weight in _HERMITE_5_PLAIN:
            b = mean + narrow * node
            t = (x - b) / (1.0 + b)
            total += weight * exp(0.5 * (node * node - (b / sd) ** 2 - (t / width) ** 2)) / (1.0 + b)
        return narrow * total / (sqrt(2.0 * pi) * sd * width * 0.9973002)
    low, high = max(-3.0 * sd, mean - 5.0 * narrow), min(3.0 * sd, mean + 5.0 * narrow)
    if low >= high:  # what is left beyond the cut: from the edge inward
        edge = 3.0 * sd if mean > 0.0 else -3.0 * sd
        low, high = sorted((edge, edge - (2.0 if mean > 0.0 else -2.0) * narrow))
    middle, half = 0.5 * (low + high), 0.5 * (high - low)
    total = 0.0
    for node, weight in NODES:
        b = middle + half * node
        t = (x - b) / (1.0 + b)
        total += weight * exp(-0.5 * ((b / sd) ** 2 + (t / width) ** 2)) / (1.0 + b)
    return half * total / (2.0 * pi * sd * width * 0.9973002)
