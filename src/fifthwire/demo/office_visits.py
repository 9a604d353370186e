"""What the technicians wrote down on each visit to the invented sites, made from what really happened there."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from hashlib import sha256
from random import Random
from typing import Any, Final

from fifthwire.demo.office_heads import (
    COMMONS,
    DAYS_A_YEAR,
    TrueHead,
    draw_true_head,
    pairs_of,
    shown_readings,
)
from fifthwire.demo.office_places import METERS, SITES, SPECS, SYSTEMS, InventedSystem, InventedValve, valves_of
from fifthwire.demo.office_running import CURVES, sensor_checks, snapshot
from fifthwire.demo.office_signs import Signs, signs_of, sound
from fifthwire.demo.office_story import DRIFTS, TROUBLES, VISITS, Trouble, VisitPlan
from fifthwire.model.choices import CONFIRMATIONS
from fifthwire.model.followup import Confirmation, Note, Proof, Work
from fifthwire.model.valve import Measurement, PairReading, Valve
from fifthwire.model.visit import System, Visit, VisitHeader

SEED: Final = "invented sites 2023-2026"
"""Everything that is drawn follows from this text."""
BEFORE_POWER: Final = CONFIRMATIONS[:5]
AFTER_WORK: Final = CONFIRMATIONS[5:]


def visits() -> Iterator[tuple[VisitPlan, Visit]]:
    """Every visit, oldest first: the plan and what was written down."""
    for plan in VISITS:
        yield plan, visit_of(plan)


def visit_of(plan: VisitPlan) -> Visit:
    """What was written down on one visit."""
    system = next(one for one in SYSTEMS if one.name == plan.system)
    looked_at = _looked_at(plan, system)
    signs = {valve.label: _signs(system, valve, plan.date) for valve in looked_at}
    made = [_valve(plan, system, valve, signs[valve.label]) for valve in looked_at]
    work, proofs = _work(plan)
    sensors = [
        check
        for valve in looked_at
        if signs[valve.label].sensor_off_k
        for check in sensor_checks(valve, signs[valve.label].sensor_off_k, plan.meter)
    ]
    return Visit(
        header=_header(plan, system),
        system=System(
            refrigerant=system.refrigerant,
            installed=system.installed,
            mode="cooling" if plan.has_running else "off",
            service_state=True,
            service_state_minutes=10.0,
        ),
        specs={name: SPECS[name] for name in dict.fromkeys(valve.spec for valve in looked_at)},
        meters={plan.meter: METERS[plan.meter]},
        valves=tuple(made),
        curves=CURVES if sensors else {},
        sensors=tuple(sensors),
        snapshot=snapshot(_random(plan, "running"), system, signs) if plan.has_running else None,
        work=work,
        confirmations=tuple(Confirmation(what=what, by=plan.technician) for what in (*BEFORE_POWER, *AFTER_WORK)),
        notes=tuple(Note(about=about, text=text, by=plan.technician) for about, text in plan.notes),
        proofs=proofs,
    )


def _header(plan: VisitPlan, system: InventedSystem) -> VisitHeader:
    site = next(one for one in SITES if one.name == system.site)
    return VisitHeader(
        id=f"INVENTED-{plan.system}-{plan.date.isoformat()}",
        date=plan.date,
        time_zone=site.time_zone,
        technician=plan.technician,
        site=site.name,
        system=system.name,
        reason=plan.reason,
        altitude_m=site.altitude_m,
    )


def _random(plan: VisitPlan, about: str) -> Random:
    """Chance that belongs to one visit and one thing, whatever else is drawn."""
    return Random(f"{SEED}/{plan.system}/{plan.date}/{about}")


def _looked_at(plan: VisitPlan, system: InventedSystem) -> list[InventedValve]:
    """The valves of a call, or of a planned round: all outdoors, the indoor ones in turn, every other year."""
    valves = valves_of(system)
    if plan.valves is not None:
        return [valve for valve in valves if valve.label in plan.valves]
    turn = plan.date.year % 2
    return [
        valve
        for at, valve in enumerate(valves)
        if valve.unit_kind == "outdoor" or at % 2 == turn or _trouble_on(system.name, valve.label, plan.date)
    ]


def _trouble_on(system: str, label: str, day: date) -> Trouble | None:
    """The fault that a valve has on a day; on the day of a repair that which is repaired."""
    found = [one for one in TROUBLES if (one.system, one.valve) == (system, label) and one.is_there(day)]
    return found[0] if found else None


def _signs(system: InventedSystem, valve: InventedValve, day: date) -> Signs:
    good = sound(valve.head)
    trouble = _trouble_on(system.name, valve.label, day)
    if trouble is None or (trouble.cause == "sound" and day != trouble.since):
        return good
    return signs_of(trouble, SPECS[valve.spec].winding, good)


def head_on(system: InventedSystem, valve: InventedValve, day: date, *, is_after: bool = False) -> TrueHead:
    """The head that is on a valve on a day; `is_after` the work of that day."""
    fitted = date(system.installed, 6, 1)
    head = _drawn(system, valve, fitted, f"{valve.spec}-{system.installed}", 1.0)
    drift = DRIFTS.get((system.name, valve.label))
    if drift is not None:
        winding, a_year, since = drift
        head = replace(head, drifting_winding=winding, drift_a_year=a_year, drift_from=since)
    for one in TROUBLES:
        is_of_it = (one.system, one.valve, one.work) == (system.name, valve.label, "replaced-head")
        if is_of_it and one.repaired is not None and (one.repaired < day or (is_after and one.repaired == day)):
            head = _drawn(system, valve, one.repaired, one.part or "", _scale_of(one))
    return head


def _scale_of(fitted: Trouble) -> float:
    """Resistance of the head that came with a repair, over what the manual says."""
    wrong = [
        one
        for one in TROUBLES
        if (one.system, one.valve, one.cause) == (fitted.system, fitted.valve, "wrong-head")
        and fitted.repaired is not None
        and (one.since - fitted.repaired).days == 1
    ]
    return wrong[0].size if wrong else 1.0


def _drawn(system: InventedSystem, valve: InventedValve, fitted: date, part: str, scale: float) -> TrueHead:
    rng = Random(f"{SEED}/{system.name}/{valve.label}/{fitted}")
    return draw_true_head(rng, valve.spec, part, since=fitted, scale=scale)


def _valve(plan: VisitPlan, system: InventedSystem, valve: InventedValve, signs: Signs) -> Valve:
    head = head_on(system, valve, plan.date)
    temperature_c = _temperature_c(plan, valve)
    return Valve(
        id=valve.label,
        unit=valve.unit,
        number=valve.number,
        role=valve.role,
        kind=valve.kind,
        head=valve.head,
        spec=valve.spec,
        meter=plan.meter,
        suspected=signs.is_suspected,
        last_removed=_last_removed(plan, valve),
        head_installed=head.since,
        access=valve.access,
        part_label=head.part_label,
        head_temperature_c=temperature_c,
        head_temperature_from="clamp" if valve.unit_kind == "outdoor" else "air-after-1h",
        common=COMMONS.get(SPECS[valve.spec].winding, ()),
        plug_off=True,
        readings=_as_found(plan, valve, head, signs, temperature_c),
        measurements=_measurements(plan, system, valve, signs, temperature_c),
        inspection=signs.inspection,
        movement=signs.movement,
        board=signs.board,
    )


def _as_found(
    plan: VisitPlan, valve: InventedValve, head: TrueHead, signs: Signs, temperature_c: float
) -> tuple[PairReading, ...]:
    arrangement = SPECS[valve.spec].winding
    rows = shown_readings(
        _random(plan, valve.label),
        head,
        plan.date,
        stated_c=temperature_c,
        meter=plan.meter,
        pairs=pairs_of(arrangement, every=signs.reads_every_pair),
        electrical=signs.electrical,
    )
    return tuple(
        replace(row, ohm=None) if signs.missed and signs.missed in (row.wire_a, row.wire_b) else row for row in rows
    )


def _measurements(
    plan: VisitPlan, system: InventedSystem, valve: InventedValve, signs: Signs, temperature_c: float
) -> tuple[Measurement, ...]:
    """Through the harness where the fault lies there, and again after the work."""
    arrangement, rng = SPECS[valve.spec].winding, _random(plan, f"{valve.label}/again")
    given: dict[str, Any] = {"stated_c": temperature_c, "meter": plan.meter, "pairs": pairs_of(arrangement)}
    made = []
    if signs.fails_in_harness:
        head = head_on(system, valve, plan.date)
        rows = shown_readings(rng, head, plan.date, electrical=signs.in_harness, **given)
        made.append(Measurement(measured_at="through-harness", readings=rows))
    trouble = _repaired_on(plan, valve.label)
    if trouble is not None and trouble.is_measured_after and trouble.work in ("replaced-head", _PLUG):
        rows = shown_readings(rng, head_on(system, valve, plan.date, is_after=True), plan.date, **given)
        when = "after-replacement" if trouble.work == "replaced-head" else "after-cleaning"
        made.append(Measurement(when=when, readings=rows))
        if signs.fails_in_harness:
            made.append(Measurement(when=when, measured_at="through-harness", readings=rows))
    return tuple(made)


_PLUG: Final = "repaired-plug-or-harness"


def _repaired_on(plan: VisitPlan, label: str) -> Trouble | None:
    for one in TROUBLES:
        if (one.system, one.valve, one.repaired) == (plan.system, label, plan.date):
            return one
    return None


def _work(plan: VisitPlan) -> tuple[tuple[Work, ...], tuple[Proof, ...]]:
    """What was done on a visit, and what showed that it works."""
    done = [one for one in TROUBLES if one.system == plan.system and one.repaired == plan.date]
    work = tuple(Work(valve=one.valve, done=one.work, part=one.part, by=plan.technician) for one in done if one.work)
    proofs = tuple(
        Proof(valve=one.valve, kind=one.proof, result="passed", by=plan.technician) for one in done if one.proof
    )
    return work, proofs


def _last_removed(plan: VisitPlan, valve: InventedValve) -> Any:
    """The last visit on which the head came off; never before the first."""
    system = next(one for one in SYSTEMS if one.name == plan.system)
    before = [
        one.date
        for one in VISITS
        if one.system == plan.system and one.date < plan.date and valve in _looked_at(one, system)
    ]
    return max(before, default="never")


def _temperature_c(plan: VisitPlan, valve: InventedValve) -> float:
    """Outdoors as the season has it, indoors as the room; in whole degrees. [°C]"""
    draw = int(sha256(f"{plan.system}/{plan.date}/{valve.label}".encode()).hexdigest()[:6], 16) / 0xFFFFFF
    summer = 1.0 - abs(plan.date.timetuple().tm_yday - 200) / (DAYS_A_YEAR / 2)
    return round(6.0 + 20.0 * summer + 6.0 * draw) if valve.unit_kind == "outdoor" else round(21.0 + 3.0 * draw)
