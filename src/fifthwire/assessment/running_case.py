"""The running evidence of a visit, gathered for the causes: coils, bypasses, outdoor units, step tests, sensors,
logs."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from fifthwire.assessment.running_moments import (
    Moment,
    bubble_c,
    condensing_c,
    evaporating_c,
    fluid_of,
    has_sane_pressures,
    is_usable,
    least_command,
    may_inject,
    moment_of,
    share_of_stroke,
    usable_snapshots,
)
from fifthwire.diagnosis.faults.flooding import DryTerms, OutdoorSeen, dry_terms, floods
from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.diagnosis.running import facts_system
from fifthwire.diagnosis.running.facts_units import CoilSeen, coil_facts
from fifthwire.diagnosis.running.facts_valves import BypassSeen, bypass_fact, two_commands_fact
from fifthwire.diagnosis.running.log_evidence import log_facts
from fifthwire.diagnosis.running.states import dry_band_k
from fifthwire.diagnosis.running.step_tests import step_test_fact
from fifthwire.diagnosis.running.units import U_BY_PRESSURE_K
from fifthwire.model.assessment import Reason
from fifthwire.model.errors import NoSolution, RangeError
from fifthwire.model.followup import LogEvidence
from fifthwire.model.record import record
from fifthwire.model.running import OutdoorReadings, Snapshot
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit

U_SUBCOOLING_K: Final = 1.0
"""Subcooling by a gauge and a temperature.  [K]  Judgement."""
RUNNING_MODES: Final = ("cooling", "heating", "mixed")


@record
class RunningCase:
    """Running evidence by valve, and of the system."""

    by_valve: Mapping[str, tuple[Fact, ...]]
    floods: Mapping[str, Mapping[str, tuple[float, ...]]]
    """Valve -> outdoor unit -> how often it floods it, by behaviour.  [1]"""
    terms: DryTerms | None = None
    unlisted: tuple[str, ...] = ()
    """Labels of indoor units' valves that the file does not list: evidence, without a verdict."""
    is_used: bool = False
    heating: frozenset[str] = frozenset()
    """Valves that hold the subcooling of a coil that heats."""
    warnings: tuple[Reason, ...] = ()


NOTHING_RUNS: Final = RunningCase(by_valve={}, floods={})
"""A visit without running evidence that can be used."""


def running_case(visit: Visit, sensors: Sequence[Mapping[str, Any]] = ()) -> RunningCase:
    """What the running evidence of a visit says of its valves and of the system.

    Parameters
    ----------
    visit : Visit
        With snapshots, step tests and logs, any of them left out.
    sensors : sequence of mapping
        The sensors as they were judged, as the assessment prints them.

    Returns
    -------
    RunningCase
        Empty where nothing of it can be used: the first minutes, oil return, defrost and protection are not.
    """
    moments = [moment for one in usable_snapshots(visit) if (moment := moment_of(visit, one)) is not None]
    latest = {moment.mode: moment for moment in moments if moment.mode in RUNNING_MODES}
    found = [pair for moment in latest.values() for pair in _facts_of(visit, moment)]
    found += [*_held_at_two(moments), *_step_tests(visit), *_logs(visit), *_sensor_facts(visit, sensors)]
    facts: dict[str, list[Fact]] = {}
    for valve, fact in found:
        facts.setdefault(valve, []).append(fact)
    last = next((one for one in reversed(moments) if one.mode in RUNNING_MODES), None)
    listed = {one.id for one in visit.valves if not one.is_void}
    return RunningCase(
        by_valve={valve: tuple(of) for valve, of in facts.items()},
        floods={} if last is None else _floods(visit, last),
        terms=None if last is None else _terms(visit, last),
        unlisted=tuple(sorted(valve for valve in facts if valve not in listed)),
        is_used=bool(facts) or last is not None,
        heating=frozenset(_label(coil) for coil in (() if last is None else last.coils) if not coil.is_cooling),
        warnings=tuple(_not_used(visit)),
    )


def _not_used(visit: Visit) -> list[Reason]:
    first = [] if visit.snapshot is None else [visit.snapshot]
    warnings = []
    for one in (*first, *visit.snapshots):
        if one.is_void:
            continue
        if not is_usable(one):
            state = one.state if one.state not in (None, "normal") else "start"
            warnings.append(Reason(code="running.not-steady", values={"state": state}))
        elif (one.mode or visit.system.mode) is None:
            warnings.append(Reason(code="running.no-mode"))
    return warnings


