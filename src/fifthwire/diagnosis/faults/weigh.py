"""How far each fact moved the odds of the leading cause."""

from collections.abc import Mapping, Sequence
from math import log
from typing import Final

from fifthwire.diagnosis.faults.flooding import DryTerms
from fifthwire.diagnosis.faults.likelihoods import likelihood_of
from fifthwire.diagnosis.faults.network import Message, ValveNode, marginal, weights_of
from fifthwire.diagnosis.faults.running_table import VALVE_ROWS
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
    message: Message,
    leading: str,
    without_windings: Mapping[str, Sequence[float]],
) -> tuple[Reason, ...]:
    """Every fact with the logarithm of the factor by which it moved the odds of the leading cause.

    How far a fact moves the odds depends on what is known already. What is told is the mean of what it moves as the
    first fact and as the last, so it does not depend on the order in which the facts were written.

    Parameters
    ----------
    facts : sequence of Fact
        Those without a line in a table, and those that must not weigh, get 0.
    node : ValveNode
        The valve with all its facts.
    message : mapping
        What all other valves and the system's own readings say. [1]
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
    before, after = without_windings, node.prior_by_state
    keys: DryTerms = message
    known = [(_line(fact), _running_line(fact)) for fact in facts]

    def odds(prior: Mapping[str, Sequence[float]], which: Sequence[int]) -> float:
        lines = [line for i in which if (line := known[i][0]) is not None]
        running = [line for i in which if (line := known[i][1]) is not None]
        valve = ValveNode(prior, lines, running, node.floods, node.in_heating)
        return log_odds_of(leading, marginal(message, weights_of(valve, keys)))

    everything = [i for i, lines in enumerate(known) if lines != (None, None)]
    start, end = odds(before, []), odds(after, everything)
    reasons = []
    for i, fact in enumerate(facts):
        moved = 0.0
        if i in everything:
            moved = 0.5 * (odds(before, [i]) - start + end - odds(after, [k for k in everything if k != i]))
        elif fact.weighs and fact.code.startswith("winding."):
            moved = 0.5 * (odds(after, []) - start + end - odds(before, everything))
        reasons.append(Reason(code=fact.code, values=fact.values, log_odds=moved))
    return tuple(sorted(reasons, key=lambda one: -abs(one.log_odds)))


def likelihoods_of(facts: Sequence[Fact]) -> list[tuple[float, ...]]:
    """Likelihoods of the causes, of the facts that weigh and have them."""
    return [line for fact in facts if (line := _line(fact)) is not None]


def running_lines_of(facts: Sequence[Fact]) -> list[tuple[float, ...]]:
    """Likelihoods of the behaviours, of the facts that weigh and have them."""
    return [line for fact in facts if (line := _running_line(fact)) is not None]


def _line(fact: Fact) -> tuple[float, ...] | None:
    if not fact.weighs:
        return None
    if fact.line is not None:
        return fact.line
    if not fact.soft:
        return likelihood_of(fact.code)
    rows = [(weight, line) for code, weight in fact.soft.items() if (line := likelihood_of(code)) is not None]
    return _mixed(rows) if rows else None


def _running_line(fact: Fact) -> tuple[float, ...] | None:
    if not fact.weighs or fact.line is not None:
        return None
    weights = fact.soft or {fact.code: 1.0}
    rows = [(weight, VALVE_ROWS[code].likelihood) for code, weight in weights.items() if code in VALVE_ROWS]
    return _mixed(rows) if rows else None


def _mixed(rows: Sequence[tuple[float, Sequence[float]]]) -> tuple[float, ...]:
    """Lines mixed by their weights."""
    return tuple(sum(weight * line[i] for weight, line in rows) for i in range(len(rows[0][1])))
