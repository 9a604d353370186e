"""What the hypotheses under one class of arrangements share: the base fit, its scale, what a fault may gain on it."""

from math import exp, log

from fifthwire.diagnosis.winding.arrangements import ArrangementClass, Layout
from fifthwire.diagnosis.winding.base_fit import Fit, Prior, Scatter, fit, prior_of, product
from fifthwire.diagnosis.winding.bridge import LEAST_LEFT
from fifthwire.diagnosis.winding.column import log_uniform
from fifthwire.diagnosis.winding.hypothesis import Column, Hypothesis
from fifthwire.diagnosis.winding.patterns import Pattern
from fifthwire.diagnosis.winding.scale import ScaleLaw, unknown_scale
from fifthwire.diagnosis.winding.weighing import Weighing

DEAD_BELOW = 60.0
"""So far below, a fault need not be tried again with the bobbins shared otherwise. [nat]"""

RATIO_BOUND = 1.0
"""The exact law of the scale exceeds its stand-in by no more than this. [nat]"""

SCATTER_STEP = 0.02
"""The scatter is that of the resistance found, in steps of this share; the rest is put right by `scatter_pull`. [1]"""

BRIDGE_TAIL_SHARE = 0.02
"""Of bridges, the share between 200 ohm and 20 kohm. Judgement."""


