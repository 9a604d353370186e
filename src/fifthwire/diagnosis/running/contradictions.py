"""Pressures that do not go with the temperatures beside them: another refrigerant than written, or a gauge that lies.

No single check tells which of the two, or whether a sensor is at fault; so each says what does not fit, and the
pressures of that outdoor unit are left out.
"""

from collections.abc import Iterator, Sequence
from statistics import median
from typing import Final

from fifthwire.model.assessment import Reason
from fifthwire.model.errors import RangeError
from fifthwire.model.running import OutdoorReadings, Snapshot, UnitReadings
from fifthwire.physics.refrigerants import Refrigerant

LIQUID_OVER_K: Final = 4.0
"""Liquid that leaves an outdoor coil warmer than it condenses.  [K]  Judgement: well over gauge and sensor together."""
AIR_OVER_K: Final = 3.0
OUTSIDE_OVER_K: Final = 5.0
"""Heat goes from the warmer to the colder: condensing under the air it heats, boiling over the air it cools (outside in
heating, where the air is taken where it suits).  [K]  Judgement."""
PIPES_UNDER_K: Final = 6.0
"""Inlets of most coils colder than what the pressure says boils in them.  [K]  Judgement."""
FEWEST_PIPES: Final = 3
EVEN_WITHIN: Final = 1.25
"""Pressures of a system at rest are within this of one another.  [1]  Judgement: height and one warm coil."""
STANDSTILL_K: Final = 8.0
"""At rest the pressure is that of the air around, near enough.  [K]  Judgement: sun on one coil, a cold room."""


def contradictions(
    of: Refrigerant, outdoor: OutdoorReadings, snapshot: Snapshot, mode: str | None, name: str
) -> tuple[Reason, ...]:
    """What in a snapshot cannot be, if the refrigerant and the pressures of an outdoor unit are right.

    Parameters
    ----------
    of : Refrigerant
        As written.
    outdoor : OutdoorReadings
        One outdoor unit.
    snapshot : Snapshot
        The moment it belongs to.
    mode : str or None
        How the system runs.
    name : str
        Of the outdoor unit.

    Returns
    -------
    tuple of Reason
        Warnings; empty where all goes together or a pressure is outside the refrigerant's range (told elsewhere).
    """
    if snapshot.state not in (None, "normal"):
        return ()
    boils, condenses = _dew_c(of, outdoor.suction_kpa_abs), _dew_c(of, outdoor.discharge_kpa_abs)
    if mode == "off":
        found = _at_rest(boils, snapshot) if has_come_to_rest(outdoor) else iter(())
    elif mode in ("cooling", "heating"):
        found = _running(boils, condenses, outdoor, snapshot, mode)
    else:
        found = iter(())
    return tuple(
        Reason(
            code="running.contradicted",
            values={"id": name, "what": what, "is_c": round(is_c, 1), "refrigerant": of.name, "limit_c": round(at, 1)},
        )
        for what, is_c, at in found
    )


def has_come_to_rest(outdoor: OutdoorReadings) -> bool:
    """Whether no compressor turns and pressures have evened out: before that nothing is at the air's temperature.

    Parameters
    ----------
    outdoor : OutdoorReadings
        One outdoor unit of a system that is off; what is not written is taken as at rest.
    """
    if turns(outdoor):
        return False
    suction, discharge = outdoor.suction_kpa_abs, outdoor.discharge_kpa_abs
    return suction is None or discharge is None or discharge <= EVEN_WITHIN * suction


def turns(outdoor: OutdoorReadings) -> bool:
    """Whether a compressor of an outdoor unit is written as turning."""
    return any(one.speed_hz for one in (outdoor, *outdoor.compressors.values()))


def _dew_c(of: Refrigerant, kpa_abs: float | None) -> float | None:
    try:
        return None if kpa_abs is None else of.dew_c(kpa_abs)
    except RangeError:
        return None


def _running(
    boils: float | None, condenses: float | None, outdoor: OutdoorReadings, snapshot: Snapshot, mode: str
) -> Iterator[tuple[str, float, float]]:
    """What does not fit, its temperature, and the saturation temperature it is held against."""
    cools = [one for one in snapshot.units.values() if one.on is not False and mode == "cooling"]
    heats = [one for one in snapshot.units.values() if one.on is not False and mode == "heating"]
    liquid, ambient = outdoor.liquid_temperature_c, snapshot.ambient_c
    if mode == "cooling" and condenses is not None:
        if liquid is not None and liquid > condenses + LIQUID_OVER_K:
            yield "the liquid line", liquid, condenses
        if ambient is not None and ambient > condenses + AIR_OVER_K:
            yield "the outdoor air", ambient, condenses
    rooms = _of(cools, "return_air_c")
    if boils is not None and rooms and max(rooms) < boils - AIR_OVER_K:
        yield "the warmest room", max(rooms), boils
    pipes = _of(cools, "liquid_pipe_c")
    if boils is not None and len(pipes) >= FEWEST_PIPES and median(pipes) < boils - PIPES_UNDER_K:
        yield "the coils' inlets", median(pipes), boils
    if mode == "heating" and boils is not None and ambient is not None and ambient < boils - OUTSIDE_OVER_K:
        yield "the outdoor air", ambient, boils
    heated = _of(heats, "return_air_c")
    if condenses is not None and heated and min(heated) > condenses + AIR_OVER_K:
        yield "the coldest room", min(heated), condenses


def _at_rest(boils: float | None, snapshot: Snapshot) -> Iterator[tuple[str, float, float]]:
    air = _of(list(snapshot.units.values()), "return_air_c")
    air += [] if snapshot.ambient_c is None else [snapshot.ambient_c]
    if boils is not None and air and not min(air) - STANDSTILL_K <= boils <= max(air) + STANDSTILL_K:
        yield "the air around a system at rest", median(air), boils


def _of(units: Sequence[UnitReadings], name: str) -> list[float]:
    return [value for one in units if (value := getattr(one, name)) is not None]
