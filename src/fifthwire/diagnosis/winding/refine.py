"""The leading hypotheses weighed again with the exact laws, where the normal answer leaves room for doubt.

Each runs expectation propagation from its normal answer over windings, leads and the fault's size; the exact laws of
the scale and of the size are then integrated over the joint normal of the two. Hypotheses that predict the same
columns share one run. Those too far off keep their normal weight and the leader's correction.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log, pi, sqrt

from fifthwire.diagnosis.winding.column import NEVER
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.diagnosis.winding.linear_model import LinearModel, linear_model
from fifthwire.diagnosis.winding.meter_noise import NoiseLaw, NoiseTable, even_table, noise_table
from fifthwire.diagnosis.winding.scale import ScaleLaw
from fifthwire.diagnosis.winding.sites import NODES, Propagation, Site, normal_site

SETTLED = 0.9995
"""A cause this probable is not weighed again."""

LIGHT = 11.0
"""A step of the size this far below the heaviest does not count.  [nat]"""

ENOUGH_STEPS = 7
"""Steps over a size's posterior that give its integral to a thousandth."""

WITHIN = 6.0
"""Hypotheses this near the best are weighed again.  [nat]"""


@dataclass(frozen=True, slots=True)
class Posterior:
    """Joint normal of the scale and the size, and the evidence with a flat law of the size."""

    log_evidence: float
    kappa: float
    kappa_var: float
    size: float
    size_var: float
    covariance: float


class Refinement:
    """Runs shared by the hypotheses of one head."""

    def __init__(self, head: Head) -> None:
        self.head = head
        self.tables: dict[int, NoiseTable] = {}
        self.runs: dict[tuple[object, ...], Posterior] = {}
        self.lead_table = even_table(max(head.laws.leads_within_ohm, 1e-3))

    def log_weight(self, hypothesis: Hypothesis) -> float:
        """Logarithm of prior times evidence under the exact laws."""
        model = linear_model(self.head, hypothesis)
        key = (id(hypothesis.fit), tuple(model.size_column), hypothesis.bridge)
        posterior = self.runs.get(key)
        if posterior is None:
            posterior = self.runs[key] = self._run(hypothesis, model)
        return hypothesis.log_prior + hypothesis.log_place + posterior.log_evidence + _exact(hypothesis, posterior)

    def _table(self, law: NoiseLaw) -> NoiseTable:
        table = self.tables.get(id(law))
        if table is None:
            table = self.tables[id(law)] = noise_table(law)
        return table

    def _run(self, hypothesis: Hypothesis, model: LinearModel) -> Posterior:
        head, fit = self.head, hypothesis.fit
        assert fit is not None and hypothesis.scale is not None
        n = len(fit.deviation)
        sites = []
        for row, size, residual, reading in zip(
            model.rows, model.size_column, model.residuals, head.gram.readings, strict=True
        ):
            direction = [*row, 1.0, size] if model.has_size else [*row, 1.0]
            noise = reading.noise
            sites.append(
                normal_site(direction, residual - model.leads, noise.mean_ohm, noise.variance, self._table(noise))
            )
        sites.append(self._leads(model, n))
        propagation = Propagation(model.covariance, sites)
        propagation.run()
        mean, covariance = propagation.mean, propagation.covariance
        prior = fit.prior
        to_kappa = prior.to_kappa
        shift = sum(model.windings) + sum(mean[:n]) - n * hypothesis.scale.centre_ohm
        kappa_var = prior.kappa_var_alone + to_kappa**2 * sum([sum(row[:n]) for row in covariance[:n]])
        size = size_var = joint = 0.0
        if model.has_size:
            size, size_var = model.size + mean[-1], covariance[-1][-1]
            joint = to_kappa * sum(covariance[-1][:n])
        return Posterior(
            model.log_evidence + propagation.log_gain(), to_kappa * shift, kappa_var, size, size_var, joint
        )

    def _leads(self, model: LinearModel, n: int) -> Site:
        direction = [0.0] * len(model.covariance)
        direction[n] = -1.0
        return normal_site(direction, model.leads, 0.0, self.head.gram.lead_sd_ohm**2, self.lead_table)


