"""The readings of a head as a report tells them: where and when they were taken, what they should be, which pins."""

from collections.abc import Iterable
from math import floor, log10
from typing import Final

from fifthwire.assessment.conditions import head_temperature, meter_law, meter_name, spec_law
from fifthwire.assessment.figures import NO_BREAK_HYPHEN
from fifthwire.model.valve import Measurement, PairReading, Valve
from fifthwire.model.visit import Spec, Visit
from fifthwire.physics.copper import resistance_factor

WHEN_WORDS: Final = {
    "as-found": "as found",
    "after-cleaning": "after cleaning",
    "after-replacement": "after replacement",
}
WHERE_WORDS: Final = {
    "head-plug": "at the head's own plug",
    "through-harness": "through the harness",
    "board-plug": "at the board's plug",
}
WIRES_OF: Final = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4, "single-2": 2}
"""How many wires an arrangement has.  [1]"""


def state_words(measurement: Measurement) -> str:
    """When and where a measurement was taken: "as found, at the head's own plug"."""
    return f"{WHEN_WORDS[measurement.when]}, {WHERE_WORDS[measurement.measured_at]}"


def meter_words_of(visit: Visit, valve: Valve, measurement: Measurement) -> str:
    """The meter a measurement was taken with, by its name in the file."""
    return meter_name(visit, valve, measurement) or "that is not named"


def band_ohm(spec: Spec | None, valve: Valve, measurement: Measurement) -> tuple[float, float] | None:
    """Where a good winding reads at the head's temperature; wider where nobody took that.

    Parameters
    ----------
    spec : Spec or None
        What one winding should read.
    valve : Valve
        Says the head's temperature, unless the measurement does.
    measurement : Measurement
        The one that is judged.

    Returns
    -------
    tuple of float or None
        None without a spec or without its resistance. [Ω]
    """
    law = spec_law(spec)
    if law is None:
        return None
    head = head_temperature(valve, measurement)
    coldest, hottest = (head.low_c, head.high_c) if head.centre_c is None else (head.centre_c, head.centre_c)
    low, high = ((1.0 + side * law.tolerance_frac) * law.resistance_ohm for side in (-1.0, 1.0))
    return low * resistance_factor(law.at_c, coldest), high * resistance_factor(law.at_c, hottest)


def reading_figure(reading: PairReading, visit: Visit, valve: Valve, measurement: Measurement) -> str:
    """Ohms with the digits that the meter showed, or "open"; never fewer than were written down."""
    if reading.ohm is None:
        return "open"
    name = meter_name(visit, valve, measurement)
    ranges = meter_law(visit.meters[name] if name is not None else None).ranges
    taken_on = next((one for one in ranges if reading.ohm <= one.to_ohm), ranges[-1])
    by_meter = max(0, -floor(log10(taken_on.resolution_ohm) + 1e-9)) if taken_on.resolution_ohm > 0.0 else 0
    written = f"{reading.ohm:.6g}".partition(".")[2]
    return f"{reading.ohm:.{max(by_meter, len(written) if written.isdigit() else 0)}f}"


def pair_words(wire_a: str, wire_b: str) -> str:
    """Two wires as people write them, never parted at the end of a line: "5-1"."""
    return f"{wire_a}{NO_BREAK_HYPHEN}{wire_b}"


def wires_in_order(wires: Iterable[str]) -> tuple[str, ...]:
    """Wire names as pins stand: numbers by value, then words as they came.

    Examples
    --------
    >>> wires_in_order(["5", "1", "10", "white", "2"])
    ('1', '2', '5', '10', 'white')
    """
    named = list(dict.fromkeys(wires))
    return tuple(sorted(named, key=lambda name: (0, int(name)) if name.isdecimal() else (1, 0)))


def pins_of(readings: Iterable[PairReading], also: Iterable[str], n_wires: int | None) -> tuple[str, ...]:
    """The pins of a plug: those touched, those named, and of numbered ones those left out.

    Parameters
    ----------
    readings : iterable of PairReading
        Of one measurement.
    also : iterable of str
        Wires named elsewhere: a stated common, the next pair.
    n_wires : int or None
        How many the arrangement has, where it is known.
    """
    seen = [wire for one in readings for wire in (one.wire_a, one.wire_b)] + list(also)
    if seen and n_wires is not None and all(name.isdecimal() and 1 <= int(name) <= n_wires for name in seen):
        seen += [str(pin) for pin in range(1, n_wires + 1)]
    return wires_in_order(seen)
