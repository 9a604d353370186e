"""A few values of a reading's own error that stand for its whole law: their moments are the law's.

Where all else that is known of a reading is wider than its own error, the sum over seven such values is exact to a
thousandth and better, and shorter than any sum over a table of the density, whose edges fall between its points.
"""

from functools import lru_cache
from itertools import pairwise
from math import comb, pi, sqrt
from typing import Final

from fifthwire.diagnosis.winding.meter_noise import NoiseLaw

N_NODES: Final = 7
"""Nodes of a law; the moments up to twice as many less one are the law's."""

Nodes = tuple[tuple[float, float], ...]
"""Errors and their weights. [Ω, 1]"""


@lru_cache(maxsize=32)
def noise_nodes(law: NoiseLaw) -> Nodes:
    """Gauss's rule for the law of one reading's error: values counted from 0, not from the mean, and their weights."""
    sd = sqrt(law.variance)
    return tuple([(law.mean_ohm + sd * x, w) for x, w in gauss_rule(_moments(law, sd, 2 * N_NODES))])


def _moments(law: NoiseLaw, sd: float, n: int) -> list[float]:
    """Moments of the error over its mean, in standard deviations: touch, digits and rounding are independent."""
    touch = _half_normal(law.touch_ohm / sd, n)
    return _of_sum(_of_sum(touch, _even(law.digits_ohm / sd, n)), _even(law.rounding_ohm / sd, n))


def _even(half_width: float, n: int) -> list[float]:
    """Moments of an error that is uniform within a limit."""
    return [0.0 if k % 2 else half_width**k / (k + 1.0) for k in range(n)]


def _half_normal(scale: float, n: int) -> list[float]:
    """Moments of a half-normal error about its mean."""
    mean = scale * sqrt(2.0 / pi)
    plain = [1.0, mean]
    for k in range(2, n):
        plain.append((k - 1) * scale * scale * plain[k - 2])
    return _of_sum(plain, [(-mean) ** k for k in range(n)])


def _of_sum(a: list[float], b: list[float]) -> list[float]:
    """Moments of the sum of two independent errors."""
    return [sum([comb(k, j) * a[j] * b[k - j] for j in range(k + 1)]) for k in range(len(a))]


def gauss_rule(moments: list[float]) -> list[tuple[float, float]]:
    """Nodes and weights of the rule with the moments of a law, half as many as there are moments."""
    alpha, beta = _recurrence(moments)
    roots: list[float] = []
    for degree in range(1, len(alpha) + 1):
        roots = _next_roots(alpha[:degree], beta, roots, 1e-10 if degree == len(alpha) else 1e-3)
    return [(x, 1.0 / sum([p * p for p in _polynomials(alpha, beta, x)[:-1]])) for x in roots]


def _recurrence(moments: list[float]) -> tuple[list[float], list[float]]:
    """Coefficients of the three-term recurrence of a law's polynomials, by Chebyshev's algorithm."""
    n = len(moments) // 2
    alpha, beta = [moments[1] / moments[0]], [moments[0]]
    before, row = [0.0] * (2 * n), list(moments)
    for k in range(1, n):
        found = [0.0] * (2 * n)
        for j in range(k, 2 * n - k):
            found[j] = row[j + 1] - alpha[k - 1] * row[j] - beta[k - 1] * before[j]
        alpha.append(found[k + 1] / found[k] - row[k] / row[k - 1])
        beta.append(found[k] / row[k - 1])
        before, row = row, found
    return alpha, beta


def _polynomials(alpha: list[float], beta: list[float], x: float) -> list[float]:
    """Normed polynomials of a law at x, but the last, which is not normed."""
    found, before = [1.0], 0.0
    for k, a in enumerate(alpha):
        norm = sqrt(beta[k + 1]) if k + 1 < len(alpha) else 1.0
        down = sqrt(beta[k]) if k else 0.0
        found.append(((x - a) * found[k] - down * before) / norm)
        before = found[k]
    return found


def _next_roots(alpha: list[float], beta: list[float], roots: list[float], within: float) -> list[float]:
    """Roots of the polynomial of the next degree: one on either side of each root of the one before."""
    width = 2.0 + max(map(abs, alpha)) + 2.0 * sqrt(max(beta[: len(alpha)]))
    walls = [-width, *roots, width]
    return [_root(alpha, beta, low, high, within) for low, high in pairwise(walls)]


def _root(alpha: list[float], beta: list[float], low: float, high: float, within: float) -> float:
    """The root between two walls, by false position that halves the wall which does not move."""
    at_low, at_high = _last(alpha, beta, low), _last(alpha, beta, high)
    x = before = low
    for _ in range(60):
        x, before = (low * at_high - high * at_low) / (at_high - at_low), x
        at = _last(alpha, beta, x)
        if abs(x - before) < within or at == 0.0:
            break
        if (at > 0.0) == (at_high > 0.0):
            high, at_high, at_low = x, at, 0.5 * at_low
        else:
            low, at_low, at_high = x, at, 0.5 * at_high
    return x


def _last(alpha: list[float], beta: list[float], x: float) -> float:
    """The polynomial of highest degree, its leading coefficient 1."""
    value, before = 1.0, 0.0
    for a, b in zip(alpha, beta, strict=False):
        value, before = (x - a) * value - b * before, value
    return value
