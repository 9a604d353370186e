"""The law of the one number that all windings of a head share: batch, temperature and the meter's gain together.

The factors are multiplied, not added: at 12 % over, the sum's density would be 15 % too low. Inference runs on a
normal stand-in for the scale; the exact law over the stand-in is a slowly varying ratio put in afterwards.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import erf, exp, log, pi, sqrt
from typing import Final

from fifthwire.diagnosis.winding.case import HeadTemperature, SpecLaw, WindingLaws
from fifthwire.physics.copper import COPPER_INTERCEPT_K

LOG_WIDTH_OF_ANYTHING: Final = 11.5
"""A resistance of which nothing is known is log-uniform over this many e-folds, 0.1 ohm to 10 kohm. Judgement."""

WRONG_HEAD_TAIL_SHARE: Final = 0.02
"""Of heads that are not the one of the spec, the share beyond the usual factors. Judgement."""

_HERMITE_5: Final = (
    (-2.8569700138728, 0.0112574113277),
    (-1.3556261799743, 0.2220759220057),
    (0.0, 0.5333333333333),
    (1.3556261799743, 0.2220759220057),
    (2.8569700138728, 0.0112574113277),
)
_TINY: Final = 1e-300
_ROOT_2: Final = sqrt(2.0)


def _phi(z: float) -> float:
    return 0.5 * (1.0 + erf(z / _ROOT_2))


@dataclass(frozen=True, slots=True)
class ScaleLaw:
    """A normal stand-in for the scale of a head and the exact law beside it.

    `centre_ohm` (1 + kappa) is the resistance that the head's windings scatter about; kappa of the stand-in has mean 0
    and standard deviation `sd`.
    """

    centre_ohm: float
    sd: float
    density: Callable[[float], float]
    """Exact density of the scale. [1/Ω]"""

    def log_ratio(self, kappa: float) -> float:
        """Logarithm of the exact density over the stand-in's."""
        if kappa <= -0.999:
            return -700.0
        exact = self.density(self.centre_ohm * (1.0 + kappa)) * self.centre_ohm
        return log(max(exact, _TINY)) + 0.5 * (kappa / self.sd) ** 2 + log(self.sd * sqrt(2.0 * pi))

    def log_expected_ratio(self, mean: float, sd: float) -> float:
        """Logarithm of the mean of that ratio where kappa is normal about `mean`.

        Where the exact law bends within the width of that normal, nodes stand closer.
        """
        if sd < 0.35 * self.sd:
            logs = [log(weight) + self.log_ratio(mean + node * sd) for node, weight in _HERMITE_5]
        else:
            logs = [
                log(0.25) - 0.5 * z * z - 0.9189385332 + self.log_ratio(mean + z * sd)
                for z in [-4.875 + 0.25 * index for index in range(40)]
            ]
        top = max(logs)
        return top + log(sum(exp(value - top) for value in logs))


