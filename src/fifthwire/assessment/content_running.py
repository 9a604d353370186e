"""The part of a report that tells how the system ran: compressors, indoor units, sensors, with their drawings."""

from collections.abc import Iterable, Sequence
from math import ceil
from statistics import median
from typing import Final

from fifthwire.assessment.blocks import (
    Block,
    Column,
    Facts,
    Items,
    Labelled,
    Paragraph,
    Picture,
    Row,
    Sheet,
    Table,
)
from fifthwire.assessment.drawing_cycle import cycle_picture
from fifthwire.assessment.drawing_superheat import ROWS_A_PICTURE, UnitBar, held_picture, held_scale
from fifthwire.assessment.figures import counted, difference, listed, number, temperature, with_unit
from fifthwire.assessment.marks import BAD, GOOD, NOT_CHECKED, NOT_PROVEN, Mark
from fifthwire.assessment.running_moments import fluid_of
from fifthwire.assessment.running_states import CompressorJudged, RunningStates
from fifthwire.assessment.unit_words import command_words, is_apart, middle_half, rank_words
from fifthwire.assessment.valve_words import sentence
from fifthwire.diagnosis.running.cycle import Cycle, CyclePoint, cycle_of
from fifthwire.diagnosis.running.sensor_checks import SensorSeen
from fifthwire.diagnosis.running.units import UnitSeen
from fifthwire.model.assessment import Reason
from fifthwire.model.units import convert
from fifthwire.model.visit import Visit

HEADING: Final = "The running system"
MARK_OF_FLOODBACK: Final[dict[str, tuple[Mark, str]]] = {
    "likely": (BAD, "liquid likely reaches a compressor"),
    "possible": (NOT_PROVEN, "liquid is not ruled out"),
    "unlikely": (GOOD, "liquid is unlikely"),
    "unknown": (NOT_CHECKED, "not known whether liquid reaches a compressor"),
}
MARK_OF_SENSOR: Final[dict[str, tuple[Mark, str]]] = {
    "off": (BAD, "off"),
    "open": (BAD, "open"),
    "shorted": (BAD, "shorted"),
    "undecided": (NOT_PROVEN, "not proven"),
    "good": (GOOD, "good"),
}
WORST_FIRST: Final = ("likely", "possible", "unknown", "unlikely")
CORNERS: Final = {
    "suction": "1 suction",
    "discharge": "2 discharge",
    "liquid": "3 liquid",
    "inlet": "4 after the valves",
}


def running_section(visit: Visit, states: RunningStates, units: str = "si") -> tuple[Block, ...]:
    """How the system ran.

    Parameters
    ----------
    visit : Visit
        As it was written.
    states : RunningStates
        Of that visit.
    units : str
        "si" or "us".

    Returns
    -------
    tuple of Block
        Empty where the visit holds no running readings and no sensors.
    """
    return (
        *_outdoor_sheets(visit, states, units),
        *_unit_blocks(states, "cooling", units),
        *_unit_blocks(states, "heating", units),
        *_sensor_blocks(states.sensors, units),
    )


def _outdoor_sheets(visit: Visit, states: RunningStates, units: str) -> Iterable[Sheet]:
    by_unit: dict[str, list[CompressorJudged]] = {}
    for one in states.compressors:
        by_unit.setdefault(one.seen.id.partition("/")[0], []).append(one)
    for place, (name, of) in enumerate(by_unit.items(), start=1):
        worst = min(of, key=lambda one: WORST_FIRST.index(one.floodback))
        mark, word = MARK_OF_FLOODBACK[worst.floodback]
        fluid = visit.system.refrigerant or "refrigerant not written"
        ran = [fluid] + ([f"in {worst.mode}"] if worst.mode in ("cooling", "heating") else [worst.mode or ""])
        yield Sheet(
            anchor=f"running-{place}",
            heading=name,
            mark=mark.key,
            mark_word=word,
            place=", ".join(part for part in ran if part),
            words=tuple(block for one in of for block in _compressor_words(one, units)),
            pictures=tuple(_cycle_blocks(visit, states, worst, name, units)),
        )


def _compressor_words(one: CompressorJudged, units: str) -> tuple[Items | Facts, ...]:
    verdict, *rest = (sentence(of, units) for of in one.signs)
    return (
        Items(label=verdict, texts=tuple(rest)),
        Facts(facts=tuple(Labelled(label=label, text=text) for label, text in _figures(one, units) if text)),
    )


