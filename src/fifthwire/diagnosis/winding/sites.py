"""Expectation propagation over the exact laws of each reading's error and of the leads.

The normal answer takes every error as normal. Where a verdict hangs on it, each error is put back as the law it is: in
turn the reading's normal stand-in is taken out, the exact law put in, and a new normal fitted to the first two moments.
Coordinates are counted from the normal answer, so that nothing large cancels.
"""

from dataclasses import dataclass
from math import exp, log, pi, sqrt

from fifthwire.diagnosis.winding.base_fit import Matrix
from fifthwire.diagnosis.winding.error_law import ErrorLaw

# Gauss-Legendre on (-1, 1), positive half.
_LEGENDRE_HALF = (
    (0.1252334085114689, 0.2491470458134028),
    (0.3678314989981802, 0.2334925365383548),
    (0.5873179542866175, 0.2031674267230659),
    (0.7699026741943047, 0.1600783285433462),
    (0.9041172563704749, 0.1069393259953184),
    (0.9815606342467192, 0.0471753363865118),
)
NODES = tuple([(-x, w) for x, w in reversed(_LEGENDRE_HALF)] + list(_LEGENDRE_HALF))
"""Abscissas and weights of the twelve-point Gauss-Legendre rule."""

N_SWEEPS = 2
"""Times a site is visited."""

STILL = 0.02
"""A site that moved less is not visited again.  [standard deviations]"""


@dataclass(slots=True)
class Site:
    """One exact law along one direction of the unknowns, and the normal that stands for it."""

    direction: list[tuple[int, float]]
    """Unknowns that the error depends on, and how much."""
    at_zero: float
    """The error where all unknowns are 0; it falls by the direction. [Ω]"""
    law: ErrorLaw
    tau: float
    nu: float
    log_scale: float


class Propagation:
    """A normal over the unknowns, kept up to date while sites change."""

    def __init__(self, covariance: Matrix, sites: list[Site]) -> None:
        self.covariance = covariance
        n = len(covariance)
        self.mean = [0.0] * n
        self.eta = [0.0] * n
        self.half_log_det = 0.0
        self.sites = sites
        self.log_before = sum([site.log_scale for site in sites])

    def run(self) -> None:
        """Visit every site, and once more those that moved."""
        left = self.sites
        for _ in range(N_SWEEPS):
            left = [site for site in left if self._visit(site) > STILL]
            if not left:
                break

    def log_gain(self) -> float:
        """Logarithm of the evidence over that of the normal answer."""
        quadratic = sum([m * e for m, e in zip(self.mean, self.eta, strict=True)])
        return sum([site.log_scale for site in self.sites]) - self.log_before + 0.5 * quadratic + self.half_log_det

    def _visit(self, site: Site) -> float:
        """Fit one site anew; how far it moved, in standard deviations."""
        direction, mean = site.direction, self.mean
        su = [sum([row[i] * x for i, x in direction]) for row in self.covariance]
        v = sum([su[i] * x for i, x in direction])
        m = sum([mean[i] * x for i, x in direction])
        left = 1.0 - site.tau * v
        if left < 0.004:
            return 0.0
        cavity_var = v / left
        cavity_mean = (m - v * site.nu) / left
        moments = _tilted(cavity_mean, cavity_var, site)
        if moments is None:
            return 0.0
        log_z, new_mean, var = moments
        tau = 1.0 / var - 1.0 / cavity_var
        nu = new_mean / var - cavity_mean / cavity_var
        d_tau, d_nu = tau - site.tau, nu - site.nu
        spread = 1.0 + d_tau * v
        if spread <= 1e-3:
            return 0.0
        site.tau, site.nu = tau, nu
        site.log_scale = log_z - 0.5 * (log(var / cavity_var) + new_mean**2 / var - cavity_mean**2 / cavity_var)
        step = (d_nu - d_tau * m) / spread
        shrink = d_tau / spread
        self.mean = [x + s * step for x, s in zip(mean, su, strict=True)]
        for i, x in direction:
            self.eta[i] += d_nu * x
        self.covariance = [
            [c - k * s for c, s in zip(row, su, strict=True)]
            for row, k in zip(self.covariance, [shrink * s for s in su], strict=True)
        ]
        self.half_log_det -= 0.5 * log(spread)
        return abs(step) * sqrt(v)


def _tilted(cavity_mean: float, cavity_var: float, site: Site) -> tuple[float, float, float] | None:
    """Logarithm of the mass, mean and variance of the cavity's normal times the exact law."""
    found = blurred(site.at_zero - cavity_mean, cavity_var, site.law)
    if found is None:
        return None
    mass, off, var = found
    return log(mass) - 0.5 * log(2.0 * pi * cavity_var), cavity_mean - off, var


def blurred(centre: float, variance: float, law: ErrorLaw) -> tuple[float, float, float] | None:
    """The exact law times exp(-(error - centre)²/2 variance): mass, mean over the centre and variance of the error.

    None where the two do not meet.
    """
    if variance >= law.wide_var:
        return _by_nodes(centre, variance, law)
    return _between_edges(centre, variance, law)


def _by_nodes(centre: float, cavity_var: float, law: ErrorLaw) -> tuple[float, float, float] | None:
    """Mass, mean over the centre and variance, by the few errors that stand for the law."""
    sharp = -0.5 / cavity_var
    total = one = two = 0.0
    for error, weight in law.nodes:
        d = error - centre
        p = weight * exp(sharp * d * d)
        total += p
        p *= d
        one += p
        two += p * d
    if total <= 1e-280:
        return None
    one /= total
    var = two / total - one * one
    return (total, one, var) if var > 1e-14 else None


def _between_edges(centre: float, cavity_var: float, law: ErrorLaw) -> tuple[float, float, float] | None:
    """The same where the cavity is narrow beside the law, whose edges then show."""
    table = law.table
    sd = sqrt(cavity_var)
    low, high = max(table.low, centre - 5.5 * sd), min(table.high, centre + 5.5 * sd)
    if high - low <= 1e-9:
        return None
    half, middle = 0.5 * (high - low), 0.5 * (high + low)
    logs, first, per_step = table.logs, table.low, table.per_step
    sharp = 0.5 / cavity_var
    last = len(logs) - 2
    total = one = two = 0.0
    for x, w in NODES:
        error = middle + half * x
        place = (error - first) * per_step
        index = int(place)
        if index > last:
            index = last
        at = logs[index]
        p = w * exp(at + (place - index) * (logs[index + 1] - at) - sharp * (error - centre) ** 2)
        d = error - middle
        total += p
        one += p * d
        two += p * d * d
    if total <= 1e-280:
        return None
    one /= total
    var = two / total - one * one
    return (total * half, middle + one - centre, var) if var > 1e-14 else None


def normal_site(
    direction: list[tuple[int, float]], residual: float, mean: float, variance: float, law: ErrorLaw
) -> Site:
    """A site as the normal answer has it: an error of `residual` over its mean."""
    tau = 1.0 / variance
    nu = tau * residual
    log_scale = 0.5 * log(tau / (2.0 * pi)) - 0.5 * nu * residual
    return Site(direction, residual + mean, law, tau, nu, log_scale)