class Under:
    """One class of arrangements and the base fit that its hypotheses share."""

    def __init__(
        self,
        weighing: Weighing,
        name: str,
        layout: Layout,
        klass: ArrangementClass,
        pattern: Pattern,
        log_prior: float,
        shares: dict[str, float],
    ) -> None:
        self.weighing, self.head, self.layout, self.klass = weighing, weighing.head, layout, klass
        self.name, self.pattern, self.shares, self.log_prior = name, pattern, shares, log_prior
        self.member = klass.members[0]
        self.ends = [self.member[position] for position in layout.ends]
        self.hub = tuple([self.member[position] for position in layout.commons])
        matrix = self.head.gram.matrix
        self.gram = [[matrix[a][b] for b in self.ends] for a in self.ends]
        laws = self.head.laws
        self.scatter = Scatter(laws.winding_to_winding_frac, laws.bobbin_to_bobbin_frac, layout.one_bobbin)
        spec_scale = self.head.spec_scale
        self.scale = spec_scale.of_this_head() if spec_scale else unknown_scale(self.scale_of_readings())
        self.has_twins = name == "unipolar-5"
        """Whether other arrangements differ from this one by the bobbins alone."""
        self.n_tried = 0
        """Faults whose readings could tell, among them the wrong head."""
        self.beyond: list[int] = []
        """Readings that the base fit cannot reach, where there are any."""
        self.fits: dict[tuple[float, float, int], Fit] = {}
        self.bridge_law = log_uniform(*laws.bridge_ohm, laws.bridge_tail_ohm, BRIDGE_TAIL_SHARE)

    def scale_of_readings(self) -> float:
        """Least-squares resistance of one winding, were all alike. [Ω]"""
        h = self.head.gram.with_readings
        total = sum(map(sum, self.gram))
        return max(sum(h[end] for end in self.ends) / total, 1e-3) if total > 1e-9 else 50.0

    def make_base(self) -> None:
        """The fit that all hypotheses but the wrong head start from."""
        self.log_constant = self.log_prior + self.head.gram.log_constant
        near = self.within_reach(self.scale_of_readings())
        self.base = self.fit_near(self.scale, near if self.pattern.joined else self.scale.centre_ohm)
        if self.log_constant + self.base.log_evidence > self.weighing.best - DEAD_BELOW:
            found_ohm = self.scale.centre_ohm * (1.0 + self.base.kappa()[0])
            self.base = self.fit_near(self.scale, self.within_reach(found_ohm))
        mean, variance = self.base.kappa()
        is_far = self.log_constant + self.base.log_evidence < self.weighing.best - DEAD_BELOW
        self.ratio = self.scale.expected_ratio_within(variance**0.5)
        self.log_ratio = 0.0 if is_far else self.ratio(mean)
        self.log_base = self.log_constant + self.base.log_evidence + self.log_ratio

    def within_reach(self, scale_ohm: float) -> float:
        """A scale brought near what this head can have.

        Readings that no sound head gives drag the base fit's scale anywhere, and a fault that explains them would be
        held against a scatter which is not its own.
        """
        reach = 1.0 + 3.0 * self.scale.sd
        return min(max(scale_ohm, self.scale.centre_ohm / reach), self.scale.centre_ohm * reach)

    def fit_near(self, scale: ScaleLaw, scatter_ohm: float) -> Fit:
        """Fit under one law of the scale, the scatter that of a resistance in small steps."""
        steps = self.steps_to(scale, scatter_ohm)
        key = (scale.centre_ohm, scale.sd, steps)
        found = self.fits.get(key)
        if found is None:
            found = self.fits[key] = self._fit(scale, self._prior_near(scale, steps))
        return found

    def steps_to(self, scale: ScaleLaw, scatter_ohm: float) -> int:
        """Steps from a law's centre to the resistance whose scatter is taken."""
        return round(log(min(max(scatter_ohm / scale.centre_ohm, 0.2), 5.0)) / SCATTER_STEP)

    def _prior_near(self, scale: ScaleLaw, steps: int) -> Prior:
        """The prior of any arrangement of this kind, kept for the next."""
        key = (len(self.ends), self.scatter.is_shared, scale.centre_ohm, scale.sd, steps)
        found = self.weighing.priors.get(key)
        if found is None:
            found = self.weighing.priors[key] = self.prior_at(scale, scale.centre_ohm * exp(SCATTER_STEP * steps))
        return found

    def prior_at(self, scale: ScaleLaw, scatter_ohm: float) -> Prior:
        """The prior of the windings with the scatter of this resistance."""
        centre = scale.centre_ohm
        return prior_of(len(self.ends), self.scatter, scatter_ohm, scale.sd * centre, centre)

    def _fit(self, scale: ScaleLaw, prior: Prior) -> Fit:
        centre = scale.centre_ohm
        h = self.head.gram.with_readings
        rows = [sum(row) for row in self.gram]
        g = [h[end] - centre * row for end, row in zip(self.ends, rows, strict=True)]
        squared = (
            self.head.gram.readings_squared
            - 2.0 * centre * sum([h[end] for end in self.ends])
            + centre * centre * sum(rows)
        )
        return fit(prior, centre, self.gram, g, squared)

    def new(self, cause: str, places: tuple[int, ...], log_weight: float, log_place: float) -> Hypothesis:
        """Keep a hypothesis that starts from the base fit."""
        hypothesis = Hypothesis(
            cause=cause,
            places=places,
            log_weight=log_weight,
            arrangement=self.name,
            klass=self.klass,
            log_prior=self.log_prior + self.shares[cause],
            log_place=log_place,
            scale=self.scale,
            fit=self.base,
        )
        self.weighing.add(hypothesis)
        return hypothesis

    def product(self, wire: int) -> float:
        """Product of a wire's column with the residual."""
        row = self.head.gram.matrix[wire]
        return self.head.gram.with_readings[wire] - self.scale.centre_ohm * sum([row[end] for end in self.ends])

    def is_hopeless(self, log_base: float, gain: float, name: tuple[object, ...] | None = None) -> bool:
        """Whether a fault that gains this at most over the base fit is too far below the best to matter."""
        at_most = log_base + self.base.log_evidence + RATIO_BOUND + gain
        if name is not None and self.has_twins and at_most < self.weighing.best - DEAD_BELOW:
            self.weighing.dead.add(name)
        return self.weighing.is_hopeless(at_most)

    def scale_at(self, base: Fit, size: float, lean: list[float]) -> float:
        """The head's scale where the fault has this size. [Ω]"""
        shift = sum(base.deviation) - size * sum(lean)
        return self.scale.centre_ohm * possible(1.0 + base.prior.to_kappa * shift)


def possible(factor: float) -> float:
    """A scale over its centre that a fit may go on from: readings of no head can send it anywhere."""
    return min(max(factor, 0.02), 50.0)


def against(base: Fit, column: Column) -> tuple[float, float, list[float]]:
    """Slope and curvature of the likelihood in a column's size at 0, and how the windings lean against it."""
    with_windings, deviation = column.with_windings, base.deviation
    lean = product(base.covariance, with_windings)
    if len(lean) == 4:
        c, d, e, f = with_windings
        s, t, u, v = lean
        beta = column.squared - (c * s + d * t + e * u + f * v)
        s, t, u, v = deviation
        gamma = column.with_residual - (c * s + d * t + e * u + f * v)
    else:
        beta = column.squared - sum([c * v for c, v in zip(with_windings, lean, strict=True)])
        gamma = column.with_residual - sum([c * d for c, d in zip(with_windings, deviation, strict=True)])
    return gamma, max(beta, LEAST_LEFT * column.squared), lean
