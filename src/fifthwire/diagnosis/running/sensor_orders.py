"""Sensors that cannot be right: orders of temperature that no coil gives, and pipes at rest that differ from the air.

While a coil runs its pipes and its air stand in a fixed order; at standstill all of them show the air around. Which of
two sensors is at fault is told only where a third reading says so; else both are undecided.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from statistics import median
from typing import Final

from fifthwire.diagnosis.running.sensor_checks import SensorSeen, within
from fifthwire.model.record import record
from fifthwire.model.running import OutdoorReadings, UnitReadings

IMPOSSIBLE_K: Final = 3.0
"""An order of temperatures wrong by more is a sensor's fault.  [K]  Judgement: twice two sensors' usual error."""
FLOWS_WITHIN_K: Final = 5.0
"""A liquid pipe so near to saturation shows that refrigerant flows.  [K]  Judgement: hardly any flow, and it drifts to
the air around it (computed: steady circuit)."""
INLET_USUAL_K: Final = (-1.5, 4.0)
"""A coil's inlet against the suction's dew point, its pressure drop between.  [K]  Judgement."""
INLET_STRANGE_K: Final = 5.0
LEAST_FALL_K: Final = 3.0
"""Air that falls or rises by so much shows that the coil works.  [K]  Judgement."""
STANDSTILL_U_K: Final = 0.48
"""How far a pipe at standstill may be from the air around it.  [K]  Judgement, one standard uncertainty."""
OUTDOORS_U_K: Final = 2.0
"""The same outdoors, where sun and left-over heat are felt.  [K]  Judgement."""
OFF_LONG_ENOUGH_MIN: Final = 30.0
"""A unit off for so long has pipes at the air's temperature.  [min]  Common practice."""
FEWEST_FOR_MEDIAN: Final = 3
SENSORS: Final = ("liquid_pipe", "gas_pipe", "return_air", "supply_air")
"""Of an indoor unit, as the snapshot names them."""


@record
class CoilAround:
    """What bounds the temperatures of a coil; None where it is not known."""

    boils_c: float | None = None
    """Evaporating temperature at suction, a blend's glide at the coil's inlet taken off.  [°C]"""
    condenses_c: float | None = None
    hottest_c: float | None = None
    """The hottest discharge temperature: no gas pipe is hotter.  [°C]"""
    inlets_c: float | None = None
    """The middle one of the liquid pipes of the other units that cool.  [°C]"""
    is_mixed: bool = False
    """Hot gas may stand in any gas pipe then."""


def at_standstill(unit: str, of: UnitReadings) -> list[SensorSeen]:
    """The sensors of a unit at rest, against one another where they are three or more, else against its return air.

    Parameters
    ----------
    unit : str
        Its name.
    of : UnitReadings
        Of a system at rest.

    Returns
    -------
    list of SensorSeen
        Empty where it has not been at rest for long, or there is nothing to compare with.
    """
    read = {name: value for name in SENSORS if (value := getattr(of, f"{name}_c")) is not None}
    if of.off_minutes is not None and 0.0 < of.off_minutes < OFF_LONG_ENOUGH_MIN:
        return []
    if len(read) >= FEWEST_FOR_MEDIAN:
        around, names = median(read.values()), list(read)
    elif "return_air" in read:
        around, names = read["return_air"], [name for name in read if name != "return_air"]
    else:
        return []
    return [
        SensorSeen(
            id=f"{unit}/{name}",
            verdict=within(read[name] - around, STANDSTILL_U_K),
            reads_c=read[name],
            off_by_k=read[name] - around,
            u_k=STANDSTILL_U_K,
            why="sensor.standstill",
            values={"around_c": _shown(around)},
        )
        for name in names
    ]


def at_standstill_outdoors(outdoor: str, of: OutdoorReadings, ambient_c: float | None) -> list[SensorSeen]:
    """The pipe sensors of an outdoor unit at rest, against the outdoor air; only those that are far from it.

    Parameters
    ----------
    outdoor : str
        Its name.
    of : OutdoorReadings
        Of a system at rest. The discharge line is left out: a crankcase heater warms it.
    ambient_c : float or None
        Outdoor air.  [°C]

    Returns
    -------
    list of SensorSeen
        Sun and what is left of the day's heat blur it: a sensor that agrees is not thereby proved.
    """
    read = {"suction_temperature": of.suction_temperature_c, "liquid_temperature": of.liquid_temperature_c}
    known = {name: c for name, c in read.items() if c is not None}
    if ambient_c is None or not known:
        return []
    around = median([ambient_c, *known.values()]) if len(known) + 1 >= FEWEST_FOR_MEDIAN else ambient_c
    found = []
    for name, c in [*((f"{outdoor}/{key}", value) for key, value in known.items()), ("ambient", ambient_c)]:
        off_k = c - around
        if within(off_k, OUTDOORS_U_K) == "off":
            found.append(
                SensorSeen(
                    id=name,
                    verdict="off",
                    reads_c=c,
                    off_by_k=off_k,
                    u_k=OUTDOORS_U_K,
                    why="sensor.standstill",
                    values={"around_c": _shown(around)},
                )
            )
    return found


