"""A head's windings in a report: the chart, the table under it, the plug with its readings, pass or fail."""

from collections.abc import Mapping, Sequence
from typing import Final, TypeAlias

from fifthwire.assessment.blocks import Column, Paragraph, Picture, Row, Table
from fifthwire.assessment.conditions import head_temperature, spec_law
from fifthwire.assessment.conformity import WindingConformity, conformity_of
from fifthwire.assessment.drawing_heads import HeadRow
from fifthwire.assessment.drawing_plug import PairRead, plug_picture
from fifthwire.assessment.drawing_windings import Band, WindingBar, winding_picture
from fifthwire.assessment.figures import (
    NO_BREAK_SPACE,
    THIN_SPACE,
    decimals_borne,
    number,
    on_the_point,
    percent,
    plain,
    temperature,
    with_unit,
)
from fifthwire.assessment.measured import WIRES_OF, band_ohm, pair_words, pins_of, reading_figure, state_words
from fifthwire.assessment.windings import judged_measurement
from fifthwire.model.assessment import ValveAssessment, WindingEstimate
from fifthwire.model.valve import Measurement, PairReading, Valve
from fifthwire.model.visit import Spec, Visit
from fifthwire.physics.conformity import GUARD_BAND_IN_U
from fifthwire.physics.copper import resistance_factor

ZONE_WORDS: Final = {"pass": "pass", "fail": "fail", "not-proven": "not proven", "": "–"}

MOST_LINES: Final = 30
"""More readings than a plug picture can carry: then one line a pair is drawn, and all are told in words.  [1]  Our
choice: a six-wire head has 15 pairs."""

_ByWires: TypeAlias = Mapping[tuple[str, str], WindingConformity]


def spec_of(visit: Visit, valve: Valve) -> Spec | None:
    """The spec that a valve names, if the file holds it."""
    return visit.specs.get(valve.spec or "")


def winding_blocks(
    visit: Visit, valve: Valve, assessed: ValveAssessment, units: str
) -> tuple[Picture | Table | Paragraph, ...]:
    """The drawings and tables of one head.

    Parameters
    ----------
    visit : Visit
        Holds the spec and the meter.
    valve : Valve
        As written.
    assessed : ValveAssessment
        What was made of it.
    units : str
        "si" or "us".

    Returns
    -------
    tuple of blocks
        Empty where nothing was read.
    """
    chosen = None if valve.plug_off is False else judged_measurement(valve)
    blocks: list[Picture | Table | Paragraph] = []
    if chosen is not None:
        if assessed.winding.windings:
            blocks.append(_chart(visit, valve, assessed, chosen, units))
        if assessed.winding.verdict == "sound":  # nothing to point at: what was read fits a line
            blocks.append(Paragraph(text=_read_words(visit, valve, chosen), tone="quiet"))
        else:
            blocks += [_table(visit, valve, assessed, chosen, units)] if assessed.winding.windings else []
            blocks.append(_plug(visit, valve, assessed, chosen))
            if len(chosen.readings) > MOST_LINES:
                blocks.append(Paragraph(text=_read_words(visit, valve, chosen), tone="quiet"))
    first = Measurement(readings=valve.readings)
    others = [one for one in (first, *valve.measurements) if one.readings and one != chosen]
    return (*blocks, *(_other_readings(visit, valve, one) for one in others))


def _chart(visit: Visit, valve: Valve, assessed: ValveAssessment, chosen: Measurement, units: str) -> Picture:
    spec = spec_of(visit, valve)
    against = _by_wires(assessed, spec)
    decimals = shared_decimals([one.u_ohm for one in assessed.winding.windings])
    bars = [
        WindingBar(
            name=winding_name(one),
            ohm=one.ohm,
            half_width_ohm=GUARD_BAND_IN_U * _u_at_head(one, spec, valve, chosen),
            figure=_figure(one, chosen, decimals),
            zone=against[one.wires].zone if one.wires in against else "",
        )
        for one in assessed.winding.windings
    ]
    return winding_picture(bars, _band(spec, valve, chosen, units), "Windings", f"{valve.id}: its windings")