def _figures(one: CompressorJudged, units: str) -> Iterable[tuple[str, str]]:
    seen = one.seen
    yield "Evaporating, condensing", _and(seen.evaporating_c, seen.condensing_c, units)
    yield "Suction superheat", _k(seen.suction_superheat_k, units)
    yield "Discharge superheat", _k(seen.discharge_superheat_k, units)
    if seen.dry_discharge_superheat_k is not None and seen.lowest_dry_k is not None and seen.highest_dry_k is not None:
        low, high = difference(seen.lowest_dry_k, units, 1), difference(seen.highest_dry_k, units, 1)
        dry = difference(seen.dry_discharge_superheat_k, units, 1)
        yield "Dry suction would give", f"{dry}; from {low} to {high} by the compressor's efficiency"
    yield "Subcooling", _k(seen.subcooling_k, units)
    if seen.suction_quality is not None and seen.u_quality is not None:
        share = f"{number(seen.suction_quality * 100.0, 1)} ± {number(seen.u_quality * 100.0, 1)}"
        yield "Vapour in what it draws", with_unit(share, "%") + " by its energy balance"


def _and(first_c: float | None, second_c: float | None, units: str) -> str:
    if first_c is None and second_c is None:
        return ""
    return ", ".join("not known" if c is None else temperature(c, units, 1) for c in (first_c, second_c))


def _k(value_k: float | None, units: str) -> str:
    return "" if value_k is None else difference(value_k, units, 1)


def _cycle_blocks(
    visit: Visit, states: RunningStates, one: CompressorJudged, name: str, units: str
) -> Iterable[Picture | Table]:
    of, seen = fluid_of(visit), one.seen
    if of is None or seen.is_contradicted:
        return
    cycle = cycle_of(of, seen, _liquid_c(states, one))
    if cycle is None or seen.evaporating_c is None or seen.condensing_c is None:
        return
    caption = f"Pressure and enthalpy, {seen.id}: dots are from readings, what is dashed is not"
    yield cycle_picture(
        cycle,
        seen.evaporating_c,
        seen.condensing_c,
        caption=caption,
        title=f"Pressure-enthalpy diagram of {name}",
        units=units,
    )
    yield _corner_table(cycle, seen.id, units)


def _liquid_c(states: RunningStates, one: CompressorJudged) -> float | None:
    """What leaves the condensing coils: the outdoor unit's liquid line, or in heating the indoor coils'."""
    if one.mode != "heating":
        return one.seen.liquid_c
    held = [of.held_k for of in states.units if of.runs == "heating" and of.held_k is not None]
    condensing = one.seen.condensing_c
    return condensing - median(held) if held and condensing is not None else None


def _corner_table(cycle: Cycle, name: str, units: str) -> Table:
    to_unit = ("psia", "psia") if units == "us" else ("kPa", "kPa")
    rows = tuple(
        Row(
            cells=(
                CORNERS[one.name],
                number(convert(one.kpa_abs, "kPa", to_unit[0]), 0),
                _corner_temperature(one, units),
                number(one.enthalpy_kj_kg, 0),
                "read" if one.is_read else _taken(one),
            )
        )
        for one in cycle.points
    )
    columns = (
        Column(label="Corner", share=1.7),
        Column(label=to_unit[1], is_figure=True, share=0.9),
        Column(label="At", is_figure=True, share=1.2),
        Column(label="kJ/kg", is_figure=True, share=0.9),
        Column(label="From", share=1.9),
    )
    caption = f"The corners of the cycle of {name}; pressures are absolute"
    return Table(caption=caption, columns=columns, rows=rows, does_stack=False)


def _corner_temperature(one: CyclePoint, units: str) -> str:
    return "wet" if one.c is None else temperature(one.c, units, 1)


def _taken(one: CyclePoint) -> str:
    if one.quality is not None:
        return "the energy balance"
    return {
        "suction": "taken as just dry",
        "discharge": "taken by usual efficiency" if one.c is not None else "taken as just dry",
        "liquid": "taken as just liquid",
        "inlet": "as the liquid",
    }[one.name]


