"""Causes and common wires with their probabilities, summed over everything else."""

from collections.abc import Iterable

from fifthwire.diagnosis.winding.arrangements import LAYOUTS
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.model.assessment import CauseProbability, CommonProbability
from fifthwire.model.choices import WINDING_CAUSES

CUT_BELOW = 1e-8
"""Hypotheses less probable are summed into `other`."""

Weighed = list[tuple[Hypothesis, float]]


def causes_of(head: Head, weighed: Weighed) -> tuple[CauseProbability, ...]:
    """Every cause with its wires, most probable first; ties in the order of `WINDING_CAUSES`, then of the wires."""
    total: dict[tuple[str, tuple[str, ...]], float] = {}
    cut = 0.0
    for hypothesis, probability in weighed:
        if probability < CUT_BELOW:
            cut += probability
            continue
        members = hypothesis.klass.members
        for wires, share in _spread(members, hypothesis.places).items():
            key = (hypothesis.cause, head.wires.label(wires))
            total[key] = total.get(key, 0.0) + probability * share
    rows = [CauseProbability(cause=cause, wires=wires, probability=p) for (cause, wires), p in total.items()]
    rows.sort(key=lambda row: (-round(row.probability, 6), WINDING_CAUSES.index(row.cause), row.wires))
    if cut > 0.0:
        rows.append(CauseProbability(cause="other", probability=cut))
    return tuple(rows)


def commons_of(head: Head, weighed: Weighed) -> tuple[CommonProbability, ...]:
    """Candidates for the common wire or pair of commons, most probable first; none where the leader has none."""
    leader = next((hypothesis for hypothesis, _ in weighed if hypothesis.arrangement), None)
    if leader is None or not LAYOUTS[leader.arrangement].commons:
        return ()
    total: dict[tuple[str, ...], float] = {}
    for hypothesis, probability in weighed:
        if probability < CUT_BELOW or hypothesis.arrangement != leader.arrangement:
            continue
        places = LAYOUTS[hypothesis.arrangement].commons
        for wires, share in _spread(hypothesis.klass.members, places).items():
            label = head.wires.label(wires)
            total[label] = total.get(label, 0.0) + probability * share
    everything = sum(total.values())
    rows = [CommonProbability(wires=wires, probability=p / everything) for wires, p in total.items()]
    rows.sort(key=lambda row: (-round(row.probability, 6), row.wires))
    return tuple(rows)


def _spread(members: Iterable[tuple[int, ...]], places: tuple[int, ...]) -> dict[tuple[int, ...], float]:
    """The wires at some places, over all members of a class."""
    if not places:
        return {(): 1.0}
    found: dict[tuple[int, ...], float] = {}
    members = list(members)
    share = 1.0 / len(members)
    for member in members:
        wires = tuple(sorted([member[place] for place in places]))
        found[wires] = found.get(wires, 0.0) + share
    return found
