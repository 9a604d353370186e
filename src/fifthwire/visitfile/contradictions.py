"""What in a visit contradicts itself without being impossible: a warning each, by name, and the visit is used.

What is said of the wrong kind of head, and of a meter, is judged (and said) where it would be used.
"""

from collections.abc import Iterator
from datetime import date
from typing import Any, Final

from fifthwire.model.running import Snapshot
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit
from fifthwire.visitfile.places import Steps
from fifthwire.visitfile.problems import Problems

_WIRES: Final = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4, "single-2": 2}
"""Wires of each arrangement."""
_COMMONS: Final = {"unipolar-5": 1, "unipolar-6": 2, "bipolar-4": 0, "single-2": 0}
"""Common wires of each arrangement."""
_BAROMETER_AND_ALTITUDE_KPA: Final = 8.0
"""How far weather moves the air pressure from that of a standard day.  [kPa]  Our choice, rounded up."""


def warn_of_contradictions(visit: Visit, problems: Problems) -> None:
    """Note every contradiction in the warnings."""
    for index, valve in enumerate(visit.valves):
        if not valve.is_void:
            steps: Steps = ("valves", index)
            _warn_of_readings(valve, steps, visit, problems)
            _warn_of_dates(valve, steps, visit.header.date, problems)
    _warn_of_visit(visit, problems)
    for at, snapshot in _snapshots(visit):
        _warn_of_snapshot(snapshot, at, visit, problems)


def _warn_of_readings(valve: Valve, steps: Steps, visit: Visit, problems: Problems) -> None:
    measurements = [of for of in valve.measurements if not of.is_void]
    readings = [*valve.readings, *(reading for of in measurements for reading in of.readings)]
    if valve.plug_off is False and readings:
        problems.warn((*steps, "plug_off"), "visit.readings-with-plug-on", valve=valve.id)
    spec = visit.specs.get(valve.spec) if valve.spec is not None else None
    if (valve.kind == "solenoid") != (spec is not None and spec.winding == "single-2") and spec is not None:
        problems.warn((*steps, "spec"), "visit.spec-of-other-kind", valve=valve.id, winding=spec.winding)
    if spec is None:
        return
    wires = {name for reading in readings for name in (reading.wire_a, reading.wire_b)} | set(valve.common)
    if len(wires) > _WIRES[spec.winding]:
        values = {"valve": valve.id, "n_wires": len(wires), "winding": spec.winding}
        problems.warn((*steps, "readings"), "visit.more-wires-than-spec", **values)
    if valve.common and len(valve.common) != _COMMONS[spec.winding]:
        values = {"valve": valve.id, "n_common": len(valve.common), "winding": spec.winding}
        problems.warn((*steps, "common"), "visit.common-against-spec", **values)


def _warn_of_dates(valve: Valve, steps: Steps, today: date, problems: Problems) -> None:
    installed, removed = valve.head_installed, valve.last_removed
    if installed is not None and installed > today:
        problems.warn((*steps, "head_installed"), "visit.head-installed-after", valve=valve.id, date=str(installed))
    if isinstance(removed, date) and removed > today:
        problems.warn((*steps, "last_removed"), "visit.last-removed-after", valve=valve.id, date=str(removed))
    if isinstance(removed, date) and installed is not None and removed < installed:
        problems.warn((*steps, "last_removed"), "visit.removed-before-installed", valve=valve.id, date=str(removed))


def _warn_of_visit(visit: Visit, problems: Problems) -> None:
    today = visit.header.date
    if visit.system.installed is not None and today.year < visit.system.installed:
        problems.warn(("system", "installed"), "visit.before-installed", year=visit.system.installed)
    for name, meter in visit.meters.items():
        if meter.ranges and (meter.accuracy is not None or meter.resolution_ohm is not None):
            problems.warn(("meters", name, "ranges"), "visit.ranges-and-accuracy", meter=name)
    if visit.header.barometer_kpa_abs is not None and visit.header.altitude_m is not None:
        _warn_of_air(visit.header.barometer_kpa_abs, visit.header.altitude_m, problems)
    if visit.snapshot is not None and visit.snapshots:
        problems.warn(("snapshots",), "visit.snapshot-and-snapshots")


def _warn_of_air(barometer_kpa_abs: float, altitude_m: float, problems: Problems) -> None:
    from fifthwire.model.units import air_at_altitude_kpa_abs

    standard = air_at_altitude_kpa_abs(altitude_m)
    if abs(standard - barometer_kpa_abs) > _BAROMETER_AND_ALTITUDE_KPA:
        values = {"barometer_kpa_abs": round(barometer_kpa_abs, 1), "standard_kpa_abs": round(standard, 1)}
        problems.warn(("visit", "barometer"), "visit.barometer-against-altitude", **values)


def _snapshots(visit: Visit) -> Iterator[tuple[Steps, Snapshot]]:
    if visit.snapshot is not None:
        yield ("snapshot",), visit.snapshot
    for index, one in enumerate(visit.snapshots):
        yield ("snapshots", index), one


def _warn_of_snapshot(snapshot: Snapshot, steps: Steps, visit: Visit, problems: Problems) -> None:
    if snapshot.subcooler is not None:
        bypasses = [valve for valve in visit.valves if valve.role == "subcooler-bypass" and not valve.is_void]
        if len(bypasses) > 1:
            problems.warn((*steps, "subcooler"), "visit.subcooler-of-many", n_valves=len(bypasses))
    for name, outdoor in snapshot.outdoor.items():
        for key in _both(snapshot, outdoor):
            problems.warn((*steps, "outdoor", name, key), "visit.stands-twice", key=key, unit=name)
        for other in outdoor.compressors:
            for key in _both(outdoor, outdoor.compressors[other]):
                at = (*steps, "outdoor", name, "compressors", other, key)
                problems.warn(at, "visit.stands-twice", key=key, unit=f"{name}/{other}")


def _both(outer: Any, inner: Any) -> list[str]:
    """Keys that stand in a table and again, with another value, in one inside it."""
    from fifthwire.model.fields import describe

    notes = [note for note in describe(type(inner)) if note.key not in ("compressors",)]
    pairs = [(note.key, getattr(outer, note.name), getattr(inner, note.name)) for note in notes]
    return [key for key, out, within in pairs if out is not None and within is not None and out != within]