def _unit_blocks(states: RunningStates, runs: str, units: str) -> Iterable[Block]:
    """The chart and the table of the units that run one way; those that are off stand with the units that cool."""
    ran = [one for one in states.units if one.runs == runs]
    if not any(one.held_k is not None for one in ran):
        return
    shown = [one for one in states.units if one.runs == runs or (one.runs in ("off", "") and runs == _most(states))]
    what = "Superheat" if runs == "cooling" else "Subcooling"
    held = [one.held_k for one in ran if one.held_k is not None]
    band = middle_half(held)
    yield Sheet(
        anchor=f"units-{runs}",
        heading=f"Indoor units that {'cool' if runs == 'cooling' else 'heat'}",
        mark=NOT_PROVEN.key if any(is_apart(one, held) for one in ran) else GOOD.key,
        mark_word=_apart_words(ran, held),
        place=f"{what} of each coil, as the units hang in the file",
        words=tuple(_unit_words(ran, held, band, what, units)),
        pictures=tuple(_held_pictures(shown, held, band, what, units)),
    )
    yield _unit_table(shown, what, units)


def _most(states: RunningStates) -> str:
    """How most of the units run."""
    runs = [one.runs for one in states.units]
    return "heating" if runs.count("heating") > runs.count("cooling") else "cooling"


def _apart_words(ran: Sequence[UnitSeen], held: Sequence[float]) -> str:
    apart = [one.id for one in ran if is_apart(one, held)]
    return f"{listed(apart)} {'stands' if len(apart) == 1 else 'stand'} apart" if apart else "none stands apart"


def _unit_words(
    ran: Sequence[UnitSeen], held: Sequence[float], band: tuple[float, float] | None, what: str, units: str
) -> Iterable[Paragraph | Items]:
    said = f"{counted(len(ran), 'unit')}: {what.lower()} from {_k(min(held), units)} to {_k(max(held), units)}"
    said += f", the middle half from {_k(band[0], units)} to {_k(band[1], units)}." if band else "."
    yield Paragraph(text=said)
    apart = [one for one in ran if is_apart(one, held)]
    if apart:
        yield Items(label="Stand apart", texts=tuple(_apart_sentence(one, units) for one in apart))
    yield Paragraph(text=_how_measured(ran, what, units), tone="quiet")


def _apart_sentence(one: UnitSeen, units: str) -> str:
    target = "" if one.target_k is None else f", target {_k(one.target_k, units)}"
    return f"{one.id}: {_k(one.held_k, units)}{target}; {rank_words(one)}; commanded {command_words(one)}."


def _how_measured(ran: Sequence[UnitSeen], what: str, units: str) -> str:
    if what == "Subcooling":
        return "Subcooling is counted from the bubble temperature at discharge to the liquid pipe."
    by_two = next((one for one in ran if one.method == "two-temperatures"), None)
    by_pressure = next((one for one in ran if one.method == "pressure"), None)
    said = []
    if by_two is not None:
        said.append(f"By two temperatures: gas pipe less liquid pipe, ± {_k(by_two.u_k, units)}.")
    if by_pressure is not None or (by_two is not None and by_two.by_pressure_k is not None):
        u_k = by_pressure.u_k if by_pressure is not None else by_two.u_by_pressure_k if by_two is not None else None
        said.append(f"By pressure: gas pipe less the dew temperature at suction, ± {_k(u_k, units)} at best.")
    if by_two is not None and by_two.by_pressure_k is not None:
        said.append("They are different measurements; the quieter one leads.")
    return " ".join(said)


def _unit_table(shown: Sequence[UnitSeen], what: str, units: str) -> Table:
    """A row a unit; a column that has nothing to say is left out."""
    columns = (
        Column(label="Unit", share=1.2),
        Column(label=what, is_figure=True, share=1.6),
        Column(label="By pressure", is_figure=True, share=1.2),
        Column(label="Target", is_figure=True, share=0.9),
        Column(label="Among them", share=1.6),
        Column(label="Command", is_figure=True, share=1.1),
    )
    rows = [
        (
            one.id,
            _held_text(one, units),
            _k(one.by_pressure_k, units),
            _k(one.target_k, units) if one.held_k is not None else "",
            "" if one.rank is None else rank_words(one),
            _command_cell(one),
        )
        for one in shown
    ]
    kept = [place for place in range(len(columns)) if any(row[place] for row in rows)]
    return Table(
        caption=f"{what} of each unit, as the units hang",
        columns=tuple(columns[place] for place in kept),
        rows=tuple(Row(cells=tuple(row[place] for place in kept)) for row in rows),
    )


