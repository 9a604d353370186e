"""The windings' resistances from the readings, for one arrangement and no fault in the way.

The windings deviate from the scale's centre by d, normal with covariance N²(s² 11' + scatter); the readings see them
through columns of the Gram matrix. What comes out is the posterior of d and the evidence of the arrangement:

.. math:: V = (P_0 + G)^{-1}, \\quad d = V g, \\quad
          \\ln p(y) = -\\tfrac12 (r'r - g'd) - \\tfrac12 (\\ln\\det(P_0 + G) - \\ln\\det P_0) + const
"""

from dataclasses import dataclass
from math import log

from fifthwire.model.record import record

Matrix = list[list[float]]


@record(kw_only=False)
class Scatter:
    """How the windings of one head differ from each other, as fractions of their resistance."""

    alone: float
    bobbin: float
    is_shared: bool
    """Whether windings 1, 2 and 3, 4 share a bobbin."""


@dataclass(frozen=True, slots=True)
class Prior:
    """Inverse prior covariance of the windings' deviations."""

    precision: Matrix
    log_det_precision: float
    to_kappa: float
    """kappa's mean is this times the sum of the deviations."""
    kappa_var_alone: float
    """kappa's variance where the deviations are known."""
    scatter_ohm: float
    """The resistance whose scatter this is. [Ω]"""
    rho: float
    """Precision of the scatter along windings that are all alike."""
    down: float
    """What the unknown scale takes off every element of the precision."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Posterior of the windings' deviations from `centre_ohm`."""

    centre_ohm: float
    prior: Prior
    deviation: list[float]
    covariance: Matrix
    log_evidence: float

    def kappa(self) -> tuple[float, float]:
        """Mean and variance of the scale's relative deviation."""
        to_kappa = self.prior.to_kappa
        total = sum(map(sum, self.covariance))
        return to_kappa * sum(self.deviation), self.prior.kappa_var_alone + to_kappa**2 * total


def prior_of(n_windings: int, scatter: Scatter, scatter_ohm: float, scale_sd_ohm: float, centre_ohm: float) -> Prior:
    """Prior of `n_windings` deviations: scatter about a resistance of `scatter_ohm`, a scale of `scale_sd_ohm`."""
    alone = (scatter.alone * scatter_ohm) ** 2
    bobbin = (scatter.bobbin * scatter_ohm) ** 2
    if scatter.is_shared:
        determinant = alone * (alone + 2.0 * bobbin)
        own, other = (alone + bobbin) / determinant, -bobbin / determinant
        rho = own + other
        log_det = -0.5 * n_windings * log(determinant)
    else:
        own, other = 1.0 / (alone + bobbin), 0.0
        rho = own
        log_det = n_windings * log(own)
    variance = scale_sd_ohm**2
    spread = 1.0 + n_windings * variance * rho
    down = rho * rho * variance / spread
    precision = [
        [(own if i == j else other if i // 2 == j // 2 else 0.0) - down for j in range(n_windings)]
        for i in range(n_windings)
    ]
    kappa_sd = scale_sd_ohm / centre_ohm
    to_kappa = kappa_sd * scale_sd_ohm * rho / spread
    return Prior(precision, log_det - log(spread), to_kappa, kappa_sd**2 / spread, scatter_ohm, rho, down)


def product(matrix: Matrix, vector: list[float]) -> list[float]:
    """A matrix times a vector; of four, written out."""
    if len(vector) == 4:
        a, b, c, d = vector
        return [p * a + q * b + r * c + s * d for p, q, r, s in matrix]
    return [sum([p * x for p, x in zip(row, vector, strict=True)]) for row in matrix]


def fit(prior: Prior, centre_ohm: float, gram: Matrix, g: list[float], squared: float) -> Fit:
    """Posterior given the columns' Gram matrix, their products `g` with the residual, and its square."""
    if len(g) == 4:
        total = [[p + a, q + b, r + c, s + d] for (p, q, r, s), (a, b, c, d) in zip(prior.precision, gram, strict=True)]
    else:
        total = [[p + q for p, q in zip(*rows, strict=True)] for rows in zip(prior.precision, gram, strict=True)]
    for index, row in enumerate(total):
        row[index] = max(row[index], prior.precision[index][index])  # a square, however it was rounded
    covariance, log_det = inverse(total)
    deviation = product(covariance, g)
    explained = sum([x * d for x, d in zip(g, deviation, strict=True)])
    evidence = -0.5 * (squared - explained) - 0.5 * (log_det - prior.log_det_precision)
    return Fit(centre_ohm, prior, deviation, covariance, evidence)


def inverse(m: Matrix) -> tuple[Matrix, float]:
    """Inverse and logarithm of the determinant of a symmetric positive matrix of one, two or four rows."""
    if len(m) == 1:
        return [[1.0 / m[0][0]]], log(m[0][0])
    if len(m) == 2:
        (a, b), (_, c) = m
        det = _positive(a * c - b * b, a * c)
        return [[c / det, -b / det], [-b / det, a / det]], log(det)
    return _inverse_of_four(m)


def _positive(determinant: float, scale: float) -> float:
    return max(determinant, 1e-14 * scale)


def _inverse_of_four(m: Matrix) -> tuple[Matrix, float]:
    """Two by two blocks: A, B over B', C."""
    (a, b, e, f), (_, c, g, h), (_, _, p, q), (_, _, _, r) = m
    det_a = _positive(a * c - b * b, a * c)
    ia, ib, ic = c / det_a, -b / det_a, a / det_a
    # X = A^-1 B
    x00, x01 = ia * e + ib * g, ia * f + ib * h
    x10, x11 = ib * e + ic * g, ib * f + ic * h
    # S = C - B' X
    s00 = _positive(p - e * x00 - g * x10, p)
    s01 = q - e * x01 - g * x11
    s11 = _positive(r - f * x01 - h * x11, r)
    det_s = _positive(s00 * s11 - s01 * s01, abs(s00 * s11))
    t00, t01, t11 = s11 / det_s, -s01 / det_s, s00 / det_s
    # Y = X S^-1
    y00, y01 = x00 * t00 + x01 * t01, x00 * t01 + x01 * t11
    y10, y11 = x10 * t00 + x11 * t01, x10 * t01 + x11 * t11
    v01 = ib + y00 * x10 + y01 * x11
    return [
        [ia + y00 * x00 + y01 * x01, v01, -y00, -y01],
        [v01, ic + y10 * x10 + y11 * x11, -y10, -y11],
        [-y00, -y10, t00, t01],
        [-y01, -y11, t01, t11],
    ], log(det_a) + log(det_s)
