"""What was seen of the running system, moment by moment: coils, outdoor units and commands as the facts take them."""

from collections.abc import Mapping
from dataclasses import fields, replace
from statistics import median
from typing import Final, TypeVar

from fifthwire.diagnosis.running.contradictions import contradictions
from fifthwire.diagnosis.running.facts_units import CoilSeen
from fifthwire.diagnosis.running.possible import possible_readings
from fifthwire.diagnosis.running.units import GLIDE_SHARE, U_BY_PRESSURE_K, U_TWO_TEMPERATURES_K
from fifthwire.model.errors import RangeError
from fifthwire.model.record import record
from fifthwire.model.running import CompressorReadings, Opening, OutdoorReadings, Snapshot, UnitReadings
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit
from fifthwire.physics.refrigerants import Refrigerant, refrigerant

STEADY_AFTER_MIN: Final = 15.0
"""Readings of the first minutes after a start say nothing of a valve.  [min]  Judgement; a measured day's steady
rows."""
COIL_GLIDE_U: Final = 0.15
"""Doubt of the share of a blend's glide that lies between a coil's inlet and dry vapour.  [1]  Judgement."""
OPEN_FROM: Final = 0.02
"""An injection or hot-gas valve commanded this far is open.  [share of full stroke]  Judgement."""
OUTDOOR_ROLES: Final = ("main", "subcooler-bypass", "injection", "hot-gas-bypass", "receiver")


@record
class Moment:
    """One usable moment: how the system runs, and what was seen of every coil."""

    mode: str
    snapshot: Snapshot
    outdoor: Mapping[str, OutdoorReadings]
    coils: tuple[CoilSeen, ...]

    def peers_of(self, coil: CoilSeen) -> list[CoilSeen]:
        """The other units that run in the same mode."""
        return [one for one in self.coils if one is not coil and one.is_on and one.is_cooling == coil.is_cooling]


def usable_snapshots(visit: Visit) -> list[Snapshot]:
    """The steady moments of a visit, in its order, struck-out ones left out, without readings that cannot be."""
    first = [] if visit.snapshot is None else [visit.snapshot]
    kept = [one for one in (*first, *visit.snapshots) if not one.is_void and is_usable(one)]
    return [possible_readings(one).snapshot for one in kept]


def is_usable(snapshot: Snapshot) -> bool:
    """Whether a moment was steady: running normally, and for long enough."""
    is_normal = snapshot.state in (None, "normal")
    return is_normal and (snapshot.minutes_running is None or snapshot.minutes_running >= STEADY_AFTER_MIN)


def moment_of(visit: Visit, snapshot: Snapshot) -> Moment | None:
    """One moment; None where nothing says how the system runs.

    Parameters
    ----------
    visit : Visit
        Holds the valves, their specs and the refrigerant.
    snapshot : Snapshot
        A steady one.
    """
    mode = snapshot.mode or visit.system.mode
    if mode is None:
        return None
    of = fluid_of(visit)
    outdoor = {
        name: without_contradicted(of, one, snapshot, mode, name) for name, one in outdoor_of(visit, snapshot).items()
    }
    evaporating = [c for one in outdoor.values() if (c := evaporating_c(of, one)) is not None]
    boiling = [c for one in outdoor.values() if (c := bubble_c(of, one)) is not None]
    dew = median(evaporating) if evaporating else None
    glides = [c for one in outdoor.values() if (c := glide_k(of, one)) is not None]
    glide = median(glides) if glides else 0.0
    bubble = median(boiling) if boiling else None
    told = {name: read for name, read in snapshot.units.items() if mode != "mixed" or _tells_its_mode(read)}
    coils = [_coil(visit, mode, name, read, dew, bubble, glide) for name, read in told.items()]
    return Moment(mode=mode, snapshot=snapshot, outdoor=outdoor, coils=tuple(coils))


def _tells_its_mode(of: UnitReadings) -> bool:
    """Whether a unit of a mixed system says how it runs, or its pipes are colder than the room: it cools.

    Hot gas may stand in the pipe of a unit that is stopped or heats; what it holds is then not known.
    """
    if of.mode is not None:
        return True
    pipes = [one for one in (of.gas_pipe_c, of.liquid_pipe_c) if one is not None]
    return of.return_air_c is not None and bool(pipes) and max(pipes) < of.return_air_c


