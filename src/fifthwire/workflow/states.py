"""The states of a head that were measured: `readings` is the first, further ones stand in `measurements`."""

from dataclasses import replace

from fifthwire.assessment.windings import judged_measurement
from fifthwire.model.choices import MEASURED_WHEN
from fifthwire.model.valve import Measurement, PairReading, Valve


def latest_state(valve: Valve) -> int | None:
    """Which of the further measurements is the latest at the head's plug; None where that is `readings`.

    As found comes before after cleaning, and that before after replacement; within one, the order of the file.
    """
    at_plug = [at for at, of in enumerate(valve.measurements) if of.measured_at == "head-plug" and not of.is_void]
    return max(at_plug, key=lambda at: (MEASURED_WHEN.index(valve.measurements[at].when), at), default=None)


def judged_state(valve: Valve) -> int | None:
    """Which of the further measurements the verdict is of; None where that is `readings`."""
    judged = judged_measurement(valve)
    return next((at for at, of in enumerate(valve.measurements) if of is judged), None)


def state_when(valve: Valve, when: str) -> int | None:
    """Which measurement is the latest of that state at the head's plug: one past the end where there is none yet."""
    at_plug = [
        at
        for at, of in enumerate(valve.measurements)
        if of.measured_at == "head-plug" and of.when == when and not of.is_void
    ]
    if at_plug:
        return at_plug[-1]
    return None if when == "as-found" else len(valve.measurements)


def with_state(valve: Valve, state: int | None, when: str | None) -> Valve:
    """The valve with a measurement for that state, made where it is not there yet."""
    if state is None or state < len(valve.measurements):
        return valve
    return replace(valve, measurements=(*valve.measurements, Measurement(when=when or "as-found")))


def readings_of(valve: Valve, state: int | None) -> tuple[PairReading, ...]:
    """The readings of one state."""
    return valve.readings if state is None else valve.measurements[state].readings


def with_readings_of(valve: Valve, state: int | None, readings: tuple[PairReading, ...]) -> Valve:
    """The valve with other readings in one state."""
    if state is None:
        return replace(valve, readings=readings)
    states = list(valve.measurements)
    states[state] = replace(states[state], readings=readings)
    return replace(valve, measurements=tuple(states))
