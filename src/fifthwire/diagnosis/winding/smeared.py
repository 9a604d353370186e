"""Density of the batch's law, cut at three standard deviations, times one that is normal.

The factors are multiplied, not added: adding them, which has a closed form, is 7 % low or high at two standard
deviations and 40 % at three where the temperature is known to 15 K.
"""

from math import exp, pi, sqrt
from typing import Final

from fifthwire.diagnosis.winding.sites import NODES

KEPT: Final = 0.9973002
"""Of a normal law, the part within three standard deviations."""

_ROOT_2_PI: Final = sqrt(2.0 * pi)


def smeared_density(x: float, sd: float, width: float, blur: float = 0.0) -> float:
    """Density at x of (1 + b)(1 + t) - 1 + e; b normal and cut at 3 `sd`, t normal of `width`, e normal of `blur`.

    Where the two laws meet far from the cut their product is all but normal; near it, it is summed over b by twelve
    Gauss-Legendre nodes up to the cut.
    """
    total_sd = sqrt(width * width + blur * blur)
    if total_sd < 1e-9:
        return exp(-0.5 * (x / sd) ** 2) / (KEPT * sd * _ROOT_2_PI) if abs(x) <= 3.0 * sd else 0.0
    square = sd * sd
    wide = width * (1.0 + x * square / (square + total_sd * total_sd))
    wide_square = wide * wide + blur * blur
    variance = square + wide_square
    if x * x > 200.0 * variance:
        return 0.0
    mean, narrow = x * square / variance, sd * sqrt(wide_square / variance)
    if abs(mean) + 4.0 * narrow < 3.0 * sd:
        return _far_from_the_cut(x, square, width, wide_square, blur)
    blurred, sharp = blur * blur, 0.5 / square
    total = 0.0
    nearest = min(max(mean, -3.0 * sd), 3.0 * sd)  # beyond the cut the product falls off from the edge inward
    depth = narrow * min(5.0, 10.0 / (1.0 + abs(mean - nearest) / narrow))
    low, high = max(-3.0 * sd, nearest - depth), min(3.0 * sd, nearest + depth)
    middle, half = 0.5 * (low + high), 0.5 * (high - low)
    for node, weight in NODES:
        b = middle + half * node
        spread = width * (1.0 + b)
        v = spread * spread + blurred
        total += weight * exp(-0.5 * (x - b) ** 2 / v - sharp * b * b) / sqrt(v)
    return half * total / (2.0 * pi * sd * KEPT)


def _far_from_the_cut(x: float, square: float, width: float, wide_square: float, blur: float) -> float:
    """The normal law, with the first two terms of how the width of t goes with b.

    With u = b - mean of the product, r = x - that mean, v the variance of x given b and v' = 2 h v its slope, the
    logarithm of the product changes by h u ((r - u)²/v - 1) + ...; of that the mean, to the second order of h.
    """
    variance = square + wide_square
    density = exp(-0.5 * x * x / variance) / (KEPT * sqrt(variance) * _ROOT_2_PI)
    spread = square * wide_square / variance
    temperature = wide_square - blur * blur
    slope = sqrt(temperature) * width / wide_square
    z2 = x * x * wide_square / (variance * variance)
    first = -2.0 * slope * x * spread / variance
    second = 0.5 * slope * slope * spread * ((z2 - 1.0) ** 2 + 2.0)
    return density * exp(first + second)
