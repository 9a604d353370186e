"""Readings that one arrangement cannot give at any temperature a head of the spec can have.

A single fault must account for all of them at once: a fault of one wire touches every one of them, a stray reading is
the only one. That is a few comparisons, and spares most faults of most wrong arrangements their fit.
"""

from fifthwire.diagnosis.winding.arrangements import Layout
from fifthwire.diagnosis.winding.head import Head

N_SD = 5.0
"""Standard deviations of the scale that are allowed for."""

SCATTER = 0.04
"""Of a winding against the scale, five standard deviations. [1]"""

NOISE_OHM = 1.0
"""Of a reading beyond its own digits."""


def out_of_reach(head: Head, layout: Layout, member: tuple[int, ...], joined: tuple[int, ...]) -> list[int]:
    """Numbers of the joined readings out of a sound head's reach; none where there is no spec."""
    scale = head.spec_scale
    if scale is None:
        return []
    low = scale.centre_ohm * max(0.0, (1.0 - N_SD * scale.sd) * (1.0 - SCATTER))
    high = scale.centre_ohm * (1.0 + N_SD * scale.sd) * (1.0 + SCATTER)
    ends = {member[end] for end in layout.ends} if layout.commons else set()
    found = []
    for index in joined:
        reading = head.gram.readings[index]
        n_windings = (reading.wire_a in ends) + (reading.wire_b in ends) if layout.commons else 1
        allowed = NOISE_OHM + reading.noise.digits_ohm + reading.noise.rounding_ohm
        if not n_windings * low - allowed <= reading.net_ohm <= n_windings * high + allowed:
            found.append(index)
    return found


def wires_of_all(head: Head, readings: list[int]) -> frozenset[int] | None:
    """Wires that every one of these readings touches; None where there are no readings, so that all wires do."""
    if not readings:
        return None
    pairs = [{head.gram.readings[index].wire_a, head.gram.readings[index].wire_b} for index in readings]
    return frozenset(set.intersection(*pairs))


def touches_all(head: Head, readings: list[int], wires: tuple[int, int]) -> bool:
    """Whether every one of these readings touches one of two wires."""
    return all(
        head.gram.readings[index].wire_a in wires or head.gram.readings[index].wire_b in wires for index in readings
    )
