"""The leading hypotheses weighed again with the exact laws, where the normal answer leaves room for doubt.

Each runs expectation propagation from its normal answer over windings, leads and the fault's size; the exact laws of
the scale and of the size are then integrated over the joint normal of the two. Hypotheses that predict the same
columns share one run. Those too far off keep their normal weight and the leader's correction.
"""

from math import sqrt

from fifthwire.diagnosis.winding.error_law import ErrorLaw, error_law, even_law
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.diagnosis.winding.linear_model import LinearModel, linear_model
from fifthwire.diagnosis.winding.meter_noise import NoiseLaw
from fifthwire.diagnosis.winding.over_size import Posterior, log_expected_laws
from fifthwire.diagnosis.winding.scatter_pull import scatter_pull
from fifthwire.diagnosis.winding.sites import Propagation, Site, normal_site

SETTLED = 0.9995
"""A cause this probable is not weighed again."""

WITHIN = 6.0
"""Hypotheses this near the best are weighed again.  [nat]"""


class Refinement:
    """Runs shared by the hypotheses of one head."""

    def __init__(self, head: Head) -> None:
        self.head = head
        self.runs: dict[tuple[object, ...], Posterior] = {}
        self.exact: dict[tuple[tuple[object, ...], str], float] = {}
        """Logarithm of the evidence under the exact laws, by run and cause."""
        self.lead_law = even_law(max(head.laws.leads_within_ohm, 1e-3))
        noises = {id(reading.noise): reading.noise for reading in head.gram.readings}
        laws = {number: error_law(noise) for number, noise in noises.items()}
        self.reading_laws = [laws[id(reading.noise)] for reading in head.gram.readings]

    def log_weight(self, hypothesis: Hypothesis) -> float:
        """Logarithm of prior times evidence under the exact laws."""
        key = hypothesis.alike if hypothesis.alike is not None else self._key(hypothesis)
        exact = self.exact.get((key, hypothesis.cause))
        if exact is None:
            posterior = self.runs.get(key)
            if posterior is None:
                posterior = self.runs[key] = self._run(hypothesis, linear_model(self.head, hypothesis))
            own_error = self._own_error(hypothesis)
            exact = posterior.log_evidence + log_expected_laws(hypothesis, posterior, own_error)
            self.exact[key, hypothesis.cause] = exact
        return hypothesis.log_prior + hypothesis.log_place + exact

    def _key(self, hypothesis: Hypothesis) -> tuple[object, ...]:
        """What hypotheses share that predict the same readings: the fit, and what the size adds to which readings."""
        column = hypothesis.column
        if hypothesis.sized is None:
            return (id(hypothesis.fit),)
        if hypothesis.bridge is not None or column is None or column.kind == "loss":
            return id(hypothesis.fit), hypothesis.bridge, hypothesis.places
        readings = self.head.gram.readings
        if column.kind == "stray":
            return id(hypothesis.fit), False, column.at
        wire = hypothesis.klass.members[0][column.at[0]]
        at = [number for number, reading in enumerate(readings) if wire in (reading.wire_a, reading.wire_b)]
        return id(hypothesis.fit), column.kind == "short", tuple(at)

    def _own_error(self, hypothesis: Hypothesis) -> tuple[NoiseLaw, ErrorLaw] | None:
        """The law of a stray reading's own error: that reading alone tells of its size."""
        column = hypothesis.column
        if column is None or column.kind != "stray":
            return None
        index = column.at[0]
        return self.head.gram.readings[index].noise, self.reading_laws[index]

    def _run(self, hypothesis: Hypothesis, model: LinearModel) -> Posterior:
        head, fit = self.head, hypothesis.fit
        assert fit is not None and hypothesis.scale is not None
        n = len(fit.deviation)
        sites = []
        for row, size, residual, reading, law in zip(
            model.rows, model.size_column, model.residuals, head.gram.readings, self.reading_laws, strict=True
        ):
            whole = [*row, 1.0, size] if model.has_size else [*row, 1.0]
            direction = [(index, x) for index, x in enumerate(whole) if x]
            noise = reading.noise
            sites.append(normal_site(direction, residual - model.leads, noise.mean_ohm, noise.variance, law))
        sites.append(self._leads(model, n))
        propagation = Propagation(model.covariance, sites)
        propagation.run()
        return self._posterior(hypothesis, model, propagation)

    def _posterior(self, hypothesis: Hypothesis, model: LinearModel, propagation: Propagation) -> Posterior:
        fit, scale = hypothesis.fit, hypothesis.scale
        assert fit is not None and scale is not None
        n, prior = len(fit.deviation), fit.prior
        mean, covariance = propagation.mean, propagation.covariance
        deviation = [w + m - scale.centre_ohm for w, m in zip(model.windings, mean, strict=False)]
        among = [row[:n] for row in covariance[:n]]
        size = size_var = joint = 0.0
        slope = [0.0] * n
        if model.has_size:
            size, size_var = model.size + mean[-1], covariance[-1][-1]
            slope = [c / size_var for c in covariance[-1][:n]]
            joint = prior.to_kappa * sum(covariance[-1][:n])
            among = [
                [v - size_var * x * y for v, y in zip(row, slope, strict=True)]
                for row, x in zip(among, slope, strict=True)
            ]
        kappa_var = prior.kappa_var_alone + prior.to_kappa**2 * sum(map(sum, among))
        return Posterior(
            log_evidence=model.log_evidence + propagation.log_gain(),
            kappa=prior.to_kappa * sum(deviation),
            kappa_sd=sqrt(kappa_var),
            kappa_slope=joint / size_var if model.has_size else 0.0,
            size=size,
            size_var=size_var,
            windings=[scale.centre_ohm + d for d in deviation],
            slope=slope,
            pull=scatter_pull(prior, deviation, among, slope),
        )

    def _leads(self, model: LinearModel, n: int) -> Site:
        return normal_site([(n, -1.0)], model.leads, 0.0, self.head.gram.lead_sd_ohm**2, self.lead_law)


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