def head_row(visit: Visit, valve: Valve, assessed: ValveAssessment) -> HeadRow | None:
    """One head for the drawing of many; None where nothing finite was read of it.

    Parameters
    ----------
    visit : Visit
        Holds the spec.
    valve : Valve
        As written.
    assessed : ValveAssessment
        What was made of it.
    """
    chosen, spec = judged_measurement(valve), spec_of(visit, valve)
    read = [one for one in assessed.winding.windings if one.ohm is not None]
    if chosen is None or not read or valve.plug_off is False:
        return None
    limits, against = band_ohm(spec, valve, chosen), _by_wires(assessed, spec)
    ohms = [one.ohm or 0.0 for one in read]
    middle = sum(limits) / 2.0 if limits is not None else sum(ohms) / len(ohms)
    return HeadRow(
        name=valve.id,
        off_fracs=tuple(ohm / middle - 1.0 for ohm in ohms),
        zones=tuple(against[one.wires].zone if one.wires in against else "" for one in read),
        half_band_frac=None if limits is None else (limits[1] - limits[0]) / 2.0 / middle,
    )


def read_words(visit: Visit, valve: Valve) -> str:
    """What the meter showed at a head, pair by pair, without unit; empty where nothing was read."""
    chosen = judged_measurement(valve)
    return "" if chosen is None else _shown_words(visit, valve, chosen)


def _by_wires(assessed: ValveAssessment, spec: Spec | None) -> _ByWires:
    return {one.wires: one for one in conformity_of(assessed, spec)}


def _u_at_head(winding: WindingEstimate, spec: Spec | None, valve: Valve, chosen: Measurement) -> float:
    """Standard uncertainty at the head's temperature, what is not known of that temperature included. [Ω]"""
    law, head_c = spec_law(spec), head_temperature(valve, chosen).centre_c
    if winding.u_ohm_at_spec is None or law is None or head_c is None:
        return winding.u_ohm or 0.0
    return winding.u_ohm_at_spec * resistance_factor(law.at_c, head_c)


def _band(spec: Spec | None, valve: Valve, chosen: Measurement, units: str) -> Band | None:
    limits = band_ohm(spec, valve, chosen)
    if limits is None:
        return None
    head = head_temperature(valve, chosen)
    if head.centre_c is None:
        where = f"{temperature(head.low_c, units).partition(THIN_SPACE)[0]} to {temperature(head.high_c, units)}"
    else:
        where = temperature(head.centre_c, units)
    low, high = (number(limit, 1 if limits[1] < 200.0 else 0) for limit in limits)
    return Band(low_ohm=limits[0], high_ohm=limits[1], words=f"{low} to {high} Ω at {where}")


def _figure(winding: WindingEstimate, chosen: Measurement, decimals: int) -> str:
    if winding.ohm is not None:
        return number(winding.ohm, decimals)
    is_open = any(one.is_open and winding.wires[1] in (one.wire_a, one.wire_b) for one in chosen.readings)
    return "open" if is_open else "not read"


def winding_name(winding: WindingEstimate) -> str:
    """Its two wires as people write them."""
    return pair_words(*winding.wires)


def shared_decimals(uncertainties: Sequence[float | None]) -> int:
    """Decimals that all values of one head bear, so that they stand under one another."""
    known = [u for u in uncertainties if u is not None]
    return decimals_borne(max(known)) if known else 1


def _table(visit: Visit, valve: Valve, assessed: ValveAssessment, chosen: Measurement, units: str) -> Table:
    spec, windings = spec_of(visit, valve), assessed.winding.windings
    head_c = head_temperature(valve, chosen).centre_c
    columns = [
        Column(label="Wires", share=0.7),
        Column(label="As it is" if head_c is None else f"At {temperature(head_c, units)}", is_figure=True, share=1.5),
    ]
    at_head = _with_u([(one.ohm, one.u_ohm, _figure(one, chosen, 1)) for one in windings])
    cells: list[list[str]] = [[winding_name(one), shown] for one, shown in zip(windings, at_head, strict=True)]
    law, against = spec_law(spec), _by_wires(assessed, spec)
    if law is not None and against:
        at_spec = _with_u([(one.ohm_at_spec, one.u_ohm_at_spec, "–") for one in windings])
        columns.append(Column(label=f"At {temperature(law.at_c, units)}", is_figure=True, share=1.5))
        columns.append(Column(label="Spec", share=0.9))
        for row, one, shown in zip(cells, windings, at_spec, strict=True):
            row += [shown, ZONE_WORDS[against[one.wires].zone if one.wires in against else ""]]
    return Table(
        caption="Windings with their standard uncertainty, and whether they pass the spec",
        columns=tuple(columns),
        rows=tuple(Row(cells=tuple(row)) for row in cells),
        does_stack=False,
    )


