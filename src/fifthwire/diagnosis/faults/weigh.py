"""How far each fact moved the odds of the leading cause."""

from collections.abc import Mapping, Sequence
from math import log
from typing import Final

from fifthwire.diagnosis.faults.likelihoods import likelihood_of
from fifthwire.diagnosis.faults.network import ValveNode, marginal, weights_of
from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.model.assessment import Reason

LEAST: Final = 1e-15
"""Odds are told between this and its inverse.  [1]"""


def log_odds_of(cause: str, causes: Mapping[str, float]) -> float:
    """Natural logarithm of the odds of a cause.  [1]"""
    probability = causes.get(cause, 0.0)
    rest = sum(p for other, p in causes.items() if other != cause)
    return log(max(probability, LEAST)) - log(max(rest, LEAST))


def weighed(
    facts: Sequence[Fact],
    node: ValveNode,
    message: Mapping[str, float],
    leading: str,
    without_windings: Mapping[str, Sequence[float]],
) -> tuple[Reason, ...]:
    """Every fact with the logarithm of the factor by which it moved the odds of the leading cause.

    How far a fact moves the odds depends on what is known already. What is told is the mean of what it moves as the
    first fact and as the last, so it does not depend on the order in which the facts were written.

    Parameters
    ----------
    facts : sequence of Fact
        Those without a line in the table, and those that must not weigh, get 0.
    node : ValveNode
        The valve with all its facts.
    message : mapping
        What all other valves say of the system's state. [1]
    leading : str
        The leading cause.
    without_windings : mapping
        Priors before the windings were measured: what the readings moved is told of the fact that begins with
        "winding.".

    Returns
    -------
    tuple of Reason
        In the order of weight, the order given where weights are equal.
    """
    lines = [likelihood_of(fact.code) if fact.weighs else None for fact in facts]
    before, after = without_windings, node.prior_by_state

    def odds(prior: Mapping[str, Sequence[float]], likelihoods: Sequence[Sequence[float]]) -> float:
        return log_odds_of(leading, marginal(message, weights_of(ValveNode(prior, likelihoods))))

    everything = [line for line in lines if line is not None]
    start, end = odds(before, []), odds(after, everything)
    reasons = []
    for i, (fact, line) in enumerate(zip(facts, lines, strict=True)):
        moved = 0.0
        if line is not None:
            others = [one for k, one in enumerate(lines) if one is not None and k != i]
            moved = 0.5 * (odds(before, [line]) - start + end - odds(after, others))
        elif fact.weighs and fact.code.startswith("winding."):
            moved = 0.5 * (odds(after, []) - start + end - odds(before, everything))
        reasons.append(Reason(code=fact.code, values=fact.values, log_odds=moved))
    return tuple(sorted(reasons, key=lambda one: -abs(one.log_odds)))


def likelihoods_of(facts: Sequence[Fact]) -> list[tuple[float, ...]]:
    """The lines of the table for the facts that weigh."""
    return [line for fact in facts if fact.weighs and (line := likelihood_of(fact.code)) is not None]