def _facts_of(visit: Visit, moment: Moment) -> list[tuple[str, Fact]]:
    coils = list(moment.coils)
    facts = [(_label(coil), fact) for coil in coils for fact in coil_facts(coil, moment.peers_of(coil))]
    for name, seen in _bypasses(visit, moment).items():
        fact = bypass_fact(seen)
        facts += [(name, fact)] if fact is not None else []
    if moment.mode == "heating":
        mains = _outdoor_mains(visit, moment)
        for coil in mains:
            others = [one for one in mains if one is not coil]
            facts += [(_label(coil), fact) for fact in coil_facts(coil, others)]
    return facts


def _label(coil: CoilSeen) -> str:
    return coil.valve or coil.unit


def _outdoor_of(moment: Moment, valve: Valve) -> OutdoorReadings | None:
    """The outdoor unit whose suction a valve returns to: its own, or the only one."""
    if valve.unit in moment.outdoor:
        return moment.outdoor[valve.unit]
    return next(iter(moment.outdoor.values())) if len(moment.outdoor) == 1 else None


def _bypasses(visit: Visit, moment: Moment) -> dict[str, BypassSeen]:
    seen = {}
    for valve in visit.valves:
        if valve.is_void or valve.role not in ("subcooler-bypass", "branch-subcooler"):
            continue
        of, outdoor = read_of(visit, moment.snapshot, valve), _outdoor_of(moment, valve)
        if of is None:
            continue
        dew = None if outdoor is None else evaporating_c(fluid_of(visit), outdoor)
        superheat = None if of.outlet_c is None or dew is None else of.outlet_c - dew
        command, _ = share_of_stroke(visit, valve, of.opening)
        seen[valve.id] = BypassSeen(valve=valve.id, command=command, outlet_superheat_k=superheat)
    return seen


def read_of(visit: Visit, snapshot: Snapshot, valve: Valve) -> Any:
    """The readings of a valve that is no indoor unit's; `subcooler` is that of the only subcooling valve."""
    read = snapshot.valves.get(valve.id)
    if read is not None or snapshot.subcooler is None or valve.role != "subcooler-bypass":
        return read
    alike = [one for one in visit.valves if one.role == "subcooler-bypass" and not one.is_void]
    return snapshot.subcooler if len(alike) == 1 else None


def _outdoor_mains(visit: Visit, moment: Moment) -> list[CoilSeen]:
    """In heating each outdoor unit's main valve holds the superheat of its own coil."""
    coils = []
    for valve in visit.valves:
        of = moment.outdoor.get(valve.unit)
        if valve.is_void or valve.role != "main" or of is None:
            continue
        dew = evaporating_c(fluid_of(visit), of)
        held = None if dew is None or of.suction_temperature_c is None else of.suction_temperature_c - dew
        read = moment.snapshot.valves.get(valve.id)
        command, pulses = share_of_stroke(visit, valve, None if read is None else read.opening)
        coils.append(
            CoilSeen(
                unit=valve.unit,
                valve=valve.id,
                held_k=held,
                u_k=U_BY_PRESSURE_K,
                target_k=of.target_superheat_k,
                command=command,
                least_command=least_command(visit, valve),
                pulses=pulses,
            )
        )
    return coils


def _held_at_two(moments: Sequence[Moment]) -> list[tuple[str, Fact]]:
    by_unit: dict[tuple[str, bool], list[tuple[CoilSeen, Sequence[CoilSeen]]]] = {}
    for moment in moments:
        for coil in moment.coils if moment.mode in RUNNING_MODES else ():
            by_unit.setdefault((_label(coil), coil.is_cooling), []).append((coil, moment.peers_of(coil)))
    found = [(valve, two_commands_fact(seen)) for (valve, _), seen in by_unit.items()]
    return [(valve, fact) for valve, fact in found if fact is not None]


def _step_tests(visit: Visit) -> list[tuple[str, Fact]]:
    valves = {one.id: one for one in visit.valves if not one.is_void}
    facts: list[tuple[str, Fact]] = []
    for test in visit.step_tests:
        if test.is_void or test.opening is None or test.superheat_k is None:
            continue
        before, after = (share_of_stroke(visit, valves.get(test.valve), one)[0] for one in test.opening)
        if before is None or after is None:
            facts.append((test.valve, Fact(code="step-test.stroke-unknown")))
            continue
        fact = step_test_fact((before, after), test.superheat_k, test.minutes)
        facts += [(test.valve, fact)] if fact is not None else []
    return facts


def _logs(visit: Visit) -> list[tuple[str, Fact]]:
    by_valve: dict[str, list[LogEvidence]] = {}
    for one in visit.evidence:
        if not one.is_void:
            by_valve.setdefault(one.valve, []).append(one)
    return [(valve, fact) for valve, of in by_valve.items() for fact in log_facts(of)]


