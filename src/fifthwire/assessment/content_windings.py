"""A head's windings in a report: the chart, the table under it, the plug with its readings, pass or fail."""

from collections.abc import Sequence
from math import log10
from typing import Final

from fifthwire.assessment.blocks import Column, Paragraph, Picture, Row, Table
from fifthwire.assessment.drawing_plug import PairRead, plug_picture
from fifthwire.assessment.drawing_windings import Band, WindingBar, winding_picture
from fifthwire.assessment.figures import decimals_borne, number, on_the_point, percent, plain, temperature, with_unit
from fifthwire.assessment.measured import (
    State,
    band_ohm,
    judged_state,
    meter_of,
    pins_of,
    resolution_ohm,
    spec_c,
    spec_limits_ohm,
    spec_of,
    states_of,
)
from fifthwire.model.assessment import ValveAssessment, WindingEstimate
from fifthwire.model.valve import PairReading, Valve
from fifthwire.model.visit import Meter, Spec, Visit
from fifthwire.physics.conformity import GUARD_BAND_IN_U, zone
from fifthwire.physics.copper import resistance_factor

WIRES_OF: Final = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4, "single-2": 2}
ZONE_WORDS: Final = {"pass": "pass", "fail": "fail", "not-proven": "not proven", "": "–"}


def winding_name(winding: WindingEstimate) -> str:
    """Two wires as people write them."""
    return f"{winding.wires[0]}–{winding.wires[1]}"


def winding_zone(winding: WindingEstimate, spec: Spec | None) -> str:
    """Pass, fail or not proven against the spec; empty where nothing can be compared.

    Parameters
    ----------
    winding : WindingEstimate
        At the spec's temperature with its uncertainty, where that is known.
    spec : Spec or None
        As written.
    """
    limits = None if spec is None else spec_limits_ohm(spec)
    if limits is None or winding.ohm_at_spec is None or winding.u_ohm_at_spec is None:
        return ""
    return zone(winding.ohm_at_spec, winding.u_ohm_at_spec, low=limits[0], high=limits[1])


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
    state = judged_state(valve)
    spec = spec_of(visit, valve)
    blocks: list[Picture | Table | Paragraph] = []
    if assessed.winding.windings and state is not None:
        blocks += [_chart(valve, assessed, spec, state, units), _table(assessed, spec, state, units)]
    if state is not None:
        blocks.append(_plug(valve, assessed, state, spec, meter_of(visit, state)))
    blocks += [_readings(one, meter_of(visit, one)) for one in states_of(valve) if one != state]
    return tuple(blocks)


def _chart(valve: Valve, assessed: ValveAssessment, spec: Spec | None, state: State, units: str) -> Picture:
    decimals = shared_decimals([one.u_ohm for one in assessed.winding.windings])
    bars = [
        WindingBar(
            name=winding_name(one),
            ohm=one.ohm,
            half_width_ohm=GUARD_BAND_IN_U * _u_at_head(one, spec, state),
            figure=_figure(one, state.readings, decimals),
            zone=winding_zone(one, spec),
        )
        for one in assessed.winding.windings
    ]
    return winding_picture(bars, _band(spec, state, units), "Windings", f"{valve.id}: its windings")


def _u_at_head(winding: WindingEstimate, spec: Spec | None, state: State) -> float:
    """Standard uncertainty at the head's temperature, what is not known of that temperature included. [Ω]"""
    if winding.u_ohm_at_spec is None or spec is None or state.head_c is None:
        return winding.u_ohm or 0.0
    return winding.u_ohm_at_spec * resistance_factor(spec_c(spec), state.head_c)


def _band(spec: Spec | None, state: State, units: str) -> Band | None:
    limits = None if spec is None else band_ohm(spec, state.head_c)
    if limits is None:
        return None
    where = f"at {temperature(state.head_c, units)}" if state.head_c is not None else "at any temperature it may have"
    decimals = 1 if limits[1] < 200.0 else 0
    low, high = (number(limit, decimals) for limit in limits)
    return Band(low_ohm=limits[0], high_ohm=limits[1], words=f"{low} to {high} Ω {where}")


def _figure(winding: WindingEstimate, readings: Sequence[PairReading], decimals: int) -> str:
    if winding.ohm is not None:
        return number(winding.ohm, decimals)
    return (
        "open" if any(one.is_open and winding.wires[1] in (one.wire_a, one.wire_b) for one in readings) else "not read"
    )


def shared_decimals(uncertainties: Sequence[float | None]) -> int:
    """Decimals that all values of one head bear, so that they stand under one another."""
    known = [u for u in uncertainties if u is not None]
    return decimals_borne(max(known)) if known else 1