def _with_u(values: Sequence[tuple[float | None, float | None, str]]) -> list[str]:
    decimals = shared_decimals([u for _, u, _ in values])
    numbers = on_the_point([otherwise if ohm is None else number(ohm, decimals) for ohm, _, otherwise in values])
    spreads = [None if u is None else number(u, decimals) for _, u, _ in values]
    return [
        shown if ohm is None else ohms_shown(shown, spread)
        for (ohm, _, _), shown, spread in zip(values, numbers, spreads, strict=True)
    ]


def ohms_shown(number_text: str, spread: str | None) -> str:
    """A padded number with its uncertainty and unit."""
    return f"{number_text}{'' if spread is None else f' ±{NO_BREAK_SPACE}{spread}'}{NO_BREAK_SPACE}Ω"


def _plug(visit: Visit, valve: Valve, assessed: ValveAssessment, chosen: Measurement) -> Picture:
    touch = assessed.winding.next_reading.wires if assessed.winding.next_reading else None
    spec = spec_of(visit, valve)
    arrangement = spec.winding if spec is not None else assessed.winding.arrangement
    pins = pins_of(chosen.readings, (*valve.common, *(touch or ())), WIRES_OF.get(arrangement or ""))
    drawn = chosen.readings if len(chosen.readings) <= MOST_LINES else _last_of_each_pair(chosen.readings)
    pairs = [PairRead(one.wire_a, one.wire_b, reading_figure(one, visit, valve, chosen)) for one in drawn]
    return plug_picture(pins, pairs, touch, f"Plug, read {state_words(chosen)}", f"{valve.id}: its plug")


def _last_of_each_pair(readings: Sequence[PairReading]) -> list[PairReading]:
    last = {frozenset((one.wire_a, one.wire_b)): one for one in readings}
    return list(last.values())[:MOST_LINES]


def _other_readings(visit: Visit, valve: Valve, other: Measurement) -> Paragraph:
    if other.is_void:
        return Paragraph(text=f"Struck out, not used. {_read_words(visit, valve, other)}", tone="struck")
    if valve.plug_off is False:
        return Paragraph(text=f"With the plug on, not used. {_read_words(visit, valve, other)}", tone="quiet")
    return Paragraph(text=_read_words(visit, valve, other), tone="quiet")


def _read_words(visit: Visit, valve: Valve, measurement: Measurement) -> str:
    return f"Read {state_words(measurement)}, in Ω: {_shown_words(visit, valve, measurement)}."


def _shown_words(visit: Visit, valve: Valve, measurement: Measurement) -> str:
    return ", ".join(
        f"{pair_words(one.wire_a, one.wire_b)}{NO_BREAK_SPACE}{reading_figure(one, visit, valve, measurement)}"
        for one in measurement.readings
    )


def spec_words(name: str, spec: Spec, units: str) -> str:
    """A spec in one line: "62 Ω ± 10 % at 20 °C, manual of the outdoor unit, p. 212"."""
    said = [f"{name}: {spec.winding}"]
    law = spec_law(spec)
    if law is not None:
        if spec.tolerance is None:
            tolerance = f"{percent(law.tolerance_frac)} (taken; none given)"
        elif spec.tolerance.frac is not None:
            tolerance = percent(spec.tolerance.frac)
        else:
            tolerance = with_unit(plain(spec.tolerance.ohm or 0.0), "Ω")
        said.append(f"{with_unit(plain(law.resistance_ohm), 'Ω')} ± {tolerance} at {temperature(law.at_c, units)}")
    said.append(spec.source or "no source given")
    return ", ".join(said)


def guard_words(assessed: ValveAssessment, spec: Spec | None, units: str) -> str:
    """The limits with the guard band that was kept off them; empty where nothing was compared."""
    law, against = spec_law(spec), conformity_of(assessed, spec)
    if law is None or not against:
        return ""
    widest = max(against, key=lambda one: one.guard_ohm)
    decimals = decimals_borne(widest.u_ohm)
    low, high = number(widest.low_ohm, decimals), number(widest.high_ohm, decimals)
    inner = (widest.low_ohm + widest.guard_ohm, widest.high_ohm - widest.guard_ohm)
    passes = "no value can pass"
    if inner[0] <= inner[1]:
        passes = f"pass from {number(inner[0], decimals)} to {number(inner[1], decimals)} Ω"
    return (
        f"Limits {low} to {high} Ω at {temperature(law.at_c, units)}, "
        f"guard band {number(widest.guard_ohm, decimals)} Ω: {passes}."
    )
