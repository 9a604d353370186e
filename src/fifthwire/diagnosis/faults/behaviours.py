"""What a valve and its coil do while the system runs, and how often a valve with each cause does it.

Running readings do not show a cause; they show that a valve stands wider than it is told, or narrower, or that a sensor
misreads. Each cause makes a valve behave in a few ways, so every running fact needs one line a behaviour and not one a
cause. None of the shares has a published source: all are judgement.
"""

from collections.abc import Mapping
from typing import Final

BEHAVIOURS: Final = (
    "follows",
    "short",
    "wide",
    "narrow",
    "still",
    "leaks",
    "reads-high",
    "reads-low",
    "starved",
    "dirty",
)
"""What a valve and its coil may do:
`follows` goes where it is told and shuts; `short` follows, and the whole system has too little liquid to offer;
`wide` stands more open than it is told; `narrow` less open; `still` does not move and stands where it is needed;
`leaks` follows and passes when shut; `reads-high`, `reads-low` a sensor of its coil shows too much or too little of
what
the valve holds; `starved` follows, and too little reaches it; `dirty` follows, and its coil gets too little air."""

BEHAVES: Final = """
# cause              behaviours with their shares
sound                follows 1
winding              wide 0.25  narrow 0.25  still 0.40  follows 0.10
head-jammed          wide 0.30  narrow 0.30  still 0.40
head-cracked         wide 0.12  narrow 0.12  still 0.16  follows 0.60
head-unseated        wide 0.22  narrow 0.22  still 0.31  follows 0.25
body-stuck-open      wide 0.80  still 0.20
body-stuck-closed    narrow 0.90  still 0.10
leaks-when-shut      leaks 1
plug-or-harness      wide 0.20  narrow 0.20  still 0.30  follows 0.30
board-output         wide 0.25  narrow 0.25  still 0.40  follows 0.10
sensor               reads-high 0.50  reads-low 0.50
wrong-head           wide 0.05  narrow 0.05  still 0.10  follows 0.80
refrigerant-side     starved 0.40  dirty 0.60
"""
"""How often a valve with each cause behaves how.  [1]  Judgement."""

SHORT_OF_LIQUID: Final = (
    "overfed",
    "overfed-deep",
    "charge-low",
    "charge-low-deep",
    "line-restriction",
    "line-restriction-deep",
)
"""States in which a valve that follows has too little liquid to work with."""
DEEP: Final = ("overfed-deep", "charge-low-deep", "line-restriction-deep")
"""States in which the valves stand wide open and no longer hold what they are to hold."""


def _parsed(table: str) -> dict[str, dict[str, float]]:
    rows: dict[str, dict[str, float]] = {}
    for line in table.strip().splitlines():
        if not line.startswith("#"):
            cause, *rest = line.split()
            rows[cause] = {name: float(share) for name, share in zip(rest[::2], rest[1::2], strict=True)}
    return rows


_IN_A_FINE_SYSTEM: Final = _parsed(BEHAVES)


def _in_state(state: str) -> dict[str, tuple[tuple[int, float], ...]]:
    shares: dict[str, Mapping[str, float]] = dict(_IN_A_FINE_SYSTEM)
    if state in SHORT_OF_LIQUID:
        shares = {c: {("short" if b == "follows" else b): p for b, p in by.items()} for c, by in shares.items()}
    if state in DEEP:
        shares["refrigerant-side"] = {"starved": 1.0}
    return {cause: tuple((BEHAVIOURS.index(b), p) for b, p in by.items()) for cause, by in shares.items()}


_BY_STATE: Final = {state: _in_state(state) for state in ("fine", *SHORT_OF_LIQUID)}


def behaves(cause: str, state: str) -> tuple[tuple[int, float], ...]:
    """Behaviours of a valve with this cause, as places in `BEHAVIOURS` with their shares.

    Parameters
    ----------
    cause : str
        Of the valve.
    state : str
        Of the system: where liquid is short, a valve that follows is `short`.

    Returns
    -------
    tuple
        (place, share) pairs, the shares summing to 1. [1]
    """
    return _BY_STATE.get(state, _BY_STATE["fine"])[cause]