def outdoor_of(visit: Visit, snapshot: Snapshot) -> dict[str, OutdoorReadings]:
    """The outdoor units of a snapshot by name; of a single one some keys may stand in the snapshot itself."""
    if len(snapshot.outdoor) == 1:
        return {name: _filled(one, snapshot) for name, one in snapshot.outdoor.items()}
    if snapshot.outdoor:
        return dict(snapshot.outdoor)
    names = {one.unit for one in visit.valves if one.role in OUTDOOR_ROLES}
    return {next(iter(sorted(names)), "OU1"): snapshot}


def compressors_of(name: str, of: OutdoorReadings) -> dict[str, CompressorReadings]:
    """The compressors of an outdoor unit by label, as in "OU1/C1"; of a single one keys may stand in the unit's table.

    Parameters
    ----------
    name : str
        Of the outdoor unit.
    of : OutdoorReadings
        Its table.
    """
    if len(of.compressors) == 1:
        return {f"{name}/{label}": _filled(one, of) for label, one in of.compressors.items()}
    return {f"{name}/{label}": one for label, one in (dict(of.compressors) or {"C1": of}).items()}


R = TypeVar("R", OutdoorReadings, CompressorReadings)


def _filled(inner: R, outer: CompressorReadings) -> R:
    """A table with what it lacks and the table around it has."""
    names = [one.name for one in fields(type(inner)) if one.name.endswith(("_c", "_kpa_abs", "_hz", "_k", "shell"))]
    lacks = {name: getattr(outer, name, None) for name in names if getattr(inner, name) is None}
    filled = {name: value for name, value in lacks.items() if value is not None}
    return replace(inner, **filled) if filled else inner


def without_contradicted(
    fluid: Refrigerant | None, of: OutdoorReadings, snapshot: Snapshot, mode: str, name: str
) -> OutdoorReadings:
    """An outdoor unit without its pressures where they do not go with the temperatures beside them."""
    if fluid is None or not contradictions(fluid, of, snapshot, mode, name):
        return of
    return replace(of, suction_kpa_abs=None, discharge_kpa_abs=None)


def fluid_of(visit: Visit) -> Refrigerant | None:
    """The refrigerant; None where it is not written."""
    return None if visit.system.refrigerant is None else refrigerant(visit.system.refrigerant)


def has_sane_pressures(of: OutdoorReadings) -> bool:
    """Whether suction lies under discharge, as far as both are written."""
    suction, discharge = of.suction_kpa_abs, of.discharge_kpa_abs
    return suction is None or discharge is None or suction < discharge


def evaporating_c(fluid: Refrigerant | None, of: OutdoorReadings) -> float | None:
    """Dew temperature at suction; None where it cannot be told.  [°C]"""
    return _saturation_c(fluid, of, of.suction_kpa_abs, "dew")


def glide_k(fluid: Refrigerant | None, of: OutdoorReadings) -> float | None:
    """Dew less bubble temperature at suction: how far a blend's boiling rises; None where it cannot be told.  [K]"""
    dew = _saturation_c(fluid, of, of.suction_kpa_abs, "dew")
    bubble = _saturation_c(fluid, of, of.suction_kpa_abs, "bubble")
    return None if dew is None or bubble is None else max(dew - bubble, 0.0)


def condensing_c(fluid: Refrigerant | None, of: OutdoorReadings) -> float | None:
    """Dew temperature at discharge; None where it cannot be told.  [°C]"""
    return _saturation_c(fluid, of, of.discharge_kpa_abs, "dew")


def bubble_c(fluid: Refrigerant | None, of: OutdoorReadings) -> float | None:
    """Bubble temperature at discharge; None where it cannot be told.  [°C]"""
    return _saturation_c(fluid, of, of.discharge_kpa_abs, "bubble")


def _saturation_c(fluid: Refrigerant | None, of: OutdoorReadings, kpa: float | None, line: str) -> float | None:
    if fluid is None or kpa is None or not has_sane_pressures(of):
        return None
    try:
        return fluid.dew_c(kpa) if line == "dew" else fluid.bubble_c(kpa)
    except RangeError:  # told as a warning where the compressors are judged
        return None


