"""What gauges and controller show of the running system: compressors, units and sensors, as they are printed."""

from collections.abc import Iterable, Mapping
from math import isinf, sqrt
from statistics import median
from typing import Any, Final

from fifthwire.assessment.conditions import meter_law
from fifthwire.assessment.running_moments import (
    STEADY_AFTER_MIN,
    U_BY_PRESSURE_K,
    U_TWO_TEMPERATURES_K,
    outdoor_of,
    share_of_stroke,
)
from fifthwire.diagnosis.running.floodback import CompressorSeen, dry_band_k, floodback, quality_of, worst_of
from fifthwire.diagnosis.running.sensor_checks import SensorSeen, at_standstill, checked, impossible_in_cooling
from fifthwire.model.assessment import Reason
from fifthwire.model.errors import NoSolution, RangeError
from fifthwire.model.record import record
from fifthwire.model.running import CompressorReadings, OutdoorReadings, Snapshot, UnitReadings
from fifthwire.model.visit import Visit
from fifthwire.physics.refrigerants import Refrigerant, refrigerant

PLACES_K: Final = 2
PLACES_QUALITY: Final = 4
OPEN_FROM: Final = 0.02
"""An injection or hot-gas valve commanded this far is open.  [share of full stroke]  Judgement."""


@record
class RunningStates:
    """Rows as the assessment prints them, and what is doubtful."""

    compressors: tuple[Mapping[str, Any], ...]
    compressor: Mapping[str, Any]
    units: tuple[Mapping[str, Any], ...]
    sensors: tuple[Mapping[str, Any], ...]
    warnings: tuple[Reason, ...]


def running_states(visit: Visit) -> RunningStates:
    """States of the latest snapshot, and every sensor that was checked.

    Parameters
    ----------
    visit : Visit
        With or without snapshots.

    Returns
    -------
    RunningStates
        Figures that the readings do not give are None; nothing is told that the mode cannot tell.
    """
    moments = [one for one in ((visit.snapshot,) if visit.snapshot else ()) + visit.snapshots if not one.is_void]
    snapshot = moments[-1] if moments else None
    warnings: list[Reason] = []
    seen = [] if snapshot is None else _compressors(visit, snapshot, warnings)
    told = {one.id: floodback(one) for one in seen}
    worst = worst_of(tuple(told.values()))
    leader = next((one for one in seen if told[one.id] == worst), None)
    return RunningStates(
        compressors=tuple(_compressor_row(one, told[one.id]) for one in seen),
        compressor={
            "suction_superheat_k": None if leader is None else _k(leader.suction_superheat_k),
            "discharge_superheat_k": None if leader is None else _k(leader.discharge_superheat_k),
            "subcooling_k": None if leader is None else _k(leader.subcooling_k),
            "floodback": worst,
        },
        units=() if snapshot is None else tuple(_units(visit, snapshot)),
        sensors=tuple(_sensor_row(one) for one in _sensors(visit, snapshot)),
        warnings=tuple(warnings),
    )


def _k(value: float | None) -> float | None:
    return None if value is None else round(value, PLACES_K)


def _compressor_row(one: CompressorSeen, told: str) -> dict[str, Any]:
    quality = (one.suction_quality, one.u_quality)
    return {
        "id": one.id,
        "suction_superheat_k": _k(one.suction_superheat_k),
        "discharge_superheat_k": _k(one.discharge_superheat_k),
        "dry_discharge_superheat_k": _k(one.dry_discharge_superheat_k),
        "subcooling_k": _k(one.subcooling_k),
        "suction_quality": None if quality[0] is None else round(quality[0], PLACES_QUALITY),
        "u_quality": None if quality[1] is None else round(quality[1], PLACES_QUALITY),
        "floodback": told,
    }


