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
    "unfilled",
    "overfull",
)
"""What a valve and its coil may do:
`follows` goes where it is told and shuts; `short` follows, and the whole system has too little liquid to offer;
`wide` stands more open than it is told; `narrow` less open; `still` does not move and stands where it is needed;
`leaks` follows and passes when shut; `reads-high`, `reads-low` a sensor of its coil shows too much or too little of
what the valve holds; `starved` follows, and too little reaches it; `dirty` follows, and its coil gets too little air;
in heating, where the valve holds subcooling, `unfilled` and `overfull` follow while the system has too little or too
much to fill the coil."""

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


IN_HEATING: Final = {
    "overfed": "unfilled",
    "overfed-deep": "unfilled",
    "charge-low": "unfilled",
    "charge-low-deep": "unfilled",
    "charge-high": "overfull",
}
"""State -> what a valve that holds subcooling does in place of `follows`."""


def _in_state(state: str, *, in_heating: bool) -> dict[str, tuple[tuple[int, float], ...]]:
    shares: dict[str, Mapping[str, float]] = dict(_IN_A_FINE_SYSTEM)
    instead = IN_HEATING.get(state) if in_heating else "short" if state in SHORT_OF_LIQUID else None
    if instead is not None:
        shares = {c: {(instead if b == "follows" else b): p for b, p in by.items()} for c, by in shares.items()}
    if state in DEEP and instead is not None:
        shares["refrigerant-side"] = {"unfilled" if in_heating else "starved": 1.0}
    return {cause: tuple((BEHAVIOURS.index(b), p) for b, p in by.items()) for cause, by in shares.items()}


_BY_STATE: Final = {
    (state, in_heating): _in_state(state, in_heating=in_heating)
    for state in ("fine", "charge-high", *SHORT_OF_LIQUID)
    for in_heating in (False, True)
}


def behaves(cause: str, state: str, *, in_heating: bool = False) -> tuple[tuple[int, float], ...]:
    """Behaviours of a valve with this cause, as places in `BEHAVIOURS` with their shares.

    Parameters
    ----------
    cause : str
        Of the valve.
    state : str
        Of the system: where liquid is short, a valve that follows is `short`.
    in_heating : bool
        Whether it holds the subcooling of a coil that heats.

    Returns
    -------
    tuple
        (place, share) pairs, the shares summing to 1. [1]
    """
    return _BY_STATE.get((state, in_heating), _BY_STATE["fine", in_heating])[cause]
