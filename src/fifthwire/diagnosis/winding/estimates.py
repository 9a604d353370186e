"""Each winding's resistance with its uncertainty, at the head's temperature and at the spec's."""

from math import sqrt

from fifthwire.diagnosis.winding.arrangements import LAYOUTS
from fifthwire.diagnosis.winding.case import WindingCase
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.diagnosis.winding.meter_noise import range_for
from fifthwire.model.assessment import WindingEstimate
from fifthwire.physics.copper import COPPER_INTERCEPT_K


def windings_of(head: Head, case: WindingCase, weighed: list[tuple[Hypothesis, float]]) -> tuple[WindingEstimate, ...]:
    """One row a winding under the leading hypothesis: the resistance it shows as it is, a shorted one its low value.

    The mean and the spread are taken over the hypotheses with the leader's arrangement, cause and wires.
    """
    leader = next(hypothesis for hypothesis, _ in weighed if hypothesis.arrangement)
    layout, member = LAYOUTS[leader.arrangement], leader.klass.members[0]
    key = _key(leader)
    alike = [
        (hypothesis, probability)
        for hypothesis, probability in weighed
        if hypothesis.cause == leader.cause and _key(hypothesis) == key
    ]
    rows = []
    for winding, (end, hub) in enumerate(zip(layout.ends, layout.common_of, strict=True)):
        wires = (member[hub], member[end]) if layout.commons else (member[end], member[hub])
        names = (head.wires.names[wires[0]], head.wires.names[wires[1]])
        if leader.broken == winding or not _is_read(head, member[end]):
            rows.append(WindingEstimate(wires=names, ohm=None, u_ohm=None, ohm_at_spec=None, u_ohm_at_spec=None))
            continue
        rows.append(_estimate(case, names, *_moments(alike, member[end])))
    return tuple(sorted(rows, key=lambda row: [head.wires.names.index(name) for name in row.wires]))


def _key(hypothesis: Hypothesis) -> tuple[object, ...]:
    if not hypothesis.arrangement:
        return ()
    layout, member = LAYOUTS[hypothesis.arrangement], hypothesis.klass.members[0]
    ends = frozenset((member[end], member[hub]) for end, hub in zip(layout.ends, layout.common_of, strict=True))
    return hypothesis.arrangement, hypothesis.cause, frozenset(member[p] for p in hypothesis.places), ends


def _is_read(head: Head, wire: int) -> bool:
    return any(wire in (reading.wire_a, reading.wire_b) for reading in head.gram.readings)


def _moments(alike: list[tuple[Hypothesis, float]], wire: int) -> tuple[float, float]:
    """Mean and variance of one winding over hypotheses that agree but for the bobbins."""
    total = mean = square = 0.0
    if not any(probability for _, probability in alike):  # readings that no head gives: their weights underflow alike
        alike = [(hypothesis, 1.0) for hypothesis, _ in alike]
    for hypothesis, probability in alike:
        layout, member = LAYOUTS[hypothesis.arrangement], hypothesis.klass.members[0]
        winding = next(index for index, end in enumerate(layout.ends) if member[end] == wire)
        ohm, variance = _shown(hypothesis, winding)
        total += probability
        mean += probability * ohm
        square += probability * (ohm * ohm + variance)
    mean /= total
    return mean, max(square / total - mean * mean, 0.0)


def _shown(hypothesis: Hypothesis, winding: int) -> tuple[float, float]:
    """Mean and variance of what one winding shows: where turns are shorted, what is left of it."""
    assert hypothesis.fit is not None
    layout, sized = LAYOUTS[hypothesis.arrangement], hypothesis.sized
    ohm = hypothesis.fit.centre_ohm + hypothesis.deviation()[winding]
    is_shorted = hypothesis.cause == "shorted-turns" and layout.ends[winding] in hypothesis.places
    if sized is None or not is_shorted:
        return ohm, hypothesis.covariance(winding, winding)
    lean = 1.0 + hypothesis.lean[winding]
    return ohm - sized.mean, hypothesis.fit.covariance[winding][winding] + lean**2 * sized.variance


def _estimate(case: WindingCase, names: tuple[str, str], ohm: float, variance: float) -> WindingEstimate:
    """With the meter's gain, and at the spec's temperature where both temperatures are known."""
    gain = range_for(case.meter, ohm).of_reading_frac / sqrt(3.0)
    u = sqrt(variance + (gain * ohm) ** 2)
    at_spec = u_at_spec = None
    if case.spec is not None and case.head.centre_c is not None:
        from_zero = COPPER_INTERCEPT_K + case.head.centre_c
        factor = (COPPER_INTERCEPT_K + case.spec.at_c) / from_zero
        at_spec = ohm * factor
        u_at_spec = factor * sqrt(u * u + (ohm * case.head.sd_k / from_zero) ** 2)
    return WindingEstimate(wires=names, ohm=ohm, u_ohm=u, ohm_at_spec=at_spec, u_ohm_at_spec=u_at_spec)