def _compressors(visit: Visit, snapshot: Snapshot, warnings: list[Reason]) -> list[CompressorSeen]:
    mode = snapshot.mode or visit.system.mode
    has_pressures = any(
        one.suction_kpa_abs is not None or one.discharge_kpa_abs is not None
        for one in outdoor_of(visit, snapshot).values()
    )
    if mode == "off" or not (has_pressures or snapshot.outdoor):
        return []
    if visit.system.refrigerant is None:
        warnings.append(Reason(code="running.no-refrigerant"))
        return []
    of = refrigerant(visit.system.refrigerant)
    found = []
    for name, outdoor in outdoor_of(visit, snapshot).items():
        for label, one in (dict(outdoor.compressors) or {"C1": outdoor}).items():
            found.append(_compressor(visit, snapshot, of, f"{name}/{label}", outdoor, one, warnings))
    return found


def _compressor(
    visit: Visit,
    snapshot: Snapshot,
    of: Refrigerant,
    label: str,
    outdoor: OutdoorReadings,
    one: CompressorReadings,
    warnings: list[Reason],
) -> CompressorSeen:
    suction, discharge = outdoor.suction_kpa_abs, outdoor.discharge_kpa_abs
    if suction is not None and discharge is not None and suction >= discharge:
        warnings.append(Reason(code="running.suction-over-discharge", values={"id": label}))
        return CompressorSeen(id=label)
    try:
        return _seen(visit, snapshot, of, label, outdoor, one)
    except (RangeError, NoSolution) as error:
        warnings.append(Reason(code="running.out-of-range", values={"id": label, "what": error.message}))
        return CompressorSeen(id=label)


def _seen(
    visit: Visit,
    snapshot: Snapshot,
    of: Refrigerant,
    label: str,
    outdoor: OutdoorReadings,
    one: CompressorReadings,
) -> CompressorSeen:
    suction, discharge = outdoor.suction_kpa_abs, outdoor.discharge_kpa_abs
    evaporating = None if suction is None else of.dew_c(suction)
    condensing = None if discharge is None else of.dew_c(discharge)
    superheat = _minus(outdoor.suction_temperature_c, evaporating)
    at_outlet = one.discharge_temperature_c
    if at_outlet is None and one is not outdoor and len(outdoor.compressors) == 1:
        at_outlet = outdoor.discharge_temperature_c
    over = _minus(at_outlet, condensing)
    low = middle = high = quality = u_quality = None
    if suction is not None and discharge is not None:
        low, middle, high = dry_band_k(of, suction, discharge)
        if over is not None:
            quality, u_quality = quality_of(of, suction, discharge, over)
    in_heating = (snapshot.mode or visit.system.mode) == "heating"
    bubble = None if discharge is None or in_heating else of.bubble_c(discharge)
    return CompressorSeen(
        id=label,
        evaporating_c=evaporating,
        condensing_c=condensing,
        suction_superheat_k=superheat,
        discharge_superheat_k=over,
        dry_discharge_superheat_k=middle,
        lowest_dry_k=low,
        highest_dry_k=high,
        subcooling_k=None if bubble is None else _minus(bubble, outdoor.liquid_temperature_c),
        suction_quality=quality,
        u_quality=u_quality,
        shell_c=one.shell_temperature_c,
        shell=one.shell,
        is_excused=_is_excused(visit, snapshot, label.partition("/")[0]),
    )


def _minus(first: float | None, second: float | None) -> float | None:
    return None if first is None or second is None else first - second


def _is_excused(visit: Visit, snapshot: Snapshot, outdoor: str) -> bool:
    if snapshot.state not in (None, "normal"):
        return True
    if snapshot.minutes_running is not None and snapshot.minutes_running < STEADY_AFTER_MIN:
        return True
    for valve in visit.valves:
        if valve.is_void or valve.role not in ("injection", "hot-gas-bypass") or valve.unit != outdoor:
            continue
        read = snapshot.valves.get(valve.id)
        command, pulses = share_of_stroke(visit, valve, None if read is None else read.opening)
        opened = command if command is not None else pulses
        if opened is None or opened > OPEN_FROM:
            return True
    return False


