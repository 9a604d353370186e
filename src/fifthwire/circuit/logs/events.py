"""What a controller does of itself: oil return, defrost, and driving its valves shut to find zero."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from fifthwire.circuit.logs.clock import STEP_S, Array, hour_of_day

OIL_EVERY_S: Final = 8.0 * 3600.0
OIL_S: Final = 300.0
OIL_OPENING_FRAC: Final = 0.6
OIL_SPEED_FRAC: Final = 0.7
"""After so long of running all indoor valves open this far for so long, at this speed.  Our choice of a usual kind."""
DEFROST_BELOW_C: Final = 5.0
DEFROST_EVERY_S: Final = 75.0 * 60.0
DEFROST_S: Final = 360.0
"""Of a heating plant in frost.  [°C], [s]  Our choice of a usual kind."""
ZERO_HOUR: Final = 3.2
ZERO_S: Final = 120.0
"""Every night the valves of what stands are opened and driven shut.  [h], [s]  Our choice."""


@dataclass(frozen=True)
class Events:
    """Flags of every step."""

    oil_return: NDArray[np.bool_]
    defrost: NDArray[np.bool_]
    finding_zero: NDArray[np.bool_]


def events(time_s: Array, runs: NDArray[np.bool_], ambient_c: Array, *, is_heating: bool, rng: Generator) -> Events:
    """When a controller leaves its usual work.

    Parameters
    ----------
    time_s : array
        From midnight.  [s]
    runs : array
        Whether the compressors run.
    ambient_c : array
        [°C]
    is_heating : bool
        Whether there is frost to melt.
    rng : Generator
        Draws how far into its first period the plant is.
    """
    first_s = float(rng.uniform(0.2, 1.0)) * OIL_EVERY_S
    oil = _every(runs, OIL_EVERY_S, OIL_S, first_s)
    frosts = runs & (ambient_c < DEFROST_BELOW_C) & is_heating
    defrost = _every(frosts, DEFROST_EVERY_S, DEFROST_S, 0.5 * DEFROST_EVERY_S) & runs
    since = (hour_of_day(time_s) - ZERO_HOUR) * 3600.0
    return Events(
        oil_return=oil & runs & ~defrost, defrost=defrost, finding_zero=(since >= 0.0) & (since < ZERO_S) & ~runs
    )


def _every(runs: NDArray[np.bool_], every_s: float, lasts_s: float, ran_s: float) -> NDArray[np.bool_]:
    """True for a while after every so much running."""
    ran = np.cumsum(runs) * STEP_S + ran_s
    since = ran % every_s
    return np.asarray(runs & (ran >= every_s) & (since < lasts_s))


def spans_s(flags: NDArray[np.bool_], time_s: Array) -> list[tuple[float, float]]:
    """Start and end of every run of true flags. [s]

    Examples
    --------
    >>> spans_s(np.array([False, True, True, False, True]), np.arange(5) * 60.0)
    [(60.0, 180.0), (240.0, 300.0)]
    """
    edges = np.diff(np.concatenate([[0], flags.astype(int), [0]]))
    ends = np.append(time_s, time_s[-1] + STEP_S)
    return [
        (float(ends[a]), float(ends[b]))
        for a, b in zip(np.flatnonzero(edges == 1), np.flatnonzero(edges == -1), strict=True)
    ]
