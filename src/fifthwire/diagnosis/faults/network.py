r"""Exact combination of what is known of all valves of a system.

The system has one state; given that, each valve has one primary cause, and given its cause its facts are independent:

.. math:: P(s, c_1 .. c_n | facts) \propto P(s) \prod_v P(c_v | s) \prod_f L_f(c_v)

so all posteriors come from one sum a valve and state: low charge is explained once, not forty times.
"""

from collections.abc import Mapping, Sequence
from math import exp, log
from typing import Final

from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.model.record import record

FLOOR: Final = 1e-300
"""A probability below this is this: no product becomes 0/0.  [1]"""


@record(kw_only=False)
class ValveNode:
    """One valve: its causes before any fact, by state of the system, and the likelihoods of its facts."""

    prior_by_state: Mapping[str, Sequence[float]]
    """State -> probability of each cause, in the order of `CAUSES`, summing to 1.  [1]"""
    likelihoods: Sequence[Sequence[float]]
    """One a fact, in the order of `CAUSES`.  [1]"""


@record(kw_only=False)
class Posterior:
    """What follows."""

    system: Mapping[str, float]
    """State -> probability.  [1]"""
    causes: Sequence[Mapping[str, float]]
    """One a valve: cause -> probability.  [1]"""
    messages: Sequence[Mapping[str, float]]
    """One a valve: state -> what all other valves and the prior say of it, summing to 1.  [1]"""


def combine(system_prior: Mapping[str, float], valves: Sequence[ValveNode]) -> Posterior:
    """Posterior of the system's state and of every valve's cause.

    Parameters
    ----------
    system_prior : mapping
        State -> probability, summing to 1. [1]
    valves : sequence of ValveNode
        With a prior for every state of the system.

    Returns
    -------
    Posterior
        Exact up to rounding; the order of facts and of valves does not matter.

    References
    ----------
    .. [1] A tree-shaped Bayesian network summed by messages: J. Pearl, "Probabilistic Reasoning in Intelligent
       Systems", 1988, chapter 4 (from memory).
    """
    weights = [{state: _weight(valve, state) for state in system_prior} for valve in valves]
    logs = [{state: log(max(sum(by_state[state]), FLOOR)) for state in system_prior} for by_state in weights]
    total = {state: log(max(p, FLOOR)) + sum(one[state] for one in logs) for state, p in system_prior.items()}
    messages = [_normalised({state: total[state] - one[state] for state in total}) for one in logs]
    causes = [marginal(message, by_state) for message, by_state in zip(messages, weights, strict=True)]
    return Posterior(_normalised(total), causes, messages)


def marginal(message: Mapping[str, float], by_state: Mapping[str, Sequence[float]]) -> dict[str, float]:
    """Posterior of one valve's causes from what the others say of the system, and its own weights.

    Parameters
    ----------
    message : mapping
        State -> what all else says of it. [1]
    by_state : mapping
        State -> weight of each cause. [1]

    Returns
    -------
    dict
        Cause -> probability, summing to 1; causes that do not exist left out. [1]
    """
    summed = [sum(message[state] * weight[i] for state, weight in by_state.items()) for i in range(len(CAUSES))]
    whole = sum(summed)
    if whole <= 0.0:
        return marginal(message, {state: [max(w, FLOOR) for w in weight] for state, weight in by_state.items()})
    return {cause: weight / whole for cause, weight in zip(CAUSES, summed, strict=True) if weight > 0.0}


def weights_of(valve: ValveNode) -> dict[str, tuple[float, ...]]:
    """State -> weight of each cause: prior times the likelihoods of all facts."""
    return {state: _weight(valve, state) for state in valve.prior_by_state}


def _weight(valve: ValveNode, state: str) -> tuple[float, ...]:
    weight = list(valve.prior_by_state[state])
    for likelihood in sorted(
        map(tuple, valve.likelihoods)
    ):  # one order for one set of facts: the last digit is the same too
        weight = [w * one for w, one in zip(weight, likelihood, strict=True)]
    return tuple(weight)


def _normalised(logs: Mapping[str, float]) -> dict[str, float]:
    top = max(logs.values())
    weights = {state: exp(value - top) for state, value in logs.items()}
    whole = sum(weights.values())
    return {state: weight / whole for state, weight in weights.items()}
