"""What people read of a winding's history: the drift test in words."""

from typing import Final

DRIFTS: Final = (
    "Winding {winding} drifts: it has {moved} by {change} against the other windings of its head in {years} years, "
    "{per_year} a year."
)
PAIR_DRIFTS: Final = (
    "Windings {winding} and {against} drift apart: by {change} in {years} years, {per_year} a year. "
    "Two windings do not tell which of them moves."
)
ALL_DRIFT: Final = (
    "All windings of this head have {moved} together by {change} in {years} years, {per_year} a year. "
    "Look at how the head's temperature was taken, and at the meter, before you look at the head."
)
BY_CHANCE: Final = "By chance this happens in fewer than 1 good head in {heads}."
WHAT_NEXT: Final = "Clean the pin, seat the probe and measure again before anything is replaced."
NO_DRIFT: Final = "No winding drifts: over {days} days in {years} years none moved against the others beyond chance."
TOO_FEW_DAYS: Final = (
    "Drift is looked for once a head was read, at a known temperature, on three days; this one was on {days}."
)
NOT_COMPARED: Final = "Drift cannot be looked for: too few windings were read at a known head temperature."
TEST: Final = (
    "The test: each winding's slope in time against the mean of the others of its head, so that the meter and the "
    "temperature of the day cancel; called a drift if chance alone gives it in fewer than 1 good head in 100, and if "
    "the change is 1 % or more."
)
ROSE, FELL = "risen", "fallen"
OPEN: Final = "open"
NO_VALUE: Final = "no head temperature"
NEW_HEAD: Final = "new head"
