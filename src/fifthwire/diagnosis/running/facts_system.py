"""What the system as a whole shows: how wide its valves are commanded, its subcooling, its condensing temperature."""

from collections.abc import Mapping, Sequence
from math import hypot
from statistics import median
from typing import Final

from fifthwire.diagnosis.running.facts_units import CoilSeen, bands

NARROW_UNDER: Final = 0.20
WIDE_OVER: Final = 0.68
FULL_OVER: Final = 0.95
MEDIAN_U: Final = 0.03
"""Median command of the units that run.  [share of full stroke]  Judgement: 0.27 to 0.41 in ordinary conditions
(computed: steady circuit); sized otherwise, half to two thirds."""
FEWEST: Final = 3
"""Fewer running units than this have no median worth the name.  [1]"""

NONE_UNDER_K: Final = 2.5
LITTLE_UNDER_K: Final = 4.5
MUCH_OVER_K: Final = 13.8
FAR_OVER_K: Final = 17.0
"""Subcooling of the liquid that leaves the outdoor unit.  [K]  Common practice: 5 to 15 K after a subcooler."""
NORMAL_HEATING_K: Final = 3.0
"""Subcooling leaving indoor coils in heating: under this it is little.  [K]  Judgement."""

APPROACH_IDLE_K: Final = 4.0
APPROACH_LOAD_K: Final = 8.0
"""Condensing over outdoor temperature: at next to no load, and what full load adds.  [K]  Judgement; 10 K at rated
load is the steady circuit's."""
APPROACH_HIGH_K: Final = 4.0
APPROACH_FAR_K: Final = 6.5
APPROACH_U_K: Final = 1.5
"""So much over that is high, and far too high.  [K]  Judgement."""

SUCTION_NONE_K: Final = 1.0
SUCTION_PLENTY_K: Final = 3.0
DRY_U_K: Final = 2.5
NEAR_K: Final = 1.5
"""Edges of suction superheat; what the dry discharge superheat is not known by, and how near it counts as at it.  [K]
Computed: steady circuit, 2 K (R410A) to 3 K (R32) a per cent of liquid."""


def commands_outcome(coils: Sequence[CoilSeen]) -> Mapping[str, float] | None:
    """How wide the valves of the units that cool are commanded; None where fewer than three are known."""
    commands = [one.command for one in coils if one.is_on and one.is_cooling and one.command is not None]
    if len(commands) < FEWEST:
        return None
    names = ["narrow", "usual", "wide", "full"]
    return _coded("commands", bands(median(commands), MEDIAN_U, [NARROW_UNDER, WIDE_OVER, FULL_OVER], names))


def subcooling_outcome(
    subcooling_k: float | None, u_k: float, *, has_subcooler: bool = True
) -> Mapping[str, float] | None:
    """Whether the liquid that leaves the outdoor unit is subcooled as it should be; None where that is not known."""
    if subcooling_k is None:
        return None
    little = LITTLE_UNDER_K if has_subcooler else NORMAL_HEATING_K
    names = ["none", "little", "normal", "much", "far"]
    return _coded("subcooling", bands(subcooling_k, u_k, [NONE_UNDER_K, little, MUCH_OVER_K, FAR_OVER_K], names))


def without_subcooler(outcome: Mapping[str, float] | None, share: float) -> Mapping[str, float] | None:
    """Subcooling that says less, the surer it is that the subcooler's bypass passes nothing: it does not subcool then.

    Parameters
    ----------
    outcome : mapping or None
        Weights of the outcomes. [1]
    share : float
        How surely next to nothing passes the bypass. [1]
    """
    if outcome is None:
        return None
    return {code: (1.0 - share) * weight + share / len(outcome) for code, weight in outcome.items()}


def condensing_outcome(condensing_c: float | None, ambient_c: float | None, load: float) -> Mapping[str, float] | None:
    """Whether it condenses further above the air outside than its load asks for; None where that is not known.

    Parameters
    ----------
    condensing_c, ambient_c : float or None
        [°C]
    load : float
        Share of the indoor units that run. [1]
    """
    if condensing_c is None or ambient_c is None:
        return None
    over = condensing_c - ambient_c - APPROACH_IDLE_K - APPROACH_LOAD_K * load
    return _coded("condensing", bands(over, APPROACH_U_K, [APPROACH_HIGH_K, APPROACH_FAR_K], ["usual", "high", "far"]))


def suction_outcome(suction_superheat_k: float | None, u_k: float) -> Mapping[str, float] | None:
    """Whether the suction is superheated; None where that is not known."""
    if suction_superheat_k is None:
        return None
    names = ["none", "some", "plenty"]
    return _coded("suction", bands(suction_superheat_k, u_k, [SUCTION_NONE_K, SUCTION_PLENTY_K], names))


def discharge_outcome(
    discharge_superheat_k: float | None, dry_superheat_k: float | None, band_k: float
) -> Mapping[str, float] | None:
    """Discharge superheat against that of dry suction; None where either is not known.

    Parameters
    ----------
    discharge_superheat_k, dry_superheat_k : float or None
        As read, and what dry saturated suction gives. [K]
    band_k : float
        Standard uncertainty of the dry one, by the compressor's efficiency. [K]
    """
    if discharge_superheat_k is None or dry_superheat_k is None:
        return None
    over = discharge_superheat_k - dry_superheat_k
    weights = bands(over, hypot(DRY_U_K, band_k), [-NEAR_K, NEAR_K], ["below", "near", "above"])
    return _coded("discharge", weights)


def _coded(question: str, weights: Mapping[str, float]) -> dict[str, float]:
    return {f"{question}.{name}": weight for name, weight in weights.items()}
