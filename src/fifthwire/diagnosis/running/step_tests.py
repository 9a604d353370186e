"""A command changed on purpose: whether what the valve holds answered as it should.

Closing by 5 % of the stroke raises superheat by some 6 K, opening by 2 % lowers it by some 2 K (computed: steady
circuit of 24 units, 1.2 K a per cent). In heating the same holds of subcooling.
"""

from collections.abc import Mapping
from typing import Final

from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.diagnosis.running.facts_units import bands

K_PER_STROKE: Final = 120.0
"""Superheat over share of full stroke.  [K]  Computed: steady circuit, 1.2 K a per cent near the working point."""
ANSWER_U_K: Final = 0.9
"""Of a difference of two superheats, by two temperatures each.  [K]  Two readings of 0.4 to 0.6 K (a measured day)."""
RESPONDS_FROM: Final = 0.30
"""Share of the answer to be expected from which a valve follows.  [1]  Judgement: the slope differs between units."""
DUE_FROM_K: Final = 2.5
"""A smaller answer than this cannot be told from noise.  [K]"""
MOST_K: Final = 18.0
"""Superheat cannot rise much above this: the room sets it.  [K]  Computed: steady circuit, room minus evaporating."""
SHORTEST_MIN: Final = 3.0
"""Too soon for silence to mean anything.  [min]  Judgement."""
WRONG_WAY_K: Final = 2.5
"""An answer the other way by more than this is no silence: something else changed too.  [K]  Judgement: nearly three
times the noise."""
FLOODED_UNDER_K: Final = 1.0
FLOODED_STROKE: Final = 0.15
"""A flooded coil answers only once the valve has closed a good deal.  [K], [share of full stroke]  Judgement."""


def step_test_fact(
    opening: tuple[float, float], superheat_k: tuple[float, float], minutes: float | None
) -> Fact | None:
    """What a step test shows.

    Parameters
    ----------
    opening : (float, float)
        Before and after, shares of full stroke. [1]
    superheat_k : (float, float)
        Before and after; subcooling in heating. [K]
    minutes : float or None
        How long was waited.

    Returns
    -------
    Fact or None
        None where the command was not changed.
    """
    change = opening[1] - opening[0]
    before, after = superheat_k
    if abs(change) < 1e-6:
        return None
    expected = _expected_k(change, before)
    values: dict[str, object] = {
        "opening": f"{abs(change):.0%} {'closed' if change < 0 else 'opened'}",
        "change_k": round(after - before, 1),
        "expected_k": round(expected, 0),
    }
    answer = (after - before) * (1.0 if expected >= 0 else -1.0)
    if abs(expected) < DUE_FROM_K and answer < DUE_FROM_K:
        return Fact(code="step-test.not-due", values=values)
    edge = max(RESPONDS_FROM * abs(expected), 1.2)
    weights = bands(answer, ANSWER_U_K, [-min(edge, WRONG_WAY_K), edge], ["wrong-way", "none", "responds"])
    if minutes is not None and minutes < SHORTEST_MIN and weights["responds"] < 0.5:
        return Fact(code="step-test.too-soon", values={**values, "minutes": minutes})
    return _soft(weights, values)


def _expected_k(change: float, before_k: float) -> float:
    """What should come of it, as far as there is room for it."""
    by_slope = -K_PER_STROKE * change
    if change > 0.0:
        return max(by_slope, -max(before_k, 0.0))
    if before_k < FLOODED_UNDER_K and -change < FLOODED_STROKE:
        return 0.0
    return min(by_slope, max(MOST_K - before_k, 0.0))


def _soft(weights: Mapping[str, float], values: Mapping[str, object]) -> Fact:
    codes = {f"step-test.{name}": weight for name, weight in weights.items()}
    return Fact(code=max(codes, key=lambda code: codes[code]), values=values, soft=codes)
