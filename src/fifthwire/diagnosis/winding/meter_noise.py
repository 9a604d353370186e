"""What a meter adds to one reading: touch of the probes, digits and rounding, as one law.

The touch is half-normal, the digits and the rounding uniform. Their sum has hard limits at both ends, so it is not
treated as normal where a verdict hangs on it.
"""

from math import erf, exp, pi, sqrt

from fifthwire.diagnosis.winding.case import MeterLaw, RangeLaw
from fifthwire.model.record import record


@record(kw_only=False)
class NoiseLaw:
    """Mean, variance, and half-widths of the two uniform errors of a reading. [Ω]"""

    mean_ohm: float
    variance: float
    touch_ohm: float
    digits_ohm: float
    rounding_ohm: float

    def limits(self) -> tuple[float, float]:
        """Errors beyond these do not occur. [Ω]"""
        half = self.digits_ohm + self.rounding_ohm
        return -half, half + 4.5 * self.touch_ohm

    def density(self, error_ohm: float) -> float:
        r"""Density of the sum of touch, digits and rounding.

        With :math:`I(t)` the integral of the distribution function of the half-normal touch, the density is a second
        difference of it over the two half-widths.
        """
        a, r = self.digits_ohm, self.rounding_ohm
        rise = self.integral(error_ohm + a + r) - self.integral(error_ohm + a - r)
        fall = self.integral(error_ohm - a + r) - self.integral(error_ohm - a - r)
        return max(0.0, (rise - fall) / (4.0 * a * r))

    def integral(self, t: float) -> float:
        """Integral of the touch's distribution function from 0."""
        if t <= 0.0:
            return 0.0
        scale = self.touch_ohm
        return t * erf(t / (scale * sqrt(2.0))) + scale * sqrt(2.0 / pi) * (exp(-0.5 * (t / scale) ** 2) - 1.0)


def noise_law(law: RangeLaw, touch_ohm: float) -> NoiseLaw:
    """Law of one reading's own error on one range of the meter.

    A meter without digits or resolution keeps a floor of a few milliohm: no reading is exact.
    """
    touch = max(touch_ohm, 1e-3)
    digits = max(law.digits * law.resolution_ohm, 2e-3)
    rounding = max(0.5 * law.resolution_ohm, 1e-3)
    variance = digits**2 / 3.0 + rounding**2 / 3.0 + touch**2 * (1.0 - 2.0 / pi)
    return NoiseLaw(touch * sqrt(2.0 / pi), variance, touch, digits, rounding)


def range_for(meter: MeterLaw, ohm: float) -> RangeLaw:
    """The range a reading was taken on: the smallest that reaches it, else the largest there is."""
    fitting = [law for law in meter.ranges if law.to_ohm >= ohm]
    if fitting:
        return min(fitting, key=lambda law: law.to_ohm)
    return max(meter.ranges, key=lambda law: law.to_ohm)
