"""The running system in a few lines at the terminal: compressors, units that stand apart, sensors that are wrong."""

from collections.abc import Iterable, Sequence

from fifthwire.assessment.figures import counted, difference, listed, temperature
from fifthwire.assessment.running_states import CompressorJudged, RunningStates, running_states
from fifthwire.assessment.unit_words import command_words, is_apart, middle_half, rank_words
from fifthwire.assessment.valve_words import sentence
from fifthwire.diagnosis.running.sensor_checks import SensorSeen
from fifthwire.diagnosis.running.units import UnitSeen
from fifthwire.model.valve import Valve
from fifthwire.workflow.visits import AssessedVisit

WRONG = ("off", "open", "shorted")
LIQUID = {
    "likely": "liquid likely",
    "possible": "liquid not ruled out",
    "unlikely": "liquid unlikely",
    "unknown": "not known whether liquid comes",
}


def running_lines(assessed: AssessedVisit, *, units: str = "si") -> list[str]:
    """What the running system showed, a line a compressor, one for the units and one for the sensors.

    Parameters
    ----------
    assessed : AssessedVisit
        The visit and what was made of it.
    units : str
        "si" or "us".

    Returns
    -------
    list of str
        Empty where nothing of it was read.
    """
    states = running_states(assessed.visit)
    lines = [f"Compressor {one.seen.id}: {_compressor(one, units)}." for one in states.compressors]
    for runs, what in (("cooling", "superheat"), ("heating", "subcooling")):
        lines += _units(states, runs, what, units)
    return lines + _sensors(states.sensors, units)


def _compressor(one: CompressorJudged, units: str) -> str:
    seen = one.seen
    dry = (
        "" if seen.dry_discharge_superheat_k is None else f" (dry suction {_k(seen.dry_discharge_superheat_k, units)})"
    )
    figures = [
        ("suction superheat", seen.suction_superheat_k, ""),
        ("discharge superheat", seen.discharge_superheat_k, dry),
        ("subcooling", seen.subcooling_k, ""),
    ]
    said = [f"{name} {_k(value, units)}{more}" for name, value, more in figures if value is not None]
    return ", ".join([LIQUID[one.floodback], *said])


def _units(states: RunningStates, runs: str, what: str, units: str) -> Iterable[str]:
    ran = [one for one in states.units if one.runs == runs and one.held_k is not None]
    held = [one.held_k for one in ran if one.held_k is not None]
    if not held:
        return
    band = middle_half(held)
    middle = f", the middle half {_k(band[0], units)} to {_k(band[1], units)}" if band else ""
    apart = [f"{one.id} {_k(one.held_k, units)}" for one in ran if is_apart(one, held)]
    verb = "stands" if len(apart) == 1 else "stand"
    yield (
        f"{counted(len(ran), 'unit')} {runs}: {what} {_k(min(held), units)} to {_k(max(held), units)}{middle}."
        + (f" {listed(apart, most=6)} {verb} apart." if apart else "")
    )


def _sensors(sensors: Sequence[SensorSeen], units: str) -> list[str]:
    wrong = [f"{one.id} {_wrong(one, units)}" for one in sensors if one.verdict in WRONG]
    return [f"Sensors that cannot be right: {listed(wrong, most=6)}."] if wrong else []


def _wrong(one: SensorSeen, units: str) -> str:
    if one.off_by_k is not None:
        return f"off by {_k(one.off_by_k, units)}"
    if one.verdict != "off" or one.reads_c is None:
        return one.verdict
    return f"at {temperature(one.reads_c, units, 1)}"


def _k(value_k: float | None, units: str) -> str:
    return "not known" if value_k is None else difference(value_k, units, 1)


def running_of_valve(assessed: AssessedVisit, record: Valve, *, units: str = "si") -> list[str]:
    """What ran around one valve: its unit's coil, or the compressors of its outdoor unit.

    Parameters
    ----------
    assessed : AssessedVisit
        The visit and what was made of it.
    record : Valve
        The valve.
    units : str
        "si" or "us".
    """
    states = running_states(assessed.visit)
    lines = [text for one in states.units if one.id == record.unit for text in _unit_of_valve(one, units)]
    lines += [
        sentence(sign, units)
        for one in states.compressors
        if one.seen.id.partition("/")[0] == record.unit
        for sign in one.signs
    ]
    return lines


def _unit_of_valve(one: UnitSeen, units: str) -> Iterable[str]:
    if one.held_k is None:
        return
    what = "superheat" if one.runs == "cooling" else "subcooling"
    how = "two temperatures" if one.method == "two-temperatures" else "pressure"
    target = "" if one.target_k is None else f", target {_k(one.target_k, units)}"
    u = "" if one.u_k is None else f" ± {_k(one.u_k, units)}"
    stands = f"{rank_words(one)}; command {command_words(one)}"
    yield f"{one.id}: {what} {_k(one.held_k, units)}{u} by {how}{target}; {stands}."
    if one.by_pressure_k is not None:
        yield f"By pressure {_k(one.by_pressure_k, units)} ± {_k(one.u_by_pressure_k, units)}: another measurement."
