"""Readings of one pair taken again: one that two others contradict was a slipped or a missed probe, and is left out.

A doubtful reading asks for the same pair again; this is what becomes of it when that was done.
"""

from collections.abc import Sequence
from typing import Final

from fifthwire.model.assessment import Reason
from fifthwire.model.valve import Measurement, PairReading

AGREE_OHM: Final = 1.0
AGREE_FRAC: Final = 0.015
"""Readings of one pair closer than either agree.  [Ω], [1]  Judgement: several times touch and last digit."""
AGREEING: Final = 2
"""So many readings that agree stand against one that does not.  [1]  Common practice."""


def slipped(readings: Sequence[PairReading]) -> tuple[PairReading, ...]:
    """Readings that the others of their pair contradict.

    Parameters
    ----------
    readings : sequence of PairReading
        Of one measurement.

    Returns
    -------
    tuple of PairReading
        Of each pair one at most: where two or more finite readings of it agree and a single one is open, or higher.
    """
    by_pair: dict[frozenset[str], list[PairReading]] = {}
    for one in readings:
        by_pair.setdefault(frozenset((one.wire_a, one.wire_b)), []).append(one)
    return tuple(odd for pair in by_pair.values() if (odd := _odd_one(pair)) is not None)


def without_slipped(readings: tuple[PairReading, ...]) -> tuple[PairReading, ...]:
    """The readings that are judged."""
    odd = slipped(readings)
    return tuple(one for one in readings if not any(one is other for other in odd))


def slip_warnings(label: str, measurement: Measurement | None) -> list[Reason]:
    """What is said of the readings left out.

    Parameters
    ----------
    label : str
        Of the valve.
    measurement : Measurement or None
        The one that is judged.
    """
    readings = () if measurement is None else measurement.readings
    said = []
    for odd in slipped(readings):
        n_pair = sum({one.wire_a, one.wire_b} == {odd.wire_a, odd.wire_b} for one in readings)
        shown = "open" if odd.ohm is None else f"{odd.ohm:g} Ω"
        values = {"valve": label, "pair": f"{odd.wire_a} to {odd.wire_b}", "shown": shown, "n_agree": n_pair - 1}
        said.append(Reason(code="readings.slipped", values=values))
    return said


def _odd_one(pair: list[PairReading]) -> PairReading | None:
    if len(pair) <= AGREEING:
        return None
    ohms = sorted(one.ohm for one in pair if one.ohm is not None)
    opens = [one for one in pair if one.ohm is None]
    if len(opens) == 1 and len(ohms) == len(pair) - 1 and _agree(ohms):
        return opens[0]
    if not opens and _agree(ohms[:-1]) and not _agree(ohms):  # a slipped probe only ever adds ohms
        return max(pair, key=lambda one: one.ohm or 0.0)
    return None


def _agree(ohms: Sequence[float]) -> bool:
    return len(ohms) >= AGREEING and ohms[-1] - ohms[0] <= max(AGREE_OHM, AGREE_FRAC * ohms[0])
