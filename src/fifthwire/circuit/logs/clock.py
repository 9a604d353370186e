"""When a log runs, and what it knows from the start: its times, its seed, its recorder."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.model.errors import InputError

Array = NDArray[np.float64]

STEP_S: Final = 60.0
"""Of the moving equilibrium; shorter movements are those of the lags.  [s]  Our choice."""
SUMMER_UTC: Final = datetime(2026, 7, 6, tzinfo=UTC)
WINTER_UTC: Final = datetime(2026, 1, 12, tzinfo=UTC)
"""Mondays on which invented logs begin."""
MOST_DAYS: Final = 31.0
"""Of one log: longer ones are made in parts.  [days]  Our choice: a month of 40 units takes a gigabyte to work out."""
SHORTEST_PERIOD_S: Final = 1.0
LONGEST_PERIOD_S: Final = 900.0
"""Of a recorder.  [s]"""
DAY_S: Final = 86400.0


@dataclass(frozen=True)
class LogPlan:
    """What log is to be made."""

    days: float
    seed: int
    period_s: float = 60.0
    """Of the recorder.  [s]"""
    begins_days: float | None = None
    """When the faults begin; None: each at a time of its own, drawn.  [days from the start]"""
    start_utc: datetime = field(default=SUMMER_UTC)

    def __post_init__(self) -> None:
        if not 0.0 < self.days <= MOST_DAYS:
            raise InputError(f"a log of {self.days:g} days cannot be made", f"From a fraction to {MOST_DAYS:g} days.")
        if not SHORTEST_PERIOD_S <= self.period_s <= LONGEST_PERIOD_S:
            raise InputError(
                f"a recorder does not sample every {self.period_s:g} s",
                f"From {SHORTEST_PERIOD_S:g} s to {LONGEST_PERIOD_S / 60.0:g} min.",
            )
        if self.begins_days is not None and not 0.0 <= self.begins_days <= self.days:
            raise InputError(
                f"the faults would begin {self.begins_days:g} days into a log of {self.days:g}", "Begin them inside it."
            )

    def steps_s(self) -> Array:
        """Times of the moving equilibrium from the start. [s]"""
        return np.asarray(np.arange(max(int(np.ceil(self.days * DAY_S / STEP_S)), 2)) * STEP_S, dtype=float)

    def samples_s(self) -> Array:
        """Times at which the recorder takes a row, from the start. [s]"""
        return np.asarray(np.arange(max(int(self.days * DAY_S / self.period_s), 1)) * self.period_s, dtype=float)

    def moment_utc(self, after_s: float) -> datetime:
        """The time of a moment of the log."""
        return self.start_utc + timedelta(seconds=float(after_s))


def hour_of_day(time_s: Array) -> Array:
    """The hour of a time from midnight at the start. [s] -> [h]"""
    return np.asarray(time_s / 3600.0 % 24.0)
