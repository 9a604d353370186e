"""What must hold between the parts of a visit: names that are in the file, valves that are told apart."""

from collections.abc import Iterable
from typing import Any

from fifthwire.model.followup import LogEvidence
from fifthwire.model.nearest import nearest
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Meter, Visit
from fifthwire.visitfile.places import Steps, place, shortened
from fifthwire.visitfile.problems import Problems


def check_visit(visit: Visit, problems: Problems) -> None:
    """Every problem that shows only when the visit is seen as a whole; fields that were not readable are None."""
    seen_ids: dict[str, int] = {}
    seen_places: dict[tuple[Any, ...], int] = {}
    for index, valve in enumerate(visit.valves):
        steps: Steps = ("valves", index)
        _check_head(valve, steps, problems)
        _check_names(valve, steps, visit, problems)
        if not valve.is_void:
            _check_told_apart(valve, index, visit, (seen_ids, seen_places), problems)
    for index, sensor in enumerate(visit.sensors):
        _check_name(sensor.curve, visit.curves, ("sensors", index, "curve"), "curves", problems)
        _check_name(sensor.meter, visit.meters, ("sensors", index, "meter"), "meters", problems)
    for name, meter in visit.meters.items():
        _check_ranges(meter, ("meters", name), problems)
    for index, evidence in enumerate(visit.evidence):
        _check_span(evidence, ("evidence", index), problems)
    for name, curve in visit.curves.items():
        laws = sum(
            (bool(curve.table), curve.r25_ohm is not None or curve.beta_k is not None, curve.steinhart is not None)
        )
        if (curve.r25_ohm is None) != (curve.beta_k is None):
            missing = "beta" if curve.beta_k is None else "r25"
            problems.add(("curves", name), f"{missing} is missing beside the other", "r25 and beta stand together")
        elif laws > 1:
            problems.add(
                ("curves", name), "more than one law for one curve", "keep table, or r25 and beta, or steinhart"
            )


def _check_head(valve: Valve, steps: Steps, problems: Problems) -> None:
    if valve.head is None and valve.kind != "solenoid" and not problems.has((*steps, "head")):
        hint = 'add head = "clip-on" or "bolt-on"; a solenoid has kind = "solenoid" and needs none'
        problems.add((*steps, "head"), "head is missing", hint)


def _check_names(valve: Valve, steps: Steps, visit: Visit, problems: Problems) -> None:
    _check_name(valve.spec, visit.specs, (*steps, "spec"), "specs", problems)
    _check_name(valve.meter, visit.meters, (*steps, "meter"), "meters", problems)
    for index, measurement in enumerate(valve.measurements):
        at = (*steps, "measurements", index, "meter")
        _check_name(measurement.meter, visit.meters, at, "meters", problems)


def _check_name(name: str | None, known: Iterable[str], steps: Steps, table: str, problems: Problems) -> None:
    names = tuple(known)
    if name is None or name in names or problems.has_below((table, name)):
        return
    near = nearest(name, names)
    hint = f'did you mean "{near}"?' if near else f"add [{table}.{shortened(name)}], or leave the key out"
    problems.add(steps, f'"{shortened(name)}" is not in [{table}] of this file', hint)


def _check_told_apart(
    valve: Valve, index: int, visit: Visit, seen: tuple[dict[str, int], dict[tuple[Any, ...], int]], problems: Problems
) -> None:
    ids, places = seen
    steps: Steps = ("valves", index)
    if valve.id is not None:
        other = ids.setdefault(valve.id, index)
        if other != index:
            what = f'"{shortened(valve.id)}" is already the id of {place(("valves", other), problems.syntax)}'
            problems.add((*steps, "id"), what, "give each valve its own id")
    if valve.unit is None or valve.role is None:
        return
    where = (valve.unit, valve.role, valve.number)
    other = places.setdefault(where, index)
    if other != index:
        first, second = (shortened(str(visit.valves[at].id)) for at in (other, index))
        at = place(("valves", other), problems.syntax)
        what = f'"{second}" is the same valve as "{first}" in {at}: unit {shortened(valve.unit)}, role {valve.role}'
        number = "" if valve.number is None else f", number {valve.number}"
        problems.add((*steps, "number"), what + number, "where a unit has two of one role, give each a number")


def _check_ranges(meter: Meter, steps: Steps, problems: Problems) -> None:
    ends = [of.to_ohm for of in meter.ranges]
    if len(set(ends)) < len(ends):
        problems.add((*steps, "ranges"), "two ranges end at the same value", "each range has its own `to`")


def _check_span(evidence: LogEvidence, steps: Steps, problems: Problems) -> None:
    start, end = evidence.from_utc, evidence.to_utc
    if start is not None and end is not None and end < start:
        problems.add((*steps, "to_utc"), "the log ends before it starts", "exchange from_utc and to_utc")
