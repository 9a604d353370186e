"""The posterior of a head's cause, its wires and its common: the oracle's answer."""

from collections import defaultdict
from dataclasses import dataclass
from math import exp, inf, log

from tests.oracle.evidence import USUAL, Evidence, Grid
from tests.oracle.forms import Form, explanations

from fifthwire.diagnosis.winding.case import WindingCase, WindingLaws

NEGLIGIBLE_NATS = 13.0
"""Forms this far below the best by the normal stand-in keep the stand-in's evidence."""


MINOR_NATS = 6.0
"""Forms this far below the best make less than 0.3 % each: a grid that errs by 1 % of that serves."""
MINOR = Grid(step=1.05, lone_step=0.9, radius=4.8, leads=3, size=10, scale=5)


@dataclass(frozen=True)
class Posterior:
    """Probabilities, each summing to 1 over its keys."""

    causes: dict[str, float]
    places: dict[tuple[str, tuple[str, ...]], float]
    """By cause and the wires it names."""
    commons: dict[tuple[str, ...], float]
    n_exact: int
    """Forms that were integrated exactly."""


def posterior(case: WindingCase, laws: WindingLaws, grid: Grid = USUAL) -> Posterior | None:
    """By Bayes over every explanation; None where no explanation fits."""
    found = list(explanations(case, laws))
    evidence = Evidence(case, laws)
    prior: defaultdict[Form, float] = defaultdict(float)
    for explanation in found:
        prior[explanation.form] += exp(explanation.log_prior)
    logs, n_exact = _log_evidences(evidence, prior, grid)
    best = max((value for value in logs.values()), default=-inf)
    if best == -inf:
        return None
    causes: defaultdict[str, float] = defaultdict(float)
    places: defaultdict[tuple[str, tuple[str, ...]], float] = defaultdict(float)
    commons: defaultdict[tuple[str, ...], float] = defaultdict(float)
    for explanation in found:
        weight = exp(explanation.log_prior + logs[explanation.form] - best)
        causes[explanation.cause] += weight
        places[explanation.cause, explanation.wires] += weight
        commons[explanation.common] += weight
    whole = sum(causes.values())
    return Posterior(*({key: value / whole for key, value in d.items()} for d in (causes, places, commons)), n_exact)


def _log_evidences(evidence: Evidence, prior: dict[Form, float], grid: Grid) -> tuple[dict[Form, float], int]:
    """Exact where it matters, in order of promise; the stand-in's for the rest."""
    rough = {form: evidence.rough(form)[0] if form.read else 0.0 for form in prior}
    logs: dict[Form, float] = {}
    best, n_exact = -inf, 0
    for form in sorted(prior, key=lambda form: -(rough[form] + log(prior[form]))):
        if rough[form] + log(prior[form]) < best - NEGLIGIBLE_NATS:
            logs[form] = rough[form]
            continue
        matters = rough[form] + log(prior[form]) > best - MINOR_NATS
        logs[form] = evidence.log_evidence(form, grid if matters else MINOR)
        n_exact += 1
        best = max(best, logs[form] + log(prior[form]))
    return logs, n_exact