def _held_text(one: UnitSeen, units: str) -> str:
    if one.held_k is None or one.u_k is None:
        return _instead(one)
    scale = 1.8 if units == "us" else 1.0
    sign = "°F" if units == "us" else "K"
    return with_unit(f"{number(one.held_k * scale, 1)} ± {number(one.u_k * scale, 1)}", sign)


def _instead(one: UnitSeen) -> str:
    return "off" if one.runs == "off" else "not read"


def _command_cell(one: UnitSeen) -> str:
    return "" if one.command_frac is None and one.command_pulses is None else command_words(one)


def _held_pictures(
    shown: Sequence[UnitSeen], held: Sequence[float], band: tuple[float, float] | None, what: str, units: str
) -> Iterable[Picture]:
    factor, unit = (1.8, "°F") if units == "us" else (1.0, "K")
    bars = [
        UnitBar(
            name=one.id,
            held=None if one.held_k is None else one.held_k * factor,
            u=None if one.u_k is None else one.u_k * factor,
            target=None if one.target_k is None or one.held_k is None else one.target_k * factor,
            stands_apart=is_apart(one, held),
            instead=_instead(one),
        )
        for one in shown
    ]
    scale = held_scale(bars, unit, None if band is None else (band[0] * factor, band[1] * factor))
    a_part = ceil(len(bars) / ceil(len(bars) / ROWS_A_PICTURE))
    parts = [bars[start : start + a_part] for start in range(0, len(bars), a_part)]
    for place, part in enumerate(parts):
        key = "Bar: measured. Tick: target. Soft band: the middle half. Filled: stands apart."
        caption = f"{what}. {key}" if place == 0 else f"{what}, continued"
        span = "" if len(parts) == 1 else f", {part[0].name} to {part[-1].name}"
        yield held_picture(part, scale, caption=caption, title=f"{what} of the indoor units{span}")


def _sensor_blocks(sensors: Sequence[SensorSeen], units: str) -> Iterable[Block]:
    told = [one for one in sensors if one.verdict != "good" or one.why != "sensor.standstill"]
    quiet = len(sensors) - len(told)
    if sensors:
        yield Paragraph(text="Temperature sensors", tone="lead")
    if told:
        columns = (
            Column(label="State", share=1.0),
            Column(label="Sensor", share=1.8),
            Column(label="Reads", is_figure=True, share=0.9),
            Column(label="Off by", is_figure=True, share=1.3),
            Column(label="Why", share=3.4),
        )
        yield Table(
            caption="Temperature sensors that were checked, and those that cannot be right",
            columns=columns,
            rows=tuple(_sensor_row(one, units) for one in told),
        )
    if quiet:
        agree = "agrees" if quiet == 1 else "agree"
        text = f"{counted(quiet, 'sensor')} at rest {agree} with the air around."
        yield Paragraph(text=text, tone="quiet")


def _sensor_row(one: SensorSeen, units: str) -> Row:
    mark, word = MARK_OF_SENSOR[one.verdict]
    why = sentence(Reason(code=one.why, values=one.values), units) if one.why else _of_meter(one)
    reads = "" if one.reads_c is None else temperature(one.reads_c, units, 1)
    return Row(cells=(word, one.id, reads, _off_by(one, units), why), mark=mark.key)


def _of_meter(one: SensorSeen) -> str:
    if one.verdict in ("open", "shorted"):
        return "By the meter."
    if one.off_by_k is None:
        return "By the meter; without a curve and a reference thermometer nothing is decided."
    return "By the meter, against a reference thermometer beside it."


def _off_by(one: SensorSeen, units: str) -> str:
    if one.off_by_k is None:
        return ""
    factor, sign = (1.8, "°F") if units == "us" else (1.0, "K")
    u = "" if one.u_k is None else f" ± {number(one.u_k * factor, 1)}"
    plus = "+" if one.off_by_k > 0.0 else ""
    return with_unit(f"{plus}{number(one.off_by_k * factor, 1)}{u}", sign)
