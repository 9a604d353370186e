"""Whether liquid reaches the compressors, and which valve sends it: what was read of the outdoor units, as terms.

A valve that stands more open than it should sends liquid to the suction side of the outdoor units it feeds. Liquid that
nothing explains comes now and then too (too much charge, a start, an accumulator that is full).
"""

from collections.abc import Mapping
from itertools import chain, combinations
from typing import Final, TypeAlias

from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS
from fifthwire.diagnosis.faults.running_table import STATES, SUCTION_ROWS, SYSTEM_ROWS
from fifthwire.model.record import record

DryTerms: TypeAlias = Mapping[tuple[str, tuple[str, ...]], float]
"""State of the system, outdoor units that stay dry -> factor of the term; the empty set stands for "whatever"."""

UNEXPLAINED: Final = {"charge-high": 0.15, "charge-low": 0.005, "charge-low-deep": 0.003}
UNEXPLAINED_ELSE: Final = 0.02
"""How often liquid reaches a compressor though no valve sends it, by state.  [1]  Judgement."""

FLOODS_LESS: Final = {"charge-low": 0.3, "charge-low-deep": 0.1}
"""What a valve that stands wide sends where charge is low, against a full system.  [1]  Judgement that agrees with the
steady circuit: with too little charge discharge superheat is normal or high, never low."""

MOST_OUTDOOR: Final = 5
"""Outdoor units reckoned one by one; the terms double with each.  [1]  Our choice."""

NEED_LIQUID: Final = ("overfed", "overfed-deep")
"""States that are there only where liquid does reach a compressor."""

FLOODS_BY_ROLE: Final = {
    # role             wide   reads-high still
    "subcooler-bypass": (0.80, 0.30, 0.05),
    "injection": (0.85, 0.30, 0.10),
    "branch-subcooler": (0.60, 0.20, 0.05),
    "hot-gas-bypass": (0.02, 0.02, 0.01),
    "main": (0.85, 0.40, 0.03),
    "receiver": (0.30, 0.10, 0.03),
    "branch-liquid": (0.30, 0.10, 0.02),
    "branch-suction": (0.05, 0.02, 0.01),
    "branch-hot-gas": (0.05, 0.02, 0.01),
}
"""How often such a valve sends liquid to the compressor, standing wide, driven by a sensor that reads high, or standing
still.  [1]  Judgement that agrees with the steady circuit: a bypass at 80 % of its opening gives suction quality
0.97."""
INDOOR_UNITS_DILUTE: Final = 10.0
"""Among so many running units one fully open indoor valve floods as often as at most; among more, less often.  [1]
Computed: steady circuit, wet from one valve among 8 units (quality 0.938) and 24 (0.985), dry at 1.3 K among 40."""
MOST: Final = 0.65
"""How often it does at most: a valve that stands a little too wide sends its coil's superheat only.  [1]  Judgement."""


@record
class OutdoorSeen:
    """What was read of one outdoor unit: weights of the outcomes of each look, by code."""

    id: str
    suction: tuple[Mapping[str, float], ...] = ()
    """Outcomes that hang on whether liquid comes.  [1]"""
    system: tuple[Mapping[str, float], ...] = ()
    """Outcomes that hang on the state of the system.  [1]"""


def floods(role: str, *, n_running: int, in_heating: bool, is_on: bool = True) -> tuple[float, ...]:
    """How often a valve floods the outdoor unit it feeds, by behaviour.

    Parameters
    ----------
    role : str
        Of the valve.
    n_running : int
        Indoor units that run: they dilute what one of them sends.
    in_heating : bool
        Indoor valves feed liquid lines then, not the suction side; outdoor main valves feed it.
    is_on : bool
        Whether its unit runs.

    Returns
    -------
    tuple of float
        In the order of `BEHAVIOURS`. [1]
    """
    if (role == "indoor") == in_heating and role in ("indoor", "main"):
        return (0.0,) * len(BEHAVIOURS)
    if role == "indoor":
        wide = MOST * min(1.0, INDOOR_UNITS_DILUTE / max(n_running, 1))
        by = {"wide": wide, "reads-high": 0.6 * wide, "leaks": 0.0 if is_on else 0.5 * wide, "dirty": 0.05 * wide}
    else:
        wide, high, still = FLOODS_BY_ROLE.get(role, (0.1, 0.05, 0.01))
        by = {"wide": wide, "reads-high": high, "still": still}
    return tuple(by.get(one, 0.0) for one in BEHAVIOURS)


def dry_terms(outdoor: tuple[OutdoorSeen, ...], shared: tuple[Mapping[str, float], ...] = ()) -> DryTerms:
    """The terms of what was read of the whole system.

    Parameters
    ----------
    outdoor : tuple of OutdoorSeen
        One an outdoor unit; only those that run.
    shared : tuple of mapping
        Outcomes that hang on the state of the system and belong to no one outdoor unit, by code.

    Returns
    -------
    DryTerms
        By state and set of outdoor units that stay dry.
    """
    seen = [one for one in outdoor if one.suction or one.system][:MOST_OUTDOOR]
    ids = tuple(one.id for one in seen)
    sets = tuple(chain.from_iterable(combinations(ids, n) for n in range(len(ids) + 1)))
    terms: dict[tuple[str, tuple[str, ...]], float] = {}
    for column, state in enumerate(STATES):
        by_dry = {dry: _likelihood(seen, shared, state, column, set(dry)) for dry in sets}
        stays = 1.0 - UNEXPLAINED.get(state, UNEXPLAINED_ELSE)
        for dry in sets:
            signed = ((-1.0) ** (len(dry) - len(inner)) * by_dry[inner] for inner in sets if set(inner) <= set(dry))
            terms[state, dry] = sum(signed) * stays ** len(dry)
    return terms


def _likelihood(
    seen: list[OutdoorSeen], shared: tuple[Mapping[str, float], ...], state: str, column: int, dry: set[str]
) -> float:
    """Of all that was read, where exactly these outdoor units stay dry."""
    if state in NEED_LIQUID and len(dry) == len(seen):
        return 0.0
    whole = 1.0
    for one in seen:
        is_dry = one.id in dry
        for outcome in one.suction:
            whole *= sum(w * SUCTION_ROWS[code].likelihood[int(is_dry)] for code, w in outcome.items())
    for outcome in (*shared, *(of for one in seen for of in one.system)):
        whole *= sum(weight * SYSTEM_ROWS[code].likelihood[column] for code, weight in outcome.items())
    return whole
