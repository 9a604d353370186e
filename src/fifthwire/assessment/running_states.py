"""What gauges and controller show of the running system: compressors, units and sensors, and what is doubtful in it."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from fifthwire.assessment.running_moments import compressors_of, fluid_of, is_usable, may_inject, outdoor_of
from fifthwire.assessment.running_sensors import sensors_seen
from fifthwire.assessment.running_units import units_of
from fifthwire.diagnosis.running.contradictions import contradictions, has_come_to_rest
from fifthwire.diagnosis.running.floodback import floodback, is_low, signs, worst_of
from fifthwire.diagnosis.running.possible import possible_readings
from fifthwire.diagnosis.running.sensor_checks import SensorSeen
from fifthwire.diagnosis.running.states import CompressorSeen, compressor_seen
from fifthwire.diagnosis.running.units import UnitSeen
from fifthwire.model.assessment import Reason
from fifthwire.model.record import record
from fifthwire.model.running import Snapshot
from fifthwire.model.visit import Visit

PLACES_K: Final = 2
PLACES_QUALITY: Final = 4
MOST_TELLING: Final = ("likely", "possible", "unlikely", "unknown")
"""Of several moments of one compressor the first of these is told; a moment that tells nothing takes nothing away."""


@record
class CompressorJudged:
    """A compressor at the moment that tells most of it."""

    seen: CompressorSeen
    floodback: str
    signs: tuple[Reason, ...]
    """The verdict in words, then what it rests on."""
    is_steady: bool
    mode: str | None


@record
class RunningStates:
    """What runs, as records; `compressor_rows` and the like are what the assessment prints of it."""

    compressors: tuple[CompressorJudged, ...] = ()
    units: tuple[UnitSeen, ...] = ()
    sensors: tuple[SensorSeen, ...] = ()
    warnings: tuple[Reason, ...] = ()

    @property
    def worst(self) -> str:
        """Floodback of the worst compressor; one that stood still counts only where all did."""
        moving = [one for one in self.compressors if not one.seen.stands_still] or self.compressors
        return worst_of(tuple(one.floodback for one in moving))

    @property
    def leader(self) -> CompressorJudged | None:
        """The worst compressor."""
        worst = self.worst
        moving = [one for one in self.compressors if not one.seen.stands_still] or self.compressors
        return next((one for one in moving if one.floodback == worst), None)

    def compressor_rows(self) -> tuple[Mapping[str, Any], ...]:
        """A row a compressor."""
        return tuple(_compressor_row(one) for one in self.compressors)

    def compressor_row(self) -> Mapping[str, Any]:
        """The worst of them."""
        seen = None if self.leader is None else self.leader.seen
        return {
            "suction_superheat_k": None if seen is None else _rounded(seen.suction_superheat_k),
            "discharge_superheat_k": None if seen is None else _rounded(seen.discharge_superheat_k),
            "subcooling_k": None if seen is None else _rounded(seen.subcooling_k),
            "floodback": self.worst,
        }

    def unit_rows(self) -> tuple[Mapping[str, Any], ...]:
        """A row an indoor unit."""
        return tuple(_unit_row(one) for one in self.units)

    def sensor_rows(self) -> tuple[Mapping[str, Any], ...]:
        """A row a sensor."""
        return tuple(_sensor_row(one) for one in self.sensors)


def running_states(visit: Visit) -> RunningStates:
    """States of a visit's moments, and every sensor that was checked or cannot be right.

    Parameters
    ----------
    visit : Visit
        With or without snapshots.

    Returns
    -------
    RunningStates
        Figures that the readings do not give are None; nothing is told that the mode cannot tell.
    """
    warnings: list[Reason] = []
    moments = []
    for one in moments_in_order(visit):
        possible = possible_readings(one)
        moments.append(possible.snapshot)
        warnings += possible.warnings
        warnings += _not_at_rest(visit, possible.snapshot)
    judged = [pair for one in moments for pair in _compressors(visit, one, warnings)]
    units = units_of(visit, moments, warnings)
    return RunningStates(
        compressors=_most_telling(judged),
        units=units,
        sensors=sensors_seen(visit, moments),
        warnings=tuple(warnings),
    )


def _not_at_rest(visit: Visit, snapshot: Snapshot) -> list[Reason]:
    """Outdoor units of a system written as off that have not come to rest."""
    if (snapshot.mode or visit.system.mode) != "off":
        return []
    awake = [name for name, unit in outdoor_of(visit, snapshot).items() if not has_come_to_rest(unit)]
    return [Reason(code="running.not-at-rest", values={"id": name}) for name in awake]


def moments_in_order(visit: Visit) -> list[Snapshot]:
    """The snapshots that are not struck out, in order of time where all say when, else in that of the file."""
    first = [] if visit.snapshot is None else [visit.snapshot]
    found = [one for one in (*first, *visit.snapshots) if not one.is_void]
    if all(one.entered_utc is not None for one in found):
        found.sort(key=lambda one: str(one.entered_utc))
    return found


def _compressors(visit: Visit, snapshot: Snapshot, warnings: list[Reason]) -> Iterable[CompressorJudged]:
    """Every compressor of one moment; none at standstill, and none where no gauge was read."""
    mode, of = snapshot.mode or visit.system.mode, fluid_of(visit)
    outdoor = outdoor_of(visit, snapshot)
    has_gauge = any(one.suction_kpa_abs is not None or one.discharge_kpa_abs is not None for one in outdoor.values())
    if of is None:
        warnings += [Reason(code="running.no-refrigerant")] if has_gauge else []
        return
    is_steady = is_usable(snapshot)
    for name, unit in outdoor.items():
        against = contradictions(of, unit, snapshot, mode, name)
        warnings += against[:1]
        if mode == "off" or not (has_gauge or snapshot.outdoor):
            continue
        seen = []
        for label, one in compressors_of(name, unit).items():
            measured = compressor_seen(
                of,
                label,
                unit,
                one,
                has_outdoor_condenser=mode in (None, "cooling"),
                excuses=_excuses(visit, snapshot, name),
                is_contradicted=bool(against),
            )
            seen.append(measured.seen)
            warnings += measured.warnings
        yield from (_judged(one, seen, is_steady=is_steady, mode=mode) for one in seen)


def _judged(
    seen: CompressorSeen, beside: Sequence[CompressorSeen], *, is_steady: bool, mode: str | None
) -> CompressorJudged:
    """One compressor; a wet suction that another one on the same line accounts for is not held against it."""
    told = floodback(seen, is_suction_explained=any(one is not seen and is_low(one) for one in beside))
    return CompressorJudged(seen=seen, floodback=told, signs=signs(seen, told), is_steady=is_steady, mode=mode)


def _excuses(visit: Visit, snapshot: Snapshot, outdoor: str) -> tuple[str, ...]:
    found = []
    if may_inject(visit, snapshot, outdoor):
        found.append("injection")
    if snapshot.state not in (None, "normal"):
        found.append(snapshot.state)
    elif not is_usable(snapshot):
        found.append("start")
    return tuple(found)


def _most_telling(judged: Sequence[CompressorJudged]) -> tuple[CompressorJudged, ...]:
    """Each compressor once: of its steady moments the most telling, the latest of equals; of others where none is.

    Liquid that is likely in a moment that was not steady is told all the same.
    """
    by_id: dict[str, list[CompressorJudged]] = {}
    for one in judged:
        by_id.setdefault(one.seen.id, []).append(one)
    found = []
    for of in by_id.values():
        steady = [one for one in of if one.is_steady and one.floodback != "unknown"]
        asked = [one for one in of if one in steady or one.floodback == "likely"] if steady else of
        found.append(min(reversed(asked), key=lambda one: MOST_TELLING.index(one.floodback)))
    return tuple(found)


def _rounded(value: float | None, places: int = PLACES_K) -> float | None:
    return None if value is None else round(value, places) + 0.0


def _compressor_row(one: CompressorJudged) -> dict[str, Any]:
    seen = one.seen
    return {
        "id": seen.id,
        "suction_superheat_k": _rounded(seen.suction_superheat_k),
        "discharge_superheat_k": _rounded(seen.discharge_superheat_k),
        "dry_discharge_superheat_k": _rounded(seen.dry_discharge_superheat_k),
        "subcooling_k": _rounded(seen.subcooling_k),
        "suction_quality": _rounded(seen.suction_quality, PLACES_QUALITY),
        "u_quality": _rounded(seen.u_quality, PLACES_QUALITY),
        "floodback": one.floodback,
    }


def _unit_row(one: UnitSeen) -> dict[str, Any]:
    return {
        "id": one.id,
        "superheat_k": _rounded(one.held_k) if one.runs == "cooling" else None,
        "subcooling_k": _rounded(one.held_k) if one.runs == "heating" else None,
        "u_k": _rounded(one.u_k),
    }


def _sensor_row(one: SensorSeen) -> dict[str, Any]:
    return {
        "id": one.id,
        "reads_c": _rounded(one.reads_c),
        "off_by_k": _rounded(one.off_by_k),
        "u_k": _rounded(one.u_k),
        "verdict": one.verdict,
    }