def _units(visit: Visit, snapshot: Snapshot) -> Iterable[dict[str, Any]]:
    mode = snapshot.mode or visit.system.mode
    dew_c, bubble_c = _saturation(visit, snapshot)
    for name, of in snapshot.units.items():
        own = (of.mode or mode) if mode == "mixed" else mode
        row: dict[str, Any] = {"id": name, "superheat_k": None, "subcooling_k": None, "u_k": None}
        if of.on is not False and own == "cooling":
            row["superheat_k"], row["u_k"] = superheat_of(of, dew_c)
        elif of.on is not False and own == "heating" and bubble_c is not None and of.liquid_pipe_c is not None:
            row["subcooling_k"], row["u_k"] = _k(bubble_c - of.liquid_pipe_c), U_BY_PRESSURE_K
        yield row


def superheat_of(of: UnitReadings, dew_c: float | None) -> tuple[float | None, float | None]:
    """Superheat of a coil and its standard uncertainty: by two temperatures where both are there, else by pressure.

    Parameters
    ----------
    of : UnitReadings
        A unit that cools.
    dew_c : float or None
        Dew temperature at suction.  [°C]
    """
    if of.gas_pipe_c is not None and of.liquid_pipe_c is not None:
        return _k(of.gas_pipe_c - of.liquid_pipe_c), U_TWO_TEMPERATURES_K
    if of.gas_pipe_c is not None and dew_c is not None:
        return _k(of.gas_pipe_c - dew_c), U_BY_PRESSURE_K
    return None, None


def _saturation(visit: Visit, snapshot: Snapshot) -> tuple[float | None, float | None]:
    """Dew temperature at suction and bubble temperature at discharge, the middle one of several outdoor units."""
    if visit.system.refrigerant is None:
        return None, None
    of, outdoor = refrigerant(visit.system.refrigerant), outdoor_of(visit, snapshot).values()
    suctions = [one.suction_kpa_abs for one in outdoor if one.suction_kpa_abs is not None]
    discharges = [one.discharge_kpa_abs for one in outdoor if one.discharge_kpa_abs is not None]
    try:
        dew = of.dew_c(median(suctions)) if suctions else None
        return dew, of.bubble_c(median(discharges)) if discharges else None
    except RangeError:
        return None, None


def _sensors(visit: Visit, snapshot: Snapshot | None) -> list[SensorSeen]:
    found = []
    for one in visit.sensors:
        if not one.is_void:
            curve = visit.curves.get(one.curve) if one.curve is not None else None
            doubt = _u_of_reading(visit, one.meter, one.reading_ohm)
            found.append(checked(one.id, curve, one.reading_ohm, one.true_temperature_c, one.true_within_k, doubt))
    if snapshot is None:
        return found
    mode = snapshot.mode or visit.system.mode
    evaporating, _ = _saturation(visit, snapshot)
    for name, of in snapshot.units.items():
        if mode == "off":
            found += at_standstill(name, of)
        elif mode == "cooling" and of.on is not False and snapshot.state in (None, "normal"):
            found += impossible_in_cooling(name, of, evaporating)
    return found


def _u_of_reading(visit: Visit, meter: str | None, ohm: float | None) -> float:
    """Standard uncertainty of a resistance as a share of it. [1]"""
    if ohm is None or isinf(ohm) or ohm <= 0.0:
        return 0.0
    ranges = meter_law(visit.meters.get(meter or "")).ranges
    one = next((of for of in ranges if ohm <= of.to_ohm), ranges[-1])
    return (one.of_reading_frac + one.digits * one.resolution_ohm / ohm) / sqrt(3.0)


def _sensor_row(one: SensorSeen) -> dict[str, Any]:
    return {
        "id": one.id,
        "reads_c": _k(one.reads_c),
        "off_by_k": _k(one.off_by_k),
        "u_k": _k(one.u_k),
        "verdict": one.verdict,
    }