def _coil(
    visit: Visit, mode: str, name: str, of: UnitReadings, dew: float | None, bubble: float | None, glide: float
) -> CoilSeen:
    valve = valve_of_unit(visit, name, of)
    of_mode = (of.mode or mode) if mode == "mixed" else mode
    is_cooling = of_mode != "heating"
    held, u_k = _superheat(of, dew, glide) if is_cooling else _subcooling(of, bubble)
    command, pulses = share_of_stroke(visit, valve, of.opening)
    return CoilSeen(
        unit=name,
        valve=of.valve or (valve.id if valve is not None else f"{name} (valve)"),
        is_on=of.on is not False,
        is_cooling=is_cooling,
        off_minutes=of.off_minutes,
        held_k=held,
        u_k=u_k,
        target_k=of.target_superheat_k if is_cooling else of.target_subcooling_k,
        command=command,
        least_command=least_command(visit, valve),
        pulses=pulses,
        saturation_c=None if dew is None else dew - GLIDE_SHARE * glide,
        liquid_pipe_c=of.liquid_pipe_c,
        gas_pipe_c=of.gas_pipe_c,
        return_air_c=of.return_air_c,
        supply_air_c=of.supply_air_c,
    )


def _superheat(of: UnitReadings, dew: float | None, glide: float) -> tuple[float | None, float]:
    """Two temperatures, less what a blend's boiling rises on its way through the coil; else by pressure."""
    if of.gas_pipe_c is not None and of.liquid_pipe_c is not None:
        over = of.gas_pipe_c - of.liquid_pipe_c - GLIDE_SHARE * glide
        return over, U_TWO_TEMPERATURES_K + COIL_GLIDE_U * glide
    if of.gas_pipe_c is not None and dew is not None:
        return of.gas_pipe_c - dew, U_BY_PRESSURE_K
    return None, U_BY_PRESSURE_K


def _subcooling(of: UnitReadings, bubble: float | None) -> tuple[float | None, float]:
    if of.liquid_pipe_c is None or bubble is None:
        return None, U_BY_PRESSURE_K
    return bubble - of.liquid_pipe_c, U_BY_PRESSURE_K


def valve_of_unit(visit: Visit, name: str, of: UnitReadings) -> Valve | None:
    """The valve of an indoor unit: named, or the only one listed that sits in it."""
    if of.valve is not None:
        return next((one for one in visit.valves if one.id == of.valve and not one.is_void), None)
    inside = [one for one in visit.valves if one.unit == name and one.role == "indoor" and not one.is_void]
    return inside[0] if len(inside) == 1 else None


def share_of_stroke(visit: Visit, valve: Valve | None, opening: Opening | None) -> tuple[float | None, float | None]:
    """A command as share of full stroke, and in pulses where its full stroke is not known."""
    if opening is None:
        return None, None
    if opening.frac is not None:
        return opening.frac, None
    if opening.pulses == 0.0:
        return 0.0, 0.0
    full = _full_stroke(visit, valve)
    return (opening.pulses / full, opening.pulses) if full and opening.pulses is not None else (None, opening.pulses)


def _full_stroke(visit: Visit, valve: Valve | None) -> float | None:
    spec = visit.specs.get((valve.spec if valve is not None else None) or "")
    if spec is not None:
        return spec.full_stroke_pulses
    of_indoor = {one.spec for one in visit.valves if one.role == "indoor" and one.spec is not None}
    strokes = {visit.specs[name].full_stroke_pulses for name in of_indoor if name in visit.specs}
    return strokes.pop() if valve is None and len(strokes) == 1 else None


def least_command(visit: Visit, valve: Valve | None) -> float | None:
    """Where the controller stops closing while the unit runs, as share of full stroke; None where not known.  [1]"""
    spec = visit.specs.get((valve.spec if valve is not None else None) or "")
    if spec is None or spec.min_opening_pulses is None or not spec.full_stroke_pulses:
        return None
    return spec.min_opening_pulses / spec.full_stroke_pulses


def may_inject(visit: Visit, snapshot: Snapshot, outdoor: str) -> bool:
    """Whether an injection or hot-gas valve of an outdoor unit is open, or its command not known.

    Parameters
    ----------
    visit : Visit
        Lists the valves.
    snapshot : Snapshot
        May hold their commands.
    outdoor : str
        Name of the outdoor unit; where it is the only one, such a valve is its own whatever its unit is called.
    """
    is_only = len(outdoor_of(visit, snapshot)) == 1
    for valve in visit.valves:
        if valve.is_void or valve.role not in ("injection", "hot-gas-bypass"):
            continue
        if valve.unit != outdoor and not is_only:
            continue
        read = snapshot.valves.get(valve.id)
        command, pulses = share_of_stroke(visit, valve, None if read is None else read.opening)
        opened = command if command is not None else pulses
        if opened is None or opened > OPEN_FROM:
            return True
    return False