def impossible_in_cooling(unit: str, of: UnitReadings, around: CoilAround) -> list[SensorSeen]:
    """Sensors of a running unit that no cooling coil can give.

    Parameters
    ----------
    unit : str
        Its name.
    of : UnitReadings
        Of a unit that cools.
    around : CoilAround
        What bounds it.

    Returns
    -------
    list of SensorSeen
        Only those that cannot be right, each once.
    """
    found = [*_under_boiling(unit, of, around), *_air_of_cooling(unit, of, around)]
    bad = {one.id for one in found if one.verdict == "off"}
    pair = {f"{unit}/gas_pipe", f"{unit}/liquid_pipe"}
    if not bad & pair and _under(of.gas_pipe_c, of.liquid_pipe_c):
        found += _gas_under_liquid(unit, of, around)
    return _once(found)


def _under_boiling(unit: str, of: UnitReadings, around: CoilAround) -> Iterator[SensorSeen]:
    for name in ("gas_pipe", "liquid_pipe", "supply_air"):
        reads = getattr(of, f"{name}_c")
        if _under(reads, around.boils_c):
            yield _off(unit, name, reads, "sensor.under-boiling", boils_c=_shown(around.boils_c))


def _air_of_cooling(unit: str, of: UnitReadings, around: CoilAround) -> Iterator[SensorSeen]:
    if not _flows(of, around):
        return
    if not around.is_mixed and _under(of.return_air_c, of.gas_pipe_c):
        if of.supply_air_c is not None and _under(of.return_air_c, of.supply_air_c):
            yield _off(unit, "return_air", of.return_air_c, "sensor.return-under-all")
            return
        yield _off(unit, "gas_pipe", of.gas_pipe_c, "sensor.gas-over-room", room_c=_shown(of.return_air_c))
    if _under(of.return_air_c, of.liquid_pipe_c):
        yield _off(unit, "liquid_pipe", of.liquid_pipe_c, "sensor.liquid-over-room", room_c=_shown(of.return_air_c))
    if _under(of.return_air_c, of.supply_air_c) and not _under(of.return_air_c, of.gas_pipe_c):
        yield _off(unit, "supply_air", of.supply_air_c, "sensor.supply-warmer", room_c=_shown(of.return_air_c))


def _flows(of: UnitReadings, around: CoilAround) -> bool:
    """Whether refrigerant flows through a cooling coil: its inlet is near what boils, or it cools the air."""
    if of.return_air_c is not None and of.supply_air_c is not None and of.return_air_c - of.supply_air_c > LEAST_FALL_K:
        return True
    boils = around.boils_c if around.boils_c is not None else around.inlets_c
    return boils is not None and of.liquid_pipe_c is not None and abs(of.liquid_pipe_c - boils) <= FLOWS_WITHIN_K


def _gas_under_liquid(unit: str, of: UnitReadings, around: CoilAround) -> list[SensorSeen]:
    """One of the two is wrong: the one that is not where a coil's inlet belongs."""
    boils, inlets = around.boils_c, around.inlets_c
    gas, liquid = of.gas_pipe_c or 0.0, of.liquid_pipe_c or 0.0
    values = {"gas_c": _shown(gas), "liquid_c": _shown(liquid)}
    usual_c = inlets if inlets is not None else boils
    if usual_c is not None and INLET_USUAL_K[0] <= liquid - usual_c <= INLET_USUAL_K[1]:
        return [_off(unit, "gas_pipe", gas, "sensor.gas-under-liquid", **values)]
    if usual_c is not None and liquid - usual_c > INLET_STRANGE_K and gas >= usual_c - IMPOSSIBLE_K:
        return [_off(unit, "liquid_pipe", liquid, "sensor.gas-under-liquid", **values)]
    return _either(unit, (("gas_pipe", gas), ("liquid_pipe", liquid)), "sensor.gas-under-liquid", values)


