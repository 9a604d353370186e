r"""Exact combination of what is known of all valves of a system.

The system has one state; given that, each valve has one primary cause, and given its cause its facts are independent:

.. math:: P(s, c_1 .. c_n | facts) \propto P(s) \prod_v P(c_v | s) \prod_f L_f(c_v)

so all posteriors come from one sum a valve and state: low charge is explained once, not forty times.

What runs adds two things. A cause makes a valve *behave* in a few ways, and the running facts of a valve hang on the
behaviour. And liquid reaches the compressors of an outdoor unit unless none of the valves able to flood it does so, a
noisy-or: the chance that it stays dry is a product over the valves. What was read of the outdoor units is then a sum of
products over the sets of outdoor units that stay dry,

.. math:: P(evidence | s, c) = \sum_D a_D(s) \prod_v \prod_{o \in D} (1 - q_{vo}(c_v)),

with few terms (two for one outdoor unit), so the sum over all causes of all valves stays one sum a valve.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field
from math import exp, fsum, log
from typing import Final, TypeAlias

from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS, behaves
from fifthwire.diagnosis.faults.flooding import FLOODS_LESS, DryTerms
from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.model.record import record

FLOOR: Final = 1e-300
"""A probability below this is this: no product becomes 0/0.  [1]"""

Key: TypeAlias = tuple[str, tuple[str, ...]]
"""A state of the system and a set of outdoor units that stay dry."""
Floods: TypeAlias = tuple[tuple[float, ...], ...]
"""How often a valve floods each of the outdoor units that stay dry, by behaviour; sorted.  [1]"""
Message: TypeAlias = Mapping[Key, float]
"""What all else says of each key; the terms of sets are signed, their sums are not.  [1]"""


@record(kw_only=False)
class ValveNode:
    """One valve: its causes before any fact, by state of the system, and the likelihoods of its facts."""

    prior_by_state: Mapping[str, Sequence[float]]
    """State -> probability of each cause, in the order of `CAUSES`, summing to 1.  [1]"""
    likelihoods: Sequence[Sequence[float]] = ()
    """One a fact, in the order of `CAUSES`.  [1]"""
    running: Sequence[Sequence[float]] = ()
    """One a running fact, in the order of `BEHAVIOURS`.  [1]"""
    floods: Mapping[str, Sequence[float]] = field(default_factory=dict)
    """Outdoor unit -> probability that the valve floods it, in the order of `BEHAVIOURS`; left out: never.  [1]"""
    in_heating: bool = False
    """Whether it holds the subcooling of a coil that heats."""


@record(kw_only=False)
class Posterior:
    """What follows."""

    system: Mapping[str, float]
    """State -> probability.  [1]"""
    causes: Sequence[Mapping[str, float]]
    """One a valve: cause -> probability.  [1]"""
    messages: Sequence[Message]
    """One a valve: what all else says."""


def combine(
    system_prior: Mapping[str, float], valves: Sequence[ValveNode], evidence: DryTerms | None = None
) -> Posterior:
    """Posterior of the system's state and of every valve's cause.

    Parameters
    ----------
    system_prior : mapping
        State -> probability, summing to 1. [1]
    valves : sequence of ValveNode
        With a prior for every state of the system.
    evidence : DryTerms, optional
        What was read of the system as a whole.

    Returns
    -------
    Posterior
        Exact up to rounding; the order of facts and of valves does not matter.

    References
    ----------
    .. [1] A tree-shaped Bayesian network summed by messages: J. Pearl, "Probabilistic Reasoning in Intelligent
       Systems", 1988, chapter 4; the noisy-or: the same, section 4.3 (from memory).
    """
    terms: Mapping[Key, float] = {(state, ()): 1.0 for state in system_prior} if evidence is None else evidence
    sums = [{key: sum(of) for key, of in weights_of(valve, terms).items()} for valve in valves]
    wholes = [{state: max(of[state, ()], FLOOR) for state in system_prior} for of in sums]
    logs = {s: log(max(p, FLOOR)) + fsum(sorted(log(of[s]) for of in wholes)) for s, p in system_prior.items()}
    top = max(logs.values())
    ratios = [{key: of[key] / whole[key[0]] for key in terms} for of, whole in zip(sums, wholes, strict=True)]
    joint = {key: exp(logs[key[0]] - top) * term * _product(of[key] for of in ratios) for key, term in terms.items()}
    messages = [{key: weight / max(of[key], FLOOR) for key, weight in joint.items()} for of in sums]
    system = {state: max(fsum(w for key, w in joint.items() if key[0] == state), 0.0) for state in system_prior}
    causes = [marginal(message, weights_of(of, terms)) for message, of in zip(messages, valves, strict=True)]
    whole = sum(system.values())
    return Posterior({state: weight / whole for state, weight in system.items()}, causes, messages)


def marginal(
    message: Message, by_key: Mapping[Key, Sequence[float]], names: Sequence[str] = CAUSES
) -> dict[str, float]:
    """Posterior of one valve's causes from what all else says, and its own weights.

    Parameters
    ----------
    message : mapping
        Key -> what all else says of it. [1]
    by_key : mapping
        Key -> weight of each cause. [1]
    names : sequence of str
        Of the weights: the causes, or the behaviours.

    Returns
    -------
    dict
        Name -> probability, summing to 1; those that do not exist left out. [1]
    """
    summed = [max(fsum(message[key] * weight[i] for key, weight in by_key.items()), 0.0) for i in range(len(names))]
    whole = sum(summed)
    if whole <= 0.0:
        return marginal(message, {key: [max(w, FLOOR) for w in weight] for key, weight in by_key.items()}, names)
    return {name: weight / whole for name, weight in zip(names, summed, strict=True) if weight > 0.0}


def weights_of(valve: ValveNode, keys: Mapping[Key, float]) -> dict[Key, tuple[float, ...]]:
    """Key -> weight of each cause: prior times the likelihoods of all facts."""
    by_cause, shown = _of_causes(valve), _products(valve.running, len(BEHAVIOURS))

    def weigh(state: str, floods: Floods) -> tuple[float, ...]:
        behaving = _behaving(valve, shown, state, floods)
        prior = valve.prior_by_state[state]
        if behaving is None:
            return tuple(p * one for p, one in zip(prior, by_cause, strict=True))
        return tuple(
            p * one * sum(share * behaving[b] for b, share in behaves(cause, state, in_heating=valve.in_heating))
            if p > 0.0
            else 0.0
            for cause, p, one in zip(CAUSES, prior, by_cause, strict=True)
        )

    return _once_each(valve, keys, weigh)


def behaviour_weights(valve: ValveNode, keys: Mapping[Key, float]) -> dict[Key, tuple[float, ...]]:
    """Key -> weight of each behaviour, whatever the cause."""
    by_cause, shown = _of_causes(valve), _products(valve.running, len(BEHAVIOURS))

    def weigh(state: str, floods: Floods) -> tuple[float, ...]:
        behaving = _behaving(valve, shown, state, floods) or shown
        summed = [0.0] * len(BEHAVIOURS)
        for cause, p, one in zip(CAUSES, valve.prior_by_state[state], by_cause, strict=True):
            for b, share in behaves(cause, state, in_heating=valve.in_heating) if p > 0.0 else ():
                summed[b] += p * one * share * behaving[b]
        return tuple(summed)

    return _once_each(valve, keys, weigh)


def _once_each(
    valve: ValveNode, keys: Mapping[Key, float], weigh: Callable[[str, Floods], tuple[float, ...]]
) -> dict[Key, tuple[float, ...]]:
    """Key -> weights, worked out once for keys that the valve does not tell apart.

    An indoor valve floods all outdoor units alike: to it only their number counts, not which of them stay dry.
    """
    floods = {one: tuple(of) for one, of in valve.floods.items()}
    known: dict[tuple[str, Floods], tuple[float, ...]] = {}
    weights = {}
    for state, dry in keys:
        alike = state, tuple(sorted(floods[one] for one in dry if one in floods))
        if alike not in known:
            known[alike] = weigh(*alike)
        weights[state, dry] = known[alike]
    return weights


def _of_causes(valve: ValveNode) -> Sequence[float]:
    return _products(valve.likelihoods, len(CAUSES))


def _behaving(valve: ValveNode, shown: Sequence[float], state: str, floods: Floods) -> Sequence[float] | None:
    """Weight of each behaviour where these outdoor units stay dry; None where all weigh the same."""
    if not floods:
        return shown if valve.running else None
    scale = FLOODS_LESS.get(state, 1.0)
    return [one * _product(1.0 - scale * q[b] for q in floods) for b, one in enumerate(shown)]


def _products(lines: Sequence[Sequence[float]], n: int) -> list[float]:
    """Products column by column, in one order for one set of facts: the last digit is the same too."""
    products = [1.0] * n
    for line in sorted(map(tuple, lines)):
        products = [one * of for one, of in zip(products, line, strict=True)]
    return products


def _product(factors: Iterable[float]) -> float:
    product = 1.0
    for one in sorted(factors):
        product *= one
    return product
