"""Probability of the readings under a form: windings on a lattice, leads and size by Gauss-Legendre, exact laws.

The windings' common scale is integrated first: for given windings their normal law is a normal law in one over the
scale, so a few Gauss-Hermite points over the exact density of the scale do. What is left has at most four windings.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from math import exp, inf, log, pi, sqrt

import numpy as np
from numpy.polynomial.hermite_e import hermegauss
from numpy.polynomial.legendre import leggauss
from scipy.optimize import minimize_scalar
from tests.oracle.forms import Form
from tests.oracle.laws import TAIL_SHARE, Floats, ReadingLaw, log_scale

from fifthwire.diagnosis.winding.case import WindingCase, WindingLaws


@dataclass(frozen=True)
class Grid:
    """How fine the grids are."""

    step: float = 0.8
    """Of the lattice of windings, in standard deviations of what it is laid over."""
    radius: float = 5.2
    leads: int = 4
    lone_step: float = 0.6
    """The same for a form without a size, which has but one lattice."""
    size: int = 14
    """Nodes of each of the panels over the size."""
    scale: int = 9
    """Nodes over one over the scale."""


FINER_WITH_FEWER = (1.0, 0.08, 0.25, 0.55, 1.0)
"""Fewer windings leave points to spare; a meter with a fine last digit has sharp edges to resolve."""

COARSE = Grid(step=1.3, lone_step=1.3, radius=4.6, leads=2, size=10, scale=5)
USUAL = Grid()
FINE = Grid(step=0.55, lone_step=0.42, radius=5.6, leads=6, size=24, scale=15)


@lru_cache(maxsize=256)
def ball(n: int, step: float, radius: float, number: int = 0) -> Floats:
    """Points of a lattice within a ball. Each number shifts the lattice another way, so that errors do not add."""
    if n == 0:
        return np.zeros((1, 0))
    reach = int(radius / step) + 2
    shifts = np.mod(0.31 + number * np.sqrt([2.0, 3.0, 5.0, 7.0]), 1.0)[:n]
    axes = np.meshgrid(*((np.arange(-reach, reach + 1) + shift) * step for shift in shifts), indexing="ij")
    points = np.stack([axis.ravel() for axis in axes], axis=1)
    return points[(points**2).sum(axis=1) <= radius**2]


@dataclass(frozen=True)
class Normal:
    """A normal stand-in for the windings, and the log evidence it gives."""

    mean: Floats
    covariance: Floats
    log_evidence: float


class Evidence:
    """Evidence of forms for one case."""

    def __init__(self, case: WindingCase, laws: WindingLaws) -> None:
        assert case.spec is not None, "the oracle needs a spec"
        assert len(case.meter.ranges) == 1, "the oracle knows meters of one range"
        self.case, self.laws = case, laws
        self.law = ReadingLaw(case.meter.ranges[0], laws)
        self.shown = np.array([np.nan if r.ohm is None else r.ohm for r in case.readings])
        self.net = self.shown - case.meter.leads_ohm
        self._spec = case.spec

    @cached_property
    def own(self):
        """Law of the scale of the head the spec speaks of."""
        return log_scale(self._spec, self.case.head, self.case.meter.ranges[0])

    @cached_property
    def wrong(self):
        """Law of the scale of another head."""
        laws = self.laws
        ranges = ((1.0 - TAIL_SHARE, laws.wrong_head_factor), (TAIL_SHARE, laws.wrong_head_tail_factor))
        return log_scale(self._spec, self.case.head, self.case.meter.ranges[0], ranges)

    def scale_of(self, form: Form):
        """Law of the scale under a form."""
        return self.wrong if form.kind == "wrong" else self.own

    def scatter(self, form: Form) -> Floats:
        """Covariance of the windings' deviations from their scale."""
        bobbin = np.array(form.partner)
        same = (bobbin[:, None] == bobbin[None, :]).astype(float)
        return self.laws.winding_to_winding_frac**2 * np.eye(len(bobbin)) + self.laws.bobbin_to_bobbin_frac**2 * same

    # ---- the normal stand-in: where the lattice goes, and which forms are worth it

    def stand_in(self, form: Form, x: float, rounds: int = 4) -> Normal:
        """Normal laws of the same variances, the prediction straightened about the best windings."""
        read, n = list(form.read), len(form.partner)
        y = self.net[read] - self.law.mean
        m = len(read)
        noise = self.law.variance * np.eye(m) + self.laws.leads_within_ohm**2 / 3.0
        if m == 0:
            return Normal(np.zeros(0), np.zeros((0, 0)), 0.0)
        log_mean, log_sd = self.scale_of(form).mean_and_sd
        log_sd = min(log_sd, 0.6)
        centre = exp(log_mean)
        mean = np.full(n, centre)
        scale = centre
        for _ in range(rounds if n else 1):
            jacobian, at = self._straight(form, mean, x)
            prior = scale**2 * (self.scatter(form) if n else np.zeros((0, 0))) + (centre * log_sd) ** 2
            residual = y - at - jacobian @ (centre - mean)
            total = noise + jacobian @ prior @ jacobian.T
            gain = np.linalg.solve(total, jacobian @ prior).T
            mean = np.maximum(centre + gain @ residual, 1e-3 * centre)
            scale = float(mean.mean()) if n else centre
        covariance = prior - gain @ jacobian @ prior
        _, log_det = np.linalg.slogdet(total)
        log_evidence = -0.5 * float(residual @ np.linalg.solve(total, residual)) - 0.5 * (log_det + m * log(2.0 * pi))
        return Normal(mean, 0.5 * (covariance + covariance.T), log_evidence + m * log(self.law.resolution_ohm))

    def _straight(self, form: Form, mean: Floats, x: float) -> tuple[Floats, Floats]:
        """Jacobian and prediction at the mean, by differences (exact where the prediction is linear)."""
        n = len(mean)
        step = 1e-4 * np.maximum(np.abs(mean), 1.0)
        rows = np.vstack([mean[None, :], mean[None, :] + np.diag(step), mean[None, :] - np.diag(step)])
        reads = form.predicted(rows, x)
        return ((reads[1 : n + 1] - reads[n + 1 :]) / (2.0 * step[:, None])).T, reads[0]

    def _log_density_of_size(self, form: Form, t: float) -> float:
        assert form.size is not None
        for low, high, density in form.size.pieces:
            if low <= t <= high:
                return log(density)
        return -inf

    def rough(self, form: Form) -> tuple[float, float]:
        """Log evidence with the stand-in, and the best t: good to a nat or so, enough to leave out what is hopeless."""
        if form.size is None:
            return self.stand_in(form, 0.0).log_evidence, 0.0
        x_top, sd = self._top_of_line(form) if form.kind == "add" else self._top_by_search(form)
        t_top = log(x_top) if form.size.is_logarithm else x_top
        width = sd * sqrt(2.0 * pi) / (x_top if form.size.is_logarithm else 1.0)
        low, high = form.size.pieces[0][0], form.size.pieces[-1][1]
        top = self.stand_in(form, x_top).log_evidence
        return top + self._log_density_of_size(form, t_top) + log(min(width, high - low)), t_top

    def _limits(self, form: Form) -> tuple[float, float]:
        assert form.size is not None
        return self._size(form, form.size.pieces[0][0]), self._size(form, form.size.pieces[-1][1])

    def _top_of_line(self, form: Form) -> tuple[float, float]:
        """Best size and its standard deviation where readings are nearly straight in it: parabolas until they agree."""
        low, high = self._limits(form)
        at = min(max(self._leftover(form), low), high)
        reach = 0.25 * at
        for _ in range(12):
            left, middle, right = (self.stand_in(form, x, 3).log_evidence for x in (at - reach, at, at + reach))
            curve, slope = (left - 2.0 * middle + right) / reach**2, (right - left) / (2.0 * reach)
            if curve >= -1e-12:
                return self._top_by_search(form)
            found = min(max(at - slope / curve, low), high)
            settled = abs(found - at) < 0.1 / sqrt(-curve)
            at, reach = found, 1.0 / sqrt(-curve)
            if settled:
                fallen = max(abs(slope) * reach, 1.0) if at in (low, high) else 1.0  # at an edge it falls exponentially
                return at, reach / fallen
        return self._top_by_search(form)

    def _leftover(self, form: Form) -> float:
        """What the struck readings show over the same without the fault."""
        read = list(form.read)
        scale = exp(self.scale_of(form).mean_and_sd[0])
        plain = form.predicted(np.full((1, len(form.partner)), scale), 0.0)[0]
        added = np.array(form.added) > 0.0
        return float(np.mean((self.net[read] - plain)[added]))

    def _top_by_search(self, form: Form) -> tuple[float, float]:
        low, high = self._limits(form)
        is_log = form.size is not None and form.size.is_logarithm
        at = np.geomspace(low, high, 25) if is_log else np.linspace(low, high, 25)
        heights = np.array([self.stand_in(form, float(x), 3).log_evidence for x in at])
        best = int(np.argmax(heights))
        bracket = (at[max(best - 1, 0)], at[min(best + 1, len(at) - 1)])
        found = minimize_scalar(
            lambda x: -self.stand_in(form, x, 3).log_evidence, bounds=bracket, method="bounded", options={"xatol": 1e-5}
        )
        x, top = (float(found.x), -found.fun) if -found.fun > heights[best] else (float(at[best]), heights[best])
        step = 1e-3 * x
        curve = sum(self.stand_in(form, x + d, 3).log_evidence - top for d in (step, -step)) / step**2
        return x, min(1.0 / sqrt(-curve) if curve < 0.0 else high - low, high - low)

    def _size(self, form: Form, t: float) -> float:
        return exp(t) if form.size is not None and form.size.is_logarithm else t

    def _reach(self, form: Form, t_top: float, top: float, nats: float) -> tuple[float, float]:
        """Where the stand-in's evidence has fallen by so much, either way, within the law's limits."""
        assert form.size is not None
        ends = []
        for limit in (form.size.pieces[0][0], form.size.pieces[-1][1]):
            near, far = t_top, limit
            if self.stand_in(form, self._size(form, limit), 3).log_evidence > top - nats:
                ends.append(limit)
                continue
            for _ in range(26):
                middle = 0.5 * (near + far)
                if self.stand_in(form, self._size(form, middle), 3).log_evidence > top - nats:
                    near = middle
                else:
                    far = middle
            ends.append(far)
        return ends[0], ends[1]

    # ---- the exact evidence

    def log_evidence(self, form: Form, grid: Grid = USUAL) -> float:
        """Logarithm of the probability of what the meter showed."""
        if not form.read:
            return 0.0
        if form.size is None:
            return _log(self._of_windings(form, 0.0, grid))
        _, t_top = self.rough(form)
        top = self.stand_in(form, self._size(form, t_top)).log_evidence
        low, high = self._reach(form, t_top, top, 40.0)
        for _ in range(2):  # first coarsely, to see where the weight lies
            low, high = self._with_weight(form, self._panels(form, low, t_top, high, COARSE.size), low, high)
        total = 0.0
        for number, (t, weight) in enumerate(self._panels(form, low, t_top, high, grid.size)):
            total += weight * self._of_windings(form, self._size(form, t), grid, number % 16)
        return _log(total)

    def _panels(self, form: Form, low: float, middle: float, high: float, n: int) -> list[tuple[float, float]]:
        """Gauss-Legendre nodes of t with the law's density in the weights; cut where the law has an edge."""
        assert form.size is not None
        nodes, weights = leggauss(n)
        edges = sorted({low, high, min(max(0.5 * (low + high), low), high)})
        found = []
        for piece_low, piece_high, density in form.size.pieces:
            cuts = [edge for edge in edges if piece_low < edge < piece_high]
            cuts = [max(piece_low, low), *[c for c in cuts if low < c < high], min(piece_high, high)]
            for left, right in pairwise(cuts):
                if right > left:
                    half = 0.5 * (right - left)
                    found += [(left + half * (1 + a), density * half * b) for a, b in zip(nodes, weights, strict=True)]
        return found

    def _with_weight(
        self, form: Form, panels: list[tuple[float, float]], low: float, high: float
    ) -> tuple[float, float]:
        """The part of the range outside of which nothing weighs."""
        nodes = sorted(panels)
        heights = np.array([self._of_windings(form, self._size(form, t), COARSE) for t, _ in nodes])
        if not heights.any():
            return low, high
        heavy = np.nonzero(heights > 1e-9 * heights.max())[0]
        first, last = int(heavy[0]), int(heavy[-1])
        left = low if first == 0 else nodes[first - 1][0]
        right = high if last == len(nodes) - 1 else nodes[last + 1][0]
        return left, right

    def _of_windings(self, form: Form, x: float, grid: Grid, number: int = 0) -> float:
        """Integral over windings, leads and scale at one size of the fault."""
        normal = self.stand_in(form, x)
        n = len(normal.mean)
        mean, covariance = normal.mean, normal.covariance * 1.2
        for _ in range(
            2 if n and grid is not COARSE else 0
        ):  # lay the lattice over what is really there, not over its stand-in
            points, _ = self._lattice(mean, covariance, COARSE.step, COARSE.radius)
            weights = self._integrand(form, points, x, COARSE)
            whole = weights.sum()
            if whole <= 0.0:
                break
            weights = weights / whole
            mean = weights @ points
            spread = (points - mean).T @ ((points - mean) * weights[:, None])
            covariance = 1.1 * spread + 0.02 * normal.covariance
        step = (grid.step if form.size is not None else grid.lone_step) * FINER_WITH_FEWER[n]
        points, cell = self._lattice(mean, covariance, step, grid.radius, number)
        return float(self._integrand(form, points, x, grid).sum()) * cell

    def _lattice(
        self, mean: Floats, covariance: Floats, step: float, radius: float, number: int = 0
    ) -> tuple[Floats, float]:
        n = len(mean)
        if n == 0:
            return np.zeros((1, 0)), 1.0
        lower = np.linalg.cholesky(covariance + 1e-14 * np.trace(covariance) * np.eye(n))
        points = mean + ball(n, step, radius, number) @ lower.T
        return points, step**n * float(np.prod(np.diag(lower)))

    def _integrand(self, form: Form, w: Floats, x: float, grid: Grid) -> Floats:
        over = self.net[list(form.read)] - form.predicted(w, x)
        nodes, weights = leggauss(grid.leads + (3 if self.law.digits_ohm < 0.06 else 0))
        total = np.zeros(len(w))
        for node, weight in zip(nodes, weights, strict=True):
            likelihood = self.law.mass(over[:, 0] - node * self.laws.leads_within_ohm)
            for k in range(1, over.shape[1]):
                likelihood *= self.law.mass(over[:, k] - node * self.laws.leads_within_ohm)
            total += 0.5 * weight * likelihood
        if w.shape[1]:
            alive = total > 0.0
            total[alive] *= self._prior(form, w[alive], grid)
        return total

    def _prior(self, form: Form, w: Floats, grid: Grid) -> Floats:
        """Density of the windings, their scale integrated."""
        scale, scatter = self.scale_of(form), self.scatter(form)
        n = w.shape[1]
        inverse = np.linalg.inv(scatter)
        a = np.einsum("ij,jk,ik->i", w, inverse, w)
        b = w @ inverse.sum(axis=0)
        d = float(inverse.sum())
        centre, sd = b / a, 1.0 / np.sqrt(a)
        nodes, weights = hermegauss(grid.scale)
        found = np.zeros(len(w))
        for node, weight in zip(nodes, weights, strict=True):
            u = np.maximum(centre + node * sd, 1e-9)
            found += weight * u ** (n - 1) * scale.at(-np.log(u))
        constant = 1.0 / sqrt((2.0 * pi) ** n * float(np.linalg.det(scatter)))
        return constant * np.exp(-0.5 * np.maximum(d - b * b / a, 0.0)) * found * sd


def _log(value: float) -> float:
    return log(value) if value > 0.0 else -inf
