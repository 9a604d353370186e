"""The law of the one number that all windings of a head share: batch, temperature and the meter's gain together.

The factors are multiplied, not added: at 12 % over, the sum's density would be 15 % too low. Inference runs on a
normal stand-in for the scale; the exact law over the stand-in is a slowly varying ratio put in afterwards.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from math import erf, exp, log, pi, sqrt
from typing import Final

from fifthwire.diagnosis.winding.another_head import LOG_WIDTH_OF_ANYTHING, AnotherHead, OwnScale
from fifthwire.diagnosis.winding.case import HeadTemperature, SpecLaw, WindingLaws
from fifthwire.diagnosis.winding.smeared import KEPT, FarLaw, smeared_density
from fifthwire.diagnosis.winding.smooth_table import SmoothTable
from fifthwire.physics.copper import COPPER_INTERCEPT_K

SHARE_STEP: Final = 5e-4
"""Of the stand-in's variance: normals that differ by less share their expected ratio.  [1]"""

_HERMITE_5: Final = (
    (-2.8569700138728, log(0.0112574113277)),
    (-1.3556261799743, log(0.2220759220057)),
    (0.0, log(0.5333333333333)),
    (1.3556261799743, log(0.2220759220057)),
    (2.8569700138728, log(0.0112574113277)),
)
_HERMITE_3: Final = ((-sqrt(3.0), log(1.0 / 6.0)), (0.0, log(2.0 / 3.0)), (sqrt(3.0), log(1.0 / 6.0)))
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
    log_ratio: Callable[[float], float]
    """Logarithm of the exact density of kappa over the stand-in's."""
    log_blurred: Callable[[float, float], float] | None = None
    """Logarithm of the exact density of kappa plus a normal error, at a value and the error's standard deviation."""
    bends_in: float = 0.3
    """The exact law is smooth on this scale, cuts and limits included."""
    far: Callable[[float], FarLaw] | None = None
    """The same in closed form away from the law's cut, by the error's standard deviation."""
    expected: dict[int, Callable[[float], float]] = field(default_factory=dict, compare=False)
    """The expected ratio by the width of the normal, in steps of `SHARE_STEP`."""

    def expected_ratio_within(self, sd: float) -> Callable[[float], float]:
        """`log_expected_ratio` as a function of the mean, shared by all normals of about this standard deviation."""
        key = max(round((sd / self.sd) ** 2 / SHARE_STEP), 1)
        found = self.expected.get(key)
        if found is None:
            found = self.expected[key] = self._expected(min(key * SHARE_STEP, 0.999))
        return found

    def _expected(self, share: float) -> Callable[[float], float]:
        """For normals with this share of the stand-in's variance."""
        width, told = self.sd * sqrt(share), 1.0 - share
        blur = width / sqrt(told)
        step = told * min(0.5 * self.sd, sqrt(self.bends_in**2 + blur * blur))
        table = SmoothTable(lambda mean: self.log_expected_ratio(mean, width), step)
        if self.far is None:
            return table.at
        log_density, variance = self.far(blur).log_density, self.sd**2 + blur * blur
        level = 0.5 * log(variance) + 0.9189385332

        def at(mean: float) -> float:
            x = mean / told
            found = log_density(x)
            return found + 0.5 * x * x / variance + level if found is not None else table.at(mean)

        return at

    def log_expected_ratio(self, mean: float, sd: float) -> float:
        """Logarithm of the mean of that ratio where kappa is normal about `mean`.

        That normal is the stand-in times a normal likelihood, and the likelihood blurs the exact law. Where the blurred
        law is not known the ratio is summed, by closer nodes where the law may bend within the width of that normal.
        """
        ratio = self.log_ratio
        if self.log_blurred is not None:
            told = max(1.0 - (sd / self.sd) ** 2, 1e-4)
            at, blur = mean / told, sd / sqrt(told)
            variance = self.sd**2 + blur * blur
            return self.log_blurred(at, blur) + 0.5 * (at * at / variance + log(variance)) + 0.9189385332
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
        bends_in = 0.8 * self.temperature_sd if is_stated else 0.35 * self.batch_sd
        step = min(0.4 * self.sd, max(bends_in, 0.1 * self.batch_sd))
        self._own = SmoothTable(lambda kappa: _log_over_normal(self._density(kappa), kappa, self.sd), step)
        bends_in = sqrt(self.temperature_sd**2 + gain_frac**2 / 3.0) if is_stated else 0.7 * self.batch_sd
        blurred, far = (self._log_blurred, self.far) if is_stated else (None, None)
        self._this = ScaleLaw(self.centre_ohm, self.sd, self._own.at, blurred, bends_in, far)
        own = OwnScale(
            batch_sd=self.batch_sd,
            gain_frac=gain_frac,
            temperature_sd=self.temperature_sd,
            temperature_half=self.temperature_half,
        )
        another = self._another = AnotherHead(own, laws)
        self._other = SmoothTable(lambda at: log(max(another.density(exp(at)), _TINY)), 0.01)

    def of_this_head(self) -> ScaleLaw:
        """The scale of a head that is the one of the spec: one law for all arrangements, with what it has learnt."""
        return self._this

    def far(self, blur: float) -> FarLaw:
        """The law of kappa plus a normal error, away from the cut of the batch."""
        return FarLaw(self.batch_sd, self.temperature_sd, blur, self.gain_frac)

    def _log_blurred(self, kappa: float, blur: float) -> float:
        return log(max(self._density(kappa, blur), _TINY))

    def of_another_head(self, centre_ohm: float) -> ScaleLaw:
        """The scale of a head that is not the one of the spec, about what its readings say."""
        sd, relative = 0.1, centre_ohm / self.centre_ohm

        def log_ratio(kappa: float) -> float:
            k = relative * max(1.0 + kappa, 1e-3)
            return self._other.at(log(k)) + log(relative) + 0.5 * (kappa / sd) ** 2 + log(sd) + 0.9189385332

        return ScaleLaw(centre_ohm, sd, log_ratio)

    def is_like_no_other(self, scale_ohm: float) -> bool:
        """Whether readings of this scale are this head's, and none that another head has but by chance."""
        relative = scale_ohm / self.centre_ohm
        return abs(relative - 1.0) < 2.0 * self.sd and self._another.is_out_of_ranges(relative, 0.03)

    def of_what_is_left(self, centre_ohm: float, low: float, high: float) -> ScaleLaw:
        """The scale of a coil of which turns are shorted out: log-uniform between two shares of the spec's."""
        sd, relative, soft = 0.3, centre_ohm / self.centre_ohm, self.sd
        height = 1.0 / log(high / low)

        def log_ratio(kappa: float) -> float:
            left = relative * max(1.0 + kappa, 1e-3)
            inside = _phi(log(left / low) / soft) - _phi(log(left / high) / soft)
            return _log_over_normal(height * inside / max(1.0 + kappa, 1e-3), kappa, sd)

        return ScaleLaw(centre_ohm, sd, log_ratio)

    def _density(self, kappa: float, blur: float = 0.0) -> float:
        """Batch (normal, cut at three standard deviations) times temperature times gain: density of kappa.

        Near the cut of the batch the gain is taken by three Gauss-Legendre nodes; as normal, together with what is wide
        beside it.
        """
        gain_sd = self.gain_frac / sqrt(3.0)
        if self.temperature_half > 0.0:
            if gain_sd < 0.35 * self.batch_sd:
                return self._any_temperature(kappa, sqrt(self.batch_sd**2 + gain_sd**2))
        elif (found := self.far(blur).log_density(kappa)) is not None:
            return exp(found)
        elif self.temperature_sd**2 + blur * blur > (2.5 * gain_sd) ** 2:
            return smeared_density(kappa, self.batch_sd, sqrt(self.temperature_sd**2 + gain_sd**2), blur)
        total = 0.0
        for node, weight in ((-0.7745966692, 0.2777777778), (0.0, 0.4444444444), (0.7745966692, 0.2777777778)):
            gain = 1.0 + node * self.gain_frac
            x = (1.0 + kappa) / gain - 1.0
            if self.temperature_half > 0.0:
                total += weight / gain * self._any_temperature(x, self.batch_sd)
            else:
                total += weight / gain * smeared_density(x, self.batch_sd, self.temperature_sd, blur / gain)
        return total

    def _any_temperature(self, x: float, sd: float) -> float:
        """Batch times a temperature uniform in its limits: the integral of b's law over (1 + b), where F fits."""
        half = self.temperature_half
        low = min(max((1.0 + x) / (1.0 + half) - 1.0, -3.0 * sd), 3.0 * sd)
        high = min(max((1.0 + x) / (1.0 - half) - 1.0, -3.0 * sd), 3.0 * sd)
        if high <= low:
            return 0.0
        mass = _phi(high / sd) - _phi(low / sd)
        first = sd * (exp(-0.5 * (low / sd) ** 2) - exp(-0.5 * (high / sd) ** 2)) / sqrt(2.0 * pi)
        return max(0.0, mass * (1.0 + 0.973 * sd * sd) - first) / (KEPT * 2.0 * half)


def unknown_scale(centre_ohm: float) -> ScaleLaw:
    """The scale of a head without a spec: anything, so that only the windings' balance counts."""
    sd = 0.3

    def log_ratio(kappa: float) -> float:
        return _log_over_normal(1.0 / (LOG_WIDTH_OF_ANYTHING * max(1.0 + kappa, 1e-3)), kappa, sd)

    return ScaleLaw(centre_ohm, sd, log_ratio)
