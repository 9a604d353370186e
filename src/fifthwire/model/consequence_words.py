"""What is said of a valve that is left as it is; every figure comes from a simulation, and each sentence says so."""

from math import ceil, floor
from typing import Final

ASSUMED: Final = (
    "If it is left: simulated, not measured here. A steady state of {refrigerant} with {units} indoor units in {mode},"
    " generic sizes, valve curves from concave to linear; not validated on a machine in the field."
)
SIZE_TAKEN: Final = " The visit does not tell how many indoor units there are."
START: Final = {
    "open": "If it is left open, {open}.",
    "shut": "If it is left shut, {shut}.",
    "leaks": "If it is left, it passes liquid while its unit is off; {leaks}.",
    "anywhere": "If it is left, it stays where it stopped: {open}; nearly shut, {shut}.",
    "anywhere-open": "If it is left, it stays where it stopped: {open}.",
}
FLOODS: Final = "{begins} liquid reaches the compressor with a third of the units on ({at_full})"
AT_FULL_NEVER: Final = "with all units on it does not"
AT_FULL_SOME: Final = "with all units on only by the valves of the largest units"
AT_FULL_ALL: Final = "with all units on {begins}"
DRY: Final = "even wide open the suction stays dry in every load that was simulated"
NO_INDOOR_SIGN: Final = ", and no indoor unit's superheat shows it"
ROOM: Final[dict[str, str]] = {
    "cooling": "its room is not cooled and the system loses {lost} of its capacity",
    "heating": "its room is not heated and the system loses {lost} of its capacity",
}
PLANT_LOSES: Final = "the system loses {lost} of its capacity"
MAIN_STARVES: Final = "its outdoor coil starves and the low-pressure protection stops the compressor"
LEAKS_FLOOD: Final = (
    "with a third of the other units on, liquid reaches the compressor once as much passes as at {begins} opening"
)
LEAKS_DRY: Final = "the suction stays dry in every load that was simulated"
STEP_PERCENT: Final = 5
"""To which an opening is rounded: the model bears no more.  [%]  Our choice."""


def begins_words(low: float, high: float | None) -> str:
    """From which opening on something begins.

    Examples
    --------
    >>> begins_words(0.47, 0.55), begins_words(0.0, 0.04), begins_words(0.52, None)
    ('from 45 to 55\xa0% opening', 'as soon as it opens', 'from 50\xa0% opening or more')
    """
    if high is not None and high * 100.0 <= STEP_PERCENT:
        return "as soon as it opens"
    if high is None:
        return f"from {floor(round(low * 100.0, 6) / STEP_PERCENT) * STEP_PERCENT}\xa0% opening or more"
    return f"from {about(low, high)} opening"


def about(low: float, high: float | None) -> str:
    """A range of openings, rounded outwards; open-ended where some valves never do it.

    Examples
    --------
    >>> about(0.47, 0.55), about(0.52, None), about(0.3, 0.3)
    ('45 to 55\\xa0%', '50\\xa0% or more', 'about 30\\xa0%')
    """
    start = floor(round(low * 100.0, 6) / STEP_PERCENT) * STEP_PERCENT
    if high is None:
        return f"{start}\xa0% or more"
    end = ceil(round(high * 100.0, 6) / STEP_PERCENT) * STEP_PERCENT
    return f"about {start}\xa0%" if start == end else f"{start} to {end}\xa0%"


def share(low: float, high: float) -> str:
    """A share of capacity.

    Examples
    --------
    >>> share(0.014, 0.24), share(0.0, 0.004), share(0.01, 0.01)
    ('1 to 24\\xa0%', 'less than 1\\xa0%', 'about 1\\xa0%')
    """
    least, most = round(max(low, 0.0) * 100.0), round(max(high, 0.0) * 100.0)
    if most < 1:
        return "less than 1\xa0%"
    return f"about {most}\xa0%" if least == most else f"{least} to {most}\xa0%"