def _sensor_facts(visit: Visit, sensors: Sequence[Mapping[str, Any]]) -> list[tuple[str, Fact]]:
    """Sensors of a unit that were checked with the meter, as facts of its indoor valve."""
    units = {one.id: one.unit for one in visit.sensors if not one.is_void}
    by_unit: dict[str, dict[str, str]] = {}
    for row in sensors:
        unit = units.get(row["id"])
        if unit is not None and row["verdict"] != "undecided":
            by_unit.setdefault(unit, {})[row["id"]] = row["verdict"]
    facts = []
    for valve in visit.valves:
        checked = by_unit.get(valve.unit, {}) if valve.role == "indoor" and not valve.is_void else {}
        bad = [name for name, verdict in checked.items() if verdict != "good"]
        if checked:
            values = {"sensors": sorted(bad or checked)}
            facts.append((valve.id, Fact(code="sensors.bad" if bad else "sensors.good", values=values)))
    return facts


def _floods(visit: Visit, moment: Moment) -> dict[str, dict[str, tuple[float, ...]]]:
    in_heating = moment.mode == "heating"
    n_running = sum(one.is_on for one in moment.coils) or 1
    by_valve = {}
    for coil in moment.coils:
        of = floods("indoor", n_running=n_running, in_heating=not coil.is_cooling, is_on=coil.is_on)
        by_valve[_label(coil)] = dict.fromkeys(moment.outdoor, of)
    for valve in visit.valves:
        if valve.role == "indoor" or valve.is_void:
            continue
        of = floods(valve.role, n_running=n_running, in_heating=in_heating)
        fed = [valve.unit] if valve.unit in moment.outdoor else list(moment.outdoor)
        by_valve[valve.id] = dict.fromkeys(fed, of)
    return by_valve


def _terms(visit: Visit, moment: Moment) -> DryTerms:
    shared = facts_system.commands_outcome(moment.coils)
    seen = [_outdoor_seen(visit, moment, name, of) for name, of in moment.outdoor.items()]
    return dry_terms(tuple(seen), () if shared is None else (shared,))


def _outdoor_seen(visit: Visit, moment: Moment, name: str, of: OutdoorReadings) -> OutdoorSeen:
    fluid = fluid_of(visit)
    dew, boils, condenses = evaporating_c(fluid, of), bubble_c(fluid, of), condensing_c(fluid, of)
    superheat = None if dew is None or of.suction_temperature_c is None else of.suction_temperature_c - dew
    suction = [facts_system.suction_outcome(superheat, U_BY_PRESSURE_K), _discharge(visit, moment, name, of)]
    system: list[Mapping[str, float] | None] = []
    if moment.mode == "cooling":
        liquid_c = of.liquid_temperature_c
        subcooling = None if boils is None or liquid_c is None else boils - liquid_c
        load = sum(one.is_on for one in moment.coils) / max(len(moment.coils), 1)
        passes = facts_system.subcooling_outcome(subcooling, U_SUBCOOLING_K)
        system = [
            facts_system.without_subcooler(passes, _share_of_no_bypass(visit, moment, name)),
            facts_system.condensing_outcome(condenses, moment.snapshot.ambient_c, load),
        ]
    return OutdoorSeen(
        id=name,
        suction=tuple(one for one in suction if one is not None),
        system=tuple(one for one in system if one is not None),
    )


def _share_of_no_bypass(visit: Visit, moment: Moment, outdoor: str) -> float:
    """How surely next to nothing passes an outdoor unit's bypass though it is commanded wide.  [1]"""
    own = {one.id for one in visit.valves if one.unit == outdoor}
    facts = [bypass_fact(seen) for name, seen in _bypasses(visit, moment).items() if name in own]
    return max((fact.soft.get("bypass.hot-wide", 0.0) for fact in facts if fact is not None), default=0.0)


def _discharge(visit: Visit, moment: Moment, name: str, of: OutdoorReadings) -> Mapping[str, float] | None:
    """Discharge superheat against that of dry suction: the wettest compressor's; not where injection may explain it."""
    fluid, suction, discharge = fluid_of(visit), of.suction_kpa_abs, of.discharge_kpa_abs
    read = [
        one.discharge_temperature_c for one in (of, *of.compressors.values()) if one.discharge_temperature_c is not None
    ]
    if fluid is None or suction is None or discharge is None or not read or not has_sane_pressures(of):
        return None
    if may_inject(visit, moment.snapshot, name):
        return None
    try:
        low, middle, high = dry_band_k(fluid, suction, discharge)
        over = min(read) - fluid.dew_c(discharge)
    except (RangeError, NoSolution):
        return None
    if low is None or middle is None or high is None:
        return None
    return facts_system.discharge_outcome(over, middle, (high - low) / 2.0 / 3.0**0.5)
