"""The readings of a head as they were taken: each state of it with its meter, its temperature and its spec."""

from collections.abc import Iterable
from typing import Final

from fifthwire.model.record import record
from fifthwire.model.valve import PairReading, Valve
from fifthwire.model.visit import Meter, Spec, Visit
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
COLDEST_C: Final = -15.0
HOTTEST_C: Final = 75.0
"""What a head may have where nobody took its temperature.  [°C]  Judgement, as the visit file's format states it."""


@record
class State:
    """One state of a head, measured."""

    when: str
    measured_at: str
    readings: tuple[PairReading, ...]
    head_c: float | None
    meter_name: str | None
    is_struck: bool = False

    @property
    def words(self) -> str:
        """When and where: "as found, at the head's own plug"."""
        return f"{WHEN_WORDS.get(self.when, self.when)}, {WHERE_WORDS.get(self.measured_at, self.measured_at)}"


def states_of(valve: Valve) -> tuple[State, ...]:
    """Every state of a head that was measured, in the order of the file.

    Parameters
    ----------
    valve : Valve
        Its own `readings` are short for the first: as found, at the head's plug.
    """
    first = State(
        when="as-found",
        measured_at="head-plug",
        readings=valve.readings,
        head_c=valve.head_temperature_c,
        meter_name=valve.meter,
    )
    further = (
        State(
            when=one.when,
            measured_at=one.measured_at,
            readings=one.readings,
            head_c=valve.head_temperature_c if one.head_temperature_c is None else one.head_temperature_c,
            meter_name=one.meter or valve.meter,
            is_struck=one.is_void,
        )
        for one in valve.measurements
    )
    return tuple(one for one in (first, *further) if one.readings)


def judged_state(valve: Valve) -> State | None:
    """The state that the verdict is of: the latest at the head's own plug.

    Parameters
    ----------
    valve : Valve
        As written.

    Returns
    -------
    State or None
        None where nothing was measured there.
    """
    at_the_head = [one for one in states_of(valve) if one.measured_at == "head-plug" and not one.is_struck]
    return at_the_head[-1] if at_the_head else None


def spec_of(visit: Visit, valve: Valve) -> Spec | None:
    """The spec that a valve names, if the file holds it."""
    return visit.specs.get(valve.spec) if valve.spec else None


def meter_of(visit: Visit, state: State) -> Meter | None:
    """The meter that a state was measured with, if the file holds it."""
    return visit.meters.get(state.meter_name) if state.meter_name else None


def spec_limits_ohm(spec: Spec) -> tuple[float, float] | None:
    """The lowest and highest resistance that a spec allows, at its own temperature.

    Returns
    -------
    tuple of float or None
        None without a resistance or a tolerance. [Ω]
    """
    if spec.resistance_ohm is None or spec.tolerance is None:
        return None
    half = spec.tolerance.ohm
    if half is None:
        half = (spec.tolerance.frac or 0.0) * spec.resistance_ohm
    return spec.resistance_ohm - half, spec.resistance_ohm + half


def spec_c(spec: Spec) -> float:
    """The temperature that a spec is stated for. [°C]"""
    return 20.0 if spec.at_c is None else spec.at_c


def band_ohm(spec: Spec, head_c: float | None) -> tuple[float, float] | None:
    """Where a good winding reads at the head's temperature; wider where nobody took that.

    Returns
    -------
    tuple of float or None
        None where the spec gives no limits. [Ω]
    """
    limits = spec_limits_ohm(spec)
    if limits is None:
        return None
    coldest, hottest = (COLDEST_C, HOTTEST_C) if head_c is None else (head_c, head_c)
    return (
        limits[0] * resistance_factor(spec_c(spec), coldest),
        limits[1] * resistance_factor(spec_c(spec), hottest),
    )


def resolution_ohm(meter: Meter | None, shown_ohm: float) -> float | None:
    """The last digit of a meter at a reading; None where the file does not say. [Ω]"""
    if meter is None:
        return None
    for one in meter.ranges:
        if one.to_ohm is None or shown_ohm <= one.to_ohm:
            return one.resolution_ohm or meter.resolution_ohm
    return meter.resolution_ohm


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
    """The pins of a plug: those touched, those named, and between numbers those left out.

    Parameters
    ----------
    readings : iterable of PairReading
        Of one state.
    also : iterable of str
        Wires named elsewhere: a stated common, the next pair.
    n_wires : int or None
        How many the arrangement has, where it is known.
    """
    seen = [wire for one in readings for wire in (one.wire_a, one.wire_b)] + list(also)
    if seen and n_wires is not None and all(name.isdecimal() and 1 <= int(name) <= n_wires for name in seen):
        seen += [str(pin) for pin in range(1, n_wires + 1)]
    return wires_in_order(seen)
