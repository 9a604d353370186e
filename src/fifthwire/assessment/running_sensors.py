"""The temperature sensors of a visit: those checked with the meter, and those that a moment shows cannot be right."""

from collections.abc import Iterable, Sequence
from math import isinf, sqrt
from statistics import median

from fifthwire.assessment.conditions import meter_law
from fifthwire.assessment.running_moments import (
    compressors_of,
    condensing_c,
    evaporating_c,
    fluid_of,
    is_usable,
    outdoor_of,
)
from fifthwire.assessment.running_units import around_of, runs_as
from fifthwire.diagnosis.running.contradictions import contradictions, has_come_to_rest, turns
from fifthwire.diagnosis.running.sensor_checks import SensorSeen, checked
from fifthwire.diagnosis.running.sensor_orders import (
    FEWEST_FOR_MEDIAN,
    INLET_USUAL_K,
    OFF_LONG_ENOUGH_MIN,
    CoilAround,
    at_standstill,
    at_standstill_outdoors,
    impossible_in_cooling,
    impossible_in_heating,
    impossible_outdoors,
)
from fifthwire.diagnosis.running.units import GLIDE_SHARE
from fifthwire.model.running import Snapshot, UnitReadings
from fifthwire.model.visit import Visit

WORST = ("open", "shorted", "off", "undecided", "good")
"""Of several things said of a sensor the first of these is told."""


def sensors_seen(visit: Visit, moments: Sequence[Snapshot]) -> tuple[SensorSeen, ...]:
    """Every sensor that was checked, and every one that a moment tells something of.

    Parameters
    ----------
    visit : Visit
        Holds the sensors, their curves and the meters.
    moments : sequence of Snapshot
        Without readings that cannot be.

    Returns
    -------
    tuple of SensorSeen
        Each once, the checked ones first.
    """
    found = list(_checked(visit))
    for one in moments:
        if (one.mode or visit.system.mode) == "off":
            found += _at_rest(visit, one)
        elif is_usable(one):
            found += _impossible(visit, one)
    by_id: dict[str, SensorSeen] = {}
    for seen in found:
        before = by_id.get(seen.id)
        if before is None or WORST.index(seen.verdict) < WORST.index(before.verdict):
            by_id[seen.id] = seen
    return tuple(by_id.values())


def _checked(visit: Visit) -> Iterable[SensorSeen]:
    for one in visit.sensors:
        if not one.is_void:
            curve = visit.curves.get(one.curve) if one.curve is not None else None
            doubt = _u_of_reading(visit, one.meter, one.reading_ohm)
            yield checked(one.id, curve, one.reading_ohm, one.true_temperature_c, one.true_within_k, doubt)


def _u_of_reading(visit: Visit, meter: str | None, ohm: float | None) -> float:
    """Standard uncertainty of a resistance as a share of it. [1]"""
    if ohm is None or isinf(ohm) or ohm <= 0.0:
        return 0.0
    ranges = meter_law(visit.meters.get(meter or "")).ranges
    one = next((of for of in ranges if ohm <= of.to_ohm), ranges[-1])
    return (one.of_reading_frac + one.digits * one.resolution_ohm / ohm) / sqrt(3.0)


def _at_rest(visit: Visit, snapshot: Snapshot) -> Iterable[SensorSeen]:
    """What a standstill shows, if it is one; outdoors only where no unit has just been stopped."""
    outdoor = outdoor_of(visit, snapshot)
    if any(turns(unit) for unit in outdoor.values()):
        return
    for name, of in snapshot.units.items():
        yield from at_standstill(name, of)
    stopped = [of.off_minutes for of in snapshot.units.values() if of.off_minutes]
    if not stopped or min(stopped) >= OFF_LONG_ENOUGH_MIN:
        for name, unit in outdoor.items():
            if has_come_to_rest(unit):
                yield from at_standstill_outdoors(name, unit, snapshot.ambient_c)


def _impossible(visit: Visit, snapshot: Snapshot) -> Iterable[SensorSeen]:
    """What one steady moment of running shows."""
    mode = snapshot.mode or visit.system.mode
    around = around_of(visit, snapshot)
    boils = None if around.dew_c is None else around.dew_c - GLIDE_SHARE * around.glide_k
    if _is_contradicted(visit, snapshot, mode):
        boils = None
    for name, of in snapshot.units.items():
        runs = runs_as(of, mode)
        bounds = CoilAround(
            boils_c=boils,
            hottest_c=_hottest_c(visit, snapshot),
            inlets_c=_inlets_c([one for unit, one in snapshot.units.items() if unit != name], mode),
            is_mixed=mode == "mixed",
        )
        if runs == "cooling":
            yield from impossible_in_cooling(name, of, bounds)
        elif runs == "heating":
            yield from impossible_in_heating(name, of, bounds)
    yield from _outdoors(visit, snapshot, mode)


def _is_contradicted(visit: Visit, snapshot: Snapshot, mode: str | None) -> bool:
    fluid = fluid_of(visit)
    return fluid is not None and any(
        contradictions(fluid, one, snapshot, mode, name) for name, one in outdoor_of(visit, snapshot).items()
    )


def _hottest_c(visit: Visit, snapshot: Snapshot) -> float | None:
    """The hottest discharge; None unless that of every compressor is known."""
    read = [
        one.discharge_temperature_c
        for name, unit in outdoor_of(visit, snapshot).items()
        for one in compressors_of(name, unit).values()
        if one.speed_hz != 0.0
    ]
    known = [one for one in read if one is not None]
    return max(known) if known and len(known) == len(read) else None


def _inlets_c(others: Sequence[UnitReadings], mode: str | None) -> float | None:
    read = [one.liquid_pipe_c for one in others if one.liquid_pipe_c is not None and runs_as(one, mode) == "cooling"]
    return median(read) if len(read) >= FEWEST_FOR_MEDIAN else None


def _outdoors(visit: Visit, snapshot: Snapshot, mode: str | None) -> Iterable[SensorSeen]:
    fluid, inlets = fluid_of(visit), _inlets_c(list(snapshot.units.values()), mode)
    for name, unit in outdoor_of(visit, snapshot).items():
        if fluid is None or contradictions(fluid, unit, snapshot, mode, name):
            continue
        boils = evaporating_c(fluid, unit)
        is_proved = boils is not None and inlets is not None and INLET_USUAL_K[0] <= inlets - boils <= INLET_USUAL_K[1]
        discharges = [
            (label, one.discharge_temperature_c)
            for label, one in compressors_of(name, unit).items()
            if one.speed_hz != 0.0
        ]
        yield from impossible_outdoors(
            name,
            unit.suction_temperature_c,
            boils,
            discharges,
            condensing_c(fluid, unit),
            is_gauge_proved=is_proved,
        )
