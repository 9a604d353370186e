"""Density of the batch's law, cut at three standard deviations, times one that is normal.

The factors are multiplied, not added: adding them, which has a closed form, is 7 % low or high at two standard
deviations and 40 % at three where the temperature is known to 15 K.
"""

from math import exp, pi, sqrt
from typing import Final

from fifthwire.diagnosis.winding.sites import NODES

KEPT: Final = 0.9973002
"""Of a normal law, the part within three standard deviations."""

_HERMITE_5: Final = (
    (-2.8569700138728, 0.0112574113277),
    (-1.3556261799743, 0.2220759220057),
    (0.0, 0.5333333333333),
    (1.3556261799743, 0.2220759220057),
    (2.8569700138728, 0.0112574113277),
)
_ROOT_2_PI: Final = sqrt(2.0 * pi)


def smeared_density(x: float, sd: float, width: float, blur: float = 0.0) -> float:
    """Density at x of (1 + b)(1 + t) - 1 + e; b normal and cut at 3 `sd`, t normal of `width`, e normal of `blur`.

    Summed over b where the two laws meet: their product is narrow and all but normal. Where the cut is far, by five
    Gauss-Hermite nodes, else by twelve of Gauss-Legendre up to the cut.
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
    blurred, sharp = blur * blur, 0.5 / square
    total = 0.0
    if narrow < 0.35 * sd and abs(mean) + 5.0 * narrow < 3.0 * sd:
        for node, weight in _HERMITE_5:
            b = mean + narrow * node
            spread = width * (1.0 + b)
            v = spread * spread + blurred
            total += weight * exp(0.5 * (node * node - (x - b) ** 2 / v) - sharp * b * b) / sqrt(v)
        return narrow * total / (_ROOT_2_PI * sd * KEPT)
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