class SpecScale:
    """Laws of the scale of a head whose spec is known."""

    def __init__(self, spec: SpecLaw, head: HeadTemperature, gain_frac: float, laws: WindingLaws) -> None:
        self.laws = laws
        self.batch_sd = max(spec.tolerance_frac, 1e-4) / 3.0
        self.gain_frac = gain_frac
        self.temperature_factors = _temperature_factors(head)
        mean_factor = sum(factor for factor, _ in self.temperature_factors) / len(self.temperature_factors)
        spread = sum((factor / mean_factor - 1.0) ** 2 for factor, _ in self.temperature_factors)
        self.temperature_sd = sqrt(spread / len(self.temperature_factors) + self.temperature_factors[0][1] ** 2)
        self.centre_ohm = spec.resistance_ohm * mean_factor / (COPPER_INTERCEPT_K + spec.at_c)
        self.factors = [(factor / mean_factor, width) for factor, width in self.temperature_factors]
        self.sd = sqrt(0.973 * self.batch_sd**2 + self.temperature_sd**2 + gain_frac**2 / 3.0)
        self._table: list[float] = []

    def of_this_head(self) -> ScaleLaw:
        """The scale of a head that is the one of the spec."""
        return ScaleLaw(self.centre_ohm, self.sd, self._looked_up)

    def of_another_head(self, centre_ohm: float) -> ScaleLaw:
        """The scale of a head that is not the one of the spec, about what its readings say."""
        return ScaleLaw(centre_ohm, 0.1, self._density_of_another)

    def _looked_up(self, ohm: float) -> float:
        """Density by a table over 4.5 standard deviations to either side, made once a head."""
        if not self._table:
            self._low = self.centre_ohm * max(0.02, 1.0 - 4.5 * self.sd)
            self._step = (self.centre_ohm * (1.0 + 4.5 * self.sd) - self._low) / 96
            self._table = [self._density(self._low + index * self._step) for index in range(97)]
        place = (ohm - self._low) / self._step
        index = int(place)
        if not 0.0 <= place < 96.0:
            return self._density(ohm)
        return self._table[index] + (place - index) * (self._table[index + 1] - self._table[index])

    def _density(self, ohm: float) -> float:
        """Batch (normal, cut at three standard deviations) times temperature times gain. [1/Ω]"""
        k = ohm / self.centre_ohm
        sd = self.batch_sd
        total = 0.0
        for factor, width in self.factors:
            total += _cut_normal_smeared(k / factor - 1.0, sd, width, self.gain_frac) / factor
        return total / (len(self.factors) * self.centre_ohm)

    def _density_of_another(self, ohm: float) -> float:
        """Uniform factors, the widest edges softened by batch and gain at each temperature. [1/Ω]"""
        k = ohm / self.centre_ohm
        usual, tail = self.laws.wrong_head_factor, self.laws.wrong_head_tail_factor
        tail_share = WRONG_HEAD_TAIL_SHARE if tail else 0.0
        soft = sqrt(0.973 * self.batch_sd**2 + self.gain_frac**2 / 3.0 + self.factors[0][1] ** 2)
        total = 0.0
        for ranges, share in ((usual, 1.0 - tail_share), (tail, tail_share)):
            if share <= 0.0:
                continue
            height = share / sum(high - low for low, high in ranges)
            for factor, _ in self.factors:
                for low, high in ranges:
                    edge = _phi((k / (factor * low) - 1.0) / soft) - _phi((k / (factor * high) - 1.0) / soft)
                    total += height * edge / factor
        return total / (len(self.factors) * self.centre_ohm)


def unknown_scale(centre_ohm: float) -> ScaleLaw:
    """The scale of a head without a spec: anything, so that only the windings' balance counts."""
    return ScaleLaw(centre_ohm, 0.3, _density_of_anything)


def _density_of_anything(ohm: float) -> float:
    return 1.0 / (LOG_WIDTH_OF_ANYTHING * max(ohm, 1e-9))


def _cut_normal_smeared(x: float, sd: float, width: float, gain_frac: float) -> float:
    """Density at x of a normal cut at 3 sd, plus a narrow normal of `width`, plus a uniform within `gain_frac`.

    Cut normal plus normal has a closed form; the uniform is taken by three Gauss-Legendre nodes. The factors
    multiply, so the normal's width grows with x and its mean leans with it.
    """
    total = 0.0
    for node, weight in ((-0.7745966692, 0.2777777778), (0.0, 0.4444444444), (0.7745966692, 0.2777777778)):
        z = (x - node * gain_frac) / (1.0 + node * gain_frac)
        wide = width * (1.0 + z)
        variance = sd * sd + wide * wide
        if z * z > 100.0 * variance:
            continue
        lean = max(0.0, 1.0 - z * wide * width / variance) / (1.0 + node * gain_frac)
        normal = lean * exp(-0.5 * z * z / variance) / sqrt(2.0 * pi * variance)
        if wide < 1e-9:
            inside = 1.0 if abs(z) <= 3.0 * sd else 0.0
        else:
            mean, narrow = z * sd * sd / variance, sd * wide / sqrt(variance)
            inside = _phi((3.0 * sd - mean) / narrow) - _phi((-3.0 * sd - mean) / narrow)
        total += weight * normal * inside / 0.9973002
    return total


def _temperature_factors(head: HeadTemperature) -> list[tuple[float, float]]:
    """Copper's factor (k + t) at temperatures of equal probability, and the relative width left to each.

    A stated temperature is one normal about its centre where it is narrow, several nodes where it is wide; an unknown
    one is a row of nodes, each as wide as the gap to the next.
    """
    if head.centre_c is not None:
        middle = COPPER_INTERCEPT_K + head.centre_c
        return [(max(middle, 1.0), max(head.sd_k, 1e-6) / max(middle, 1.0))]
    n_nodes = 24
    gap = (head.high_c - head.low_c) / n_nodes
    middle = COPPER_INTERCEPT_K + 0.5 * (head.low_c + head.high_c)
    return [(COPPER_INTERCEPT_K + head.low_c + (index + 0.5) * gap, 0.5 * gap / middle) for index in range(n_nodes)]