def _table(assessed: ValveAssessment, spec: Spec | None, state: State, units: str) -> Table:
    windings = assessed.winding.windings
    at_head = _with_u([(one.ohm, one.u_ohm, _figure(one, state.readings, 1)) for one in windings])
    columns = [
        Column(label="Wires", share=0.7),
        Column(label=_at_head_label(state, units), is_figure=True, share=1.5),
    ]
    cells: list[list[str]] = [[winding_name(one), shown] for one, shown in zip(windings, at_head, strict=True)]
    if spec is not None and any(one.ohm_at_spec is not None for one in windings):
        at_spec = _with_u([(one.ohm_at_spec, one.u_ohm_at_spec, "–") for one in windings])
        columns += [
            Column(label=f"At {temperature(spec_c(spec), units)}", is_figure=True, share=1.5),
            Column(label="Against the spec", share=1.1),
        ]
        for row, one, shown in zip(cells, windings, at_spec, strict=True):
            row += [shown, ZONE_WORDS[winding_zone(one, spec)]]
    return Table(
        caption="Windings, with their standard uncertainty",
        columns=tuple(columns),
        rows=tuple(Row(cells=tuple(row)) for row in cells),
        does_stack=False,
    )


def _at_head_label(state: State, units: str) -> str:
    return "As it is" if state.head_c is None else f"At {temperature(state.head_c, units)}"


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
    return f"{number_text}{'' if spread is None else f' ± {spread}'}\u2009Ω"


def _plug(valve: Valve, assessed: ValveAssessment, state: State, spec: Spec | None, meter: Meter | None) -> Picture:
    touch = assessed.winding.next_reading.wires if assessed.winding.next_reading else None
    arrangement = spec.winding if spec is not None else assessed.winding.arrangement
    pins = pins_of(state.readings, (*valve.common, *(touch or ())), WIRES_OF.get(arrangement or ""))
    pairs = [PairRead(one.wire_a, one.wire_b, reading_figure(one, meter)) for one in state.readings]
    return plug_picture(pins, pairs, touch, f"Plug, read {state.words}", f"{valve.id}: its plug")


def reading_figure(reading: PairReading, meter: Meter | None) -> str:
    """Ohms as the meter showed them, or "open"."""
    if reading.ohm is None:
        return "open"
    last_digit = resolution_ohm(meter, reading.ohm)
    if not last_digit:
        return plain(reading.ohm)
    return number(reading.ohm, max(0, min(4, round(-log10(last_digit)))))


def _readings(state: State, meter: Meter | None) -> Paragraph:
    shown = ", ".join(f"{one.wire_a}–{one.wire_b} {reading_figure(one, meter)}" for one in state.readings)
    if state.is_struck:
        return Paragraph(text=f"Struck out, not used: {state.words}, in Ω: {shown}.", tone="struck")
    return Paragraph(text=f"Also read {state.words}, in Ω: {shown}.", tone="quiet")


def spec_words(name: str, spec: Spec, units: str) -> str:
    """A spec in one line: "62 Ω ± 10 % at 20 °C, 55.8 to 68.2 Ω; manual of the outdoor unit, p. 212"."""
    said = [f"{name}: {spec.winding}"]
    if spec.resistance_ohm is not None:
        tolerance = ""
        if spec.tolerance is not None:
            half = spec.tolerance
            tolerance = f" ± {percent(half.frac) if half.frac is not None else with_unit(plain(half.ohm or 0.0), 'Ω')}"
        said.append(f"{plain(spec.resistance_ohm)}\u2009Ω{tolerance} at {temperature(spec_c(spec), units)}")
    said.append(spec.source or "no source given")
    return ", ".join(said)


def guard_words(assessed: ValveAssessment, spec: Spec | None, units: str) -> str:
    """The limits with the guard band that was kept off them; empty where nothing was compared."""
    limits = None if spec is None else spec_limits_ohm(spec)
    uncertainties = [one.u_ohm_at_spec for one in assessed.winding.windings if one.u_ohm_at_spec is not None]
    if limits is None or spec is None or not uncertainties:
        return ""
    guard = GUARD_BAND_IN_U * max(uncertainties)
    decimals = decimals_borne(max(uncertainties))
    low, high = (number(limit, decimals) for limit in limits)
    inner = (number(limits[0] + guard, decimals), number(limits[1] - guard, decimals))
    passes = f"pass from {inner[0]} to {inner[1]} Ω" if limits[0] + guard <= limits[1] - guard else "no value can pass"
    return (
        f"Limits {low} to {high} Ω at {temperature(spec_c(spec), units)}, "
        f"guard band {number(guard, decimals)} Ω: {passes}."
    )