def _exact(hypothesis: Hypothesis, posterior: Posterior) -> float:
    """Logarithm of the exact laws of scale and size, averaged over their joint normal."""
    scale, law = hypothesis.scale, hypothesis.law
    assert scale is not None
    if law is None or posterior.size_var <= 0.0:
        return scale.log_expected_ratio(posterior.kappa, sqrt(posterior.kappa_var))
    sd = sqrt(posterior.size_var)
    slope = posterior.covariance / posterior.size_var
    kappa_sd = sqrt(max(posterior.kappa_var - slope * posterior.covariance, 1e-16))

    def scale_ohm(size: float) -> float:
        return scale.centre_ohm * max(1.0 + posterior.kappa + slope * (size - posterior.size), 0.02)

    def kappa_at(size: float) -> float:
        return posterior.kappa + slope * (size - posterior.size)

    low, high = hypothesis.size_limits(scale_ohm)
    low, high = max(low, posterior.size - 5.5 * sd), min(high, posterior.size + 5.5 * sd)
    for _ in range(3):
        if low >= high:
            return NEVER
        if hypothesis.bridge is not None:
            steps = _bridge_steps(hypothesis, scale_ohm, scale.centre_ohm * slope, low, high)
        else:
            steps = _pieces(low, high, law.edge)
        ratio_at = _ratios(scale, kappa_at, kappa_sd, low, high)
        logs = []
        for size, width in steps:
            density = hypothesis.size_density(size, scale_ohm(size))
            off = (size - posterior.size) / sd
            logs.append(log(width * density) - 0.5 * off * off + ratio_at(size) if density > 0.0 else NEVER)
        top = max(logs)
        if top == NEVER:
            return NEVER
        heavy = [index for index, value in enumerate(logs) if value > top - LIGHT]
        if len(heavy) >= ENOUGH_STEPS or len(heavy) == len(steps):
            break
        # the weight lies between few of the steps: once more with all of them there
        low = steps[heavy[0] - 1][0] if heavy[0] > 0 else low
        high = steps[heavy[-1] + 1][0] if heavy[-1] + 1 < len(steps) else high
    total = sum([exp(value - top) for value in logs])
    return top + log(total) - 0.5 * log(2.0 * pi) - log(sd)


def _pieces(low: float, high: float, edge: float) -> list[tuple[float, float]]:
    """Steps on either side of an edge of the law, where it lies between."""
    return _steps(low, edge) + _steps(edge, high) if low < edge < high else _steps(low, high)


def _steps(low: float, high: float) -> list[tuple[float, float]]:
    """Sizes and the widths they stand for: even in the logarithm where the range is wide."""
    if high > 2.0 * low > 0.0:
        middle, half = 0.5 * log(high * low), 0.5 * log(high / low)
        sizes = [(exp(middle + half * x), half * w) for x, w in NODES]
        return [(size, size * width) for size, width in sizes]
    middle, half = 0.5 * (high + low), 0.5 * (high - low)
    return [(middle + half * x, half * w) for x, w in NODES]


def _bridge_steps(
    hypothesis: Hypothesis, scale_ohm: Callable[[float], float], rise: float, low: float, high: float
) -> list[tuple[float, float]]:
    """Sizes and their widths, even in the logarithm of the bridge's resistance: a dead short's are crowded together.

    `rise` is how the scale goes with the size.
    """
    law, bridge = hypothesis.law, hypothesis.bridge
    assert law is not None and bridge is not None

    def bridge_ohm(size: float) -> float:
        k = scale_ohm(size)
        loss = bridge.loss_at(size, k)
        return k * k / loss - 2.0 * k if loss > 0.0 else law.high

    least, most = max(law.low, bridge_ohm(high)), min(law.high, bridge_ohm(low))
    if not 0.0 < least < most:
        return _steps(low, high)
    found = []
    size = high
    for resistance, width in reversed(_pieces(least, most, law.edge)):
        for _ in range(8):
            k = scale_ohm(size)
            loss = k * k / (2.0 * k + resistance)
            size = bridge.size_at(loss, k)
        slope = -k * k / (loss * loss) * bridge.loss_slope(rise) + (2.0 * k / loss - 2.0) * rise
        found.append((size, width / max(abs(slope), 1e-9)))
    return found


def _ratios(
    scale: ScaleLaw, kappa_at: Callable[[float], float], kappa_sd: float, low: float, high: float
) -> Callable[[float], float]:
    """The scale's expected ratio as a function of the size: a parabola through three points where it bends little."""
    if abs(kappa_at(high) - kappa_at(low)) > 0.6 * scale.sd:
        return lambda size: scale.log_expected_ratio(kappa_at(size), kappa_sd)
    middle, half = 0.5 * (low + high), 0.5 * (high - low)
    below, at, above = (scale.log_expected_ratio(kappa_at(size), kappa_sd) for size in (low, middle, high))
    rise, bend = 0.5 * (above - below), 0.5 * (above + below) - at

    def parabola(size: float) -> float:
        t = (size - middle) / half
        return at + t * (rise + t * bend)

    return parabola


def refined(head: Head, found: list[Hypothesis], weighed: list[tuple[Hypothesis, float]]) -> list[Hypothesis]:
    """The hypotheses with exact weights where it matters; unchanged where the answer is settled."""
    by_cause: dict[str, float] = {}
    for hypothesis, probability in weighed:
        by_cause[hypothesis.cause] = by_cause.get(hypothesis.cause, 0.0) + probability
    if max(by_cause.values()) >= SETTLED or not head.gram.readings:
        return found
    best = weighed[0][0].log_weight
    refinement = Refinement(head)
    leaders_gain: float | None = None
    near: list[Hypothesis] = []
    for hypothesis, _ in weighed:
        if hypothesis.log_weight < best - WITHIN or hypothesis.fit is None:
            continue
        exact = refinement.log_weight(hypothesis)
        if leaders_gain is None:
            leaders_gain = exact - hypothesis.log_weight
        hypothesis.log_weight = exact
        near.append(hypothesis)
    chosen = {id(hypothesis) for hypothesis in near}
    for hypothesis in found:
        if id(hypothesis) not in chosen and hypothesis.fit is not None and leaders_gain is not None:
            hypothesis.log_weight += leaders_gain
    return found
