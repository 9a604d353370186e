"""What a unit's coil holds, in words: where it stands among the others, whether it stands apart, its command."""

from collections.abc import Sequence
from statistics import median, quantiles
from typing import Final

from fifthwire.assessment.figures import number, percent, with_unit
from fifthwire.diagnosis.running.units import UnitSeen

APART_U: Final = 3.0
APART_K: Final = 1.5
"""So many standard uncertainties, and so much beside, from target and from the others stands apart.  [1], [K]  Our
choice for the drawing only."""
FEWEST_FOR_BAND: Final = 4


def middle_half(held: Sequence[float]) -> tuple[float, float] | None:
    """Where the middle half of the units lies; None where they are too few."""
    if len(held) < FEWEST_FOR_BAND:
        return None
    low, _, high = quantiles(held, n=4, method="inclusive")
    return low, high


def is_apart(one: UnitSeen, held: Sequence[float]) -> bool:
    """Whether a unit stands away from its target, or without one from the middle of all, by more than its doubt."""
    if one.held_k is None or one.u_k is None:
        return False
    at = one.target_k if one.target_k is not None else median(held) if len(held) >= FEWEST_FOR_BAND else None
    return at is not None and abs(one.held_k - at) > APART_U * one.u_k + APART_K


def rank_words(one: UnitSeen) -> str:
    """Where it stands among the units that run the same way."""
    if one.rank is None:
        return "no other to compare with"
    if one.rank == 1:
        return f"least of {one.n_ranked}"
    return f"most of {one.n_ranked}" if one.rank == one.n_ranked else f"{one.rank} of {one.n_ranked} from below"


def command_words(one: UnitSeen) -> str:
    """How far its valve is commanded open."""
    if one.command_frac is not None:
        return percent(round(one.command_frac, 2))
    return "not known" if one.command_pulses is None else with_unit(number(one.command_pulses, 0), "pulses")
