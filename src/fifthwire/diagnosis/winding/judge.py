"""The verdict on a head's windings from one measurement: exact Bayesian inference over arrangements and causes."""

from math import exp, log

from fifthwire.diagnosis.winding.another_head import LOG_WIDTH_OF_ANYTHING
from fifthwire.diagnosis.winding.arrangements import LAYOUTS, ArrangementClass
from fifthwire.diagnosis.winding.case import WindingCase, WindingLaws
from fifthwire.diagnosis.winding.estimates import windings_of
from fifthwire.diagnosis.winding.head import Head, head_of, seen_wires
from fifthwire.diagnosis.winding.hypotheses import weigh
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.diagnosis.winding.marginals import causes_of, commons_of
from fifthwire.diagnosis.winding.next_reading import choose_next
from fifthwire.diagnosis.winding.prediction import Sizes
from fifthwire.diagnosis.winding.refine import refined
from fifthwire.diagnosis.winding.verdict import SURE, unread_places, verdict_of
from fifthwire.diagnosis.winding.weighing import Weighing
from fifthwire.diagnosis.winding.wires import N_WIRES, name_wires
from fifthwire.model.assessment import CauseProbability, NextReading, WindingFinding

ARRANGEMENT_SHARES = {"unipolar-5": 0.55, "unipolar-6": 0.25, "bipolar-4": 0.15, "single-2": 0.05}
"""Of heads whose arrangement is not known. Judgement."""

UNTOUCHED_WIRE_SHARE = 0.3
"""How probable it is that a wire of a head is left untouched, where the arrangement is not known. Judgement."""

NONE_OF_THESE_SHARE = 1e-4
"""Of heads, those that are nothing we thought of: two faults at once, a mislabelled wire. Judgement."""


def judge_windings(case: WindingCase, laws: WindingLaws) -> WindingFinding:
    """What the readings of one measurement say of a head's windings.

    Parameters
    ----------
    case : WindingCase
        Readings, meter, spec and what is known of the head.
    laws : WindingLaws
        What heads and readings are like before a reading is taken.

    Returns
    -------
    WindingFinding
        Verdict, causes, common wires, each winding's resistance and the next reading.

    Raises
    ------
    InputError
        If a reading names the same wire twice.
    """
    seen = seen_wires(case)
    if not seen:
        return WindingFinding(verdict="not-measured", arrangement=case.arrangement)
    named = [*seen, *[name for name in case.common if name not in seen]]
    names = [case.arrangement] if case.arrangement else list(ARRANGEMENT_SHARES)
    fitting = [name for name in names if N_WIRES[name] >= len(named)]
    if not fitting:
        return WindingFinding(
            verdict="undecided",
            causes=(CauseProbability(cause="bad-reading", probability=1.0),),
            arrangement=case.arrangement,
        )
    wires = name_wires(seen, case.common, max(N_WIRES[name] for name in fitting))
    head = head_of(case, laws, wires)
    weighed = weigh_all(head, case, fitting)
    return _finding(head, case, weighed)


def weigh_all(head: Head, case: WindingCase, names: list[str]) -> list[tuple[Hypothesis, float]]:
    """Every hypothesis with its probability, most probable first."""
    weighing = Weighing(head)
    n_named = len({*head.wires.names[: head.wires.n_seen], *case.common})
    prior = {name: ARRANGEMENT_SHARES[name] * UNTOUCHED_WIRE_SHARE ** (N_WIRES[name] - n_named) for name in names}
    total = sum(prior.values())
    for name in names:
        commons = tuple(head.wires.names.index(wire) for wire in case.common)
        if not LAYOUTS[name].commons:
            commons = ()
        weigh(weighing, name, commons, log(prior[name] / total))
    weighing.add(none_of_these(head))
    return normalised(refined(head, weighing.found, normalised(weighing.found)))


def none_of_these(head: Head) -> Hypothesis:
    """The hypothesis that takes what fits no cause: each finite reading anything, a third of all readings open."""
    log_weight = log(NONE_OF_THESE_SHARE) + len(head.opens) * log(1.0 / 3.0)
    for reading in head.gram.readings:
        floor = 2.0 * reading.noise.rounding_ohm + reading.noise.touch_ohm
        log_weight += log(2.0 / 3.0 / (LOG_WIDTH_OF_ANYTHING * max(reading.shown_ohm, floor)))
    return Hypothesis(cause="bad-reading", places=(), log_weight=log_weight, klass=ArrangementClass(((),), 1.0))


def normalised(found: list[Hypothesis]) -> list[tuple[Hypothesis, float]]:
    """Probabilities from weights, most probable first."""
    top = max(hypothesis.log_weight for hypothesis in found)
    weights = [exp(hypothesis.log_weight - top) for hypothesis in found]
    total = sum(weights)
    weighed = [(hypothesis, weight / total) for hypothesis, weight in zip(found, weights, strict=True)]
    return sorted(weighed, key=lambda item: -item[1])


def _finding(head: Head, case: WindingCase, weighed: list[tuple[Hypothesis, float]]) -> WindingFinding:
    causes = causes_of(head, weighed)
    leading = next((hypothesis for hypothesis, _ in weighed if hypothesis.arrangement), None)
    unread = unread_places(head, leading) or _unread_elsewhere(head, weighed)
    verdict = verdict_of(head, causes, leading, unread)
    return WindingFinding(
        verdict=verdict,
        causes=causes,
        common=commons_of(head, weighed),
        windings=windings_of(head, case, weighed) if leading else (),
        next_reading=_next(head, weighed, verdict, unread),
        arrangement=leading.arrangement if leading else case.arrangement,
        unread_wires=tuple(dict.fromkeys(head.wires.names[wire] for wire in unread)),
    )


def _unread_elsewhere(head: Head, weighed: list[tuple[Hypothesis, float]]) -> list[int]:
    """Wires unread under other arrangements of a good head, where those weigh too much to be left aside."""
    sound = [(hypothesis, weight) for hypothesis, weight in weighed if hypothesis.cause == "sound"]
    left = [(places, weight) for hypothesis, weight in sound if (places := unread_places(head, hypothesis))]
    return left[0][0] if sum(weight for _, weight in left) > 1.0 - SURE else []


def _next(head: Head, weighed: list[tuple[Hypothesis, float]], verdict: str, unread: list[int]) -> NextReading | None:
    laws = head.laws
    sizes = Sizes(laws.contact_ohm, laws.bridge_ohm, laws.shorted_fraction)
    finite = head.gram.readings
    noise = max((reading.noise.variance for reading in finite), default=0.02)
    noise += head.gram.lead_sd_ohm**2
    n_wires = max((N_WIRES[h.arrangement] for h, weight in weighed if h.arrangement and weight > 0.01), default=0)
    n_seen = head.wires.n_seen
    n_wires = max(n_wires, n_seen)
    choice = choose_next(weighed, n_seen, n_wires, sizes, noise)
    if choice is None and verdict == "undecided" and unread:
        must = frozenset(min(wire, n_seen) for wire in unread)
        choice = choose_next(weighed, n_seen, n_wires, sizes, noise, must_touch=must)
    if choice is None:
        return None
    return NextReading(wires=head.wires.pair(*choice.pair), gain_bits=choice.gain_bits)