def impossible_in_heating(unit: str, of: UnitReadings, around: CoilAround) -> list[SensorSeen]:
    """Sensors of a running unit that no heating coil can give.

    Parameters
    ----------
    unit : str
        Its name.
    of : UnitReadings
        Of a unit that heats.
    around : CoilAround
        What bounds it.

    Returns
    -------
    list of SensorSeen
        Only those that cannot be right, each once.
    """
    found = []
    room = of.return_air_c
    # A coil without flow drifts to the air of its ceiling void, which may be colder than the room.
    heats = room is not None and of.supply_air_c is not None and of.supply_air_c - room > LEAST_FALL_K
    for name in ("gas_pipe", "liquid_pipe"):
        reads = getattr(of, f"{name}_c")
        if _under(reads, room):
            one = _off(unit, name, reads, "sensor.pipe-under-room", room_c=_shown(room))
            found.append(one if heats else replace(one, verdict="undecided"))
    if _under(around.hottest_c, of.gas_pipe_c):
        values = {"hottest_c": _shown(around.hottest_c)}
        found.append(_off(unit, "gas_pipe", of.gas_pipe_c, "sensor.over-discharge", **values))
    if _under(of.gas_pipe_c, of.supply_air_c):
        values = {"gas_c": _shown(of.gas_pipe_c)}
        found.append(_off(unit, "supply_air", of.supply_air_c, "sensor.air-over-gas", **values))
    works = of.gas_pipe_c is not None and room is not None and of.gas_pipe_c > room + 2.0 * FLOWS_WITHIN_K
    if works and _under(of.supply_air_c, room):
        found.append(_off(unit, "supply_air", of.supply_air_c, "sensor.supply-colder", room_c=_shown(room)))
    if not found and _under(of.gas_pipe_c, of.liquid_pipe_c):
        gas, liquid = of.gas_pipe_c or 0.0, of.liquid_pipe_c or 0.0
        values = {"gas_c": _shown(gas), "liquid_c": _shown(liquid)}
        found += _either(unit, (("gas_pipe", gas), ("liquid_pipe", liquid)), "sensor.gas-under-liquid-heating", values)
    return _once(found)


def impossible_outdoors(
    outdoor: str,
    suction_c: float | None,
    boils_c: float | None,
    discharges: Sequence[tuple[str, float | None]],
    condenses_c: float | None,
    *,
    is_gauge_proved: bool,
) -> list[SensorSeen]:
    """Sensors of an outdoor unit that no circuit can give.

    Parameters
    ----------
    outdoor : str
        Its name.
    suction_c, boils_c, condenses_c : float or None
        Suction line, and saturation at suction and discharge.  [°C]
    discharges : sequence of (str, float or None)
        Label and discharge temperature of each compressor.
    is_gauge_proved : bool
        The coils' inlets stand where the suction's pressure says.

    Returns
    -------
    list of SensorSeen
        Off where the gauge is proved by other readings, else undecided: it may be the gauge.
    """
    verdict = "off" if is_gauge_proved else "undecided"
    found = []
    if _under(suction_c, boils_c):
        found.append(
            SensorSeen(
                id=f"{outdoor}/suction_temperature",
                verdict=verdict,
                reads_c=suction_c,
                why="sensor.under-boiling",
                values={"boils_c": _shown(boils_c)},
            )
        )
    known = [reads for _, reads in discharges if reads is not None]
    if known and len(known) == len(discharges) and _under(max(known), suction_c):
        found.append(
            SensorSeen(
                id=f"{outdoor}/suction_temperature",
                verdict="undecided" if _under(max(known), condenses_c) else "off",
                reads_c=suction_c,
                why="sensor.over-discharge",
                values={"hottest_c": _shown(max(known))},
            )
        )
    for label, reads in discharges:
        if _under(reads, condenses_c):
            found.append(
                SensorSeen(
                    id=f"{label}/discharge_temperature",
                    verdict="undecided",
                    reads_c=reads,
                    why="sensor.under-condensing",
                    values={"condenses_c": _shown(condenses_c)},
                )
            )
    return found


def _under(first: float | None, second: float | None) -> bool:
    return first is not None and second is not None and first < second - IMPOSSIBLE_K


def _shown(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"


def _off(unit: str, name: str, reads: float | None, why: str, **values: str) -> SensorSeen:
    return SensorSeen(id=f"{unit}/{name}", verdict="off", reads_c=reads, why=why, values=values)


def _either(unit: str, pair: Sequence[tuple[str, float]], why: str, values: dict[str, str]) -> list[SensorSeen]:
    return [
        SensorSeen(id=f"{unit}/{name}", verdict="undecided", reads_c=reads, why=why, values=values)
        for name, reads in pair
    ]


def _once(found: list[SensorSeen]) -> list[SensorSeen]:
    """Each sensor once, the first thing said of it."""
    return list({one.id: one for one in reversed(found)}.values())[::-1]
