"""What a page about a simulated plant says, as plain data: the screen, the HTML page and the print lay out the same."""

from collections.abc import Iterator, Mapping, Sequence
from math import isfinite
from typing import Final

import numpy as np

from fifthwire import __version__
from fifthwire.assessment.blocks import Block, Column, Labelled, Paragraph, Row, Table
from fifthwire.assessment.figures import (
    difference,
    number,
    on_the_point,
    temperature,
    with_unit,
)
from fifthwire.circuit.picture import closure_words, state_pictures
from fifthwire.circuit.scenario import Scenarios
from fifthwire.circuit.states import States
from fifthwire.circuit.system import CircuitSystem
from fifthwire.model.circuit_words import LIMITS, fault_line
from fifthwire.model.record import record

NOTHING: Final = "–"


@record
class SimulatedPage:
    """A page."""

    title: str
    facts: tuple[Labelled, ...]
    blocks: tuple[Block, ...]
    limits: tuple[str, ...]
    """What the simulation does not know."""
    footer: str
    is_wide: bool = False
    """Laid out across a sheet that lies on its side."""


def state_page(
    system: CircuitSystem, cases: Scenarios, solved: Mapping[str, States], units: str = "si"
) -> SimulatedPage:
    """One state of a plant under each closure that was asked for.

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    cases : Scenarios
        One row.
    solved : mapping
        States by closure.
    units : str
        "si" or "us".
    """
    blocks: list[Block] = [_summary(system, solved, units)]
    for states in solved.values():
        if states.converged[0]:
            blocks += [_unit_table(system, cases, states, units), *_valve_table(system, states, units)]
            blocks += state_pictures(system, cases, states, 0, units=units)
        else:
            said = f"{closure_words(states.closure).capitalize()}: no steady state: {states.why_not[0]}."
            blocks.append(Paragraph(text=said, tone="lead"))
    return SimulatedPage(
        title="What this plant does, simulated",
        facts=plant_facts(system, cases, units),
        blocks=tuple(blocks),
        limits=LIMITS,
        footer=f"Fifthwire {__version__}. The program advises; the technician decides.",
    )


def plant_facts(system: CircuitSystem, cases: Scenarios, units: str) -> tuple[Labelled, ...]:
    """What was simulated.

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    cases : Scenarios
        Whose first row tells the weather.
    units : str
        "si" or "us".
    """
    plant = system.plant
    running = int(cases.on[0].sum())
    said = [
        ("Refrigerant", plant.refrigerant),
        ("Mode", plant.mode),
        ("Indoor units", f"{len(system.units)}, {running} on"),
        ("Outdoor units", str(len(system.outdoor))),
        ("Outside", temperature(float(cases.ambient_c[0]), units, 1)),
        ("Valve curve", system.curve_name),
        ("Wrong with it", "; ".join(map(fault_line, plant.faults)) or "nothing"),
    ]
    return tuple(Labelled(label=label, text=text) for label, text in said)


def _summary(system: CircuitSystem, solved: Mapping[str, States], units: str) -> Table:
    columns = [_figures(system, states, units) for states in solved.values()]
    labels = list(dict.fromkeys(label for one in columns for label in one))
    rows = tuple(Row(cells=(label, *(one.get(label, NOTHING) for one in columns))) for label in labels)
    heads = [closure_words(name).capitalize() for name in solved]
    return Table(
        caption="The system",
        columns=(Column(label="", share=2.0), *(Column(label=head, is_figure=True) for head in heads)),
        rows=rows,
        does_stack=False,
    )


def _figures(system: CircuitSystem, states: States, units: str) -> dict[str, str]:
    """What the system does, by label; only that there is none where it did not converge."""
    if not states.converged[0]:
        return {"Steady state": "none"}

    def k(value: float) -> str:
        return difference(float(value), units, 1) if isfinite(value) else NOTHING

    def c(value: float) -> str:
        return temperature(float(value), units, 1) if isfinite(value) else NOTHING

    one = {
        "Evaporating": temperature(float(states.evaporating_c[0]), units, 1),
        "Condensing": temperature(float(states.condensing_c[0]), units, 1),
        "Speed, of the rated": _percent(states.speed_frac[0]),
        "Power": with_unit(number(float(states.power_kw[0]), 1), "kW"),
        "Capacity": with_unit(number(float(states.capacity_kw[0]), 1), "kW"),
    }
    for at, name in enumerate(system.outdoor):
        of = f"{name}: " if len(system.outdoor) > 1 else ""
        is_wet = states.suction_quality[0, at] < 1.0
        one[f"{of}Suction superheat"] = "wet" if is_wet else k(states.suction_superheat_k[0, at])
        one[f"{of}Vapour in the suction"] = _percent(states.suction_quality[0, at])
        one[f"{of}Liquid to the compressor"] = with_unit(
            number(float(states.liquid_to_compressor_g_s[0, at]), 1), "g/s"
        )
        one[f"{of}Discharge"] = c(states.discharge_c[0, at])
        one[f"{of}Discharge superheat"] = k(states.discharge_superheat_k[0, at])
        one[f"{of}Dry suction would give"] = k(states.dry_discharge_superheat_k[0, at])
        one[f"{of}Subcooling"] = k(states.subcooling_k[0, at])
    return one


def _percent(frac: float) -> str:
    return with_unit(number(float(frac) * 100.0, 1), "%")


def _unit_table(system: CircuitSystem, cases: Scenarios, states: States, units: str) -> Table:
    degree = "°F" if units == "us" else "°C"
    what = "Superheat" if states.mode == "cooling" else "Subcooling"
    heads = ["Unit", "Opening", "Command", what, "Shown", "Flow", "Capacity", "Gas pipe", "Liquid pipe", "Supply air"]
    of_units = ["", "%", "%", difference_sign(units), difference_sign(units), "g/s", "kW", degree, degree, degree]
    columns = [
        states.opening_frac[0] * 100.0,
        states.command_frac[0] * 100.0,
        states.superheat_k[0] * (1.8 if units == "us" else 1.0),
        states.shown_superheat_k[0] * (1.8 if units == "us" else 1.0),
        states.flow_g_s[0],
        states.unit_capacity_kw[0],
        *(one * 1.8 + 32.0 if units == "us" else one for one in (states.gas_pipe_c[0], states.liquid_pipe_c[0])),
        states.supply_air_c[0] * 1.8 + 32.0 if units == "us" else states.supply_air_c[0],
    ]
    still = ~cases.on[0] & (states.flow_g_s[0] <= 0.0)  # nothing flows: no superheat to speak of
    for at in (2, 3):
        columns[at] = np.where(still, np.nan, columns[at])
    shown = [_padded(values, 0 if at < 2 else 1) for at, values in enumerate(columns)]
    rows = tuple(
        Row(cells=(name if cases.on[0, at] else f"{name} (off)", *(column[at] for column in shown)))
        for at, name in enumerate(system.units)
    )
    return Table(
        caption=f"The indoor units, {closure_words(states.closure)}",
        columns=tuple(
            Column(label=f"{head}, {unit}" if unit else head, is_figure=bool(unit), share=1.3 if not unit else 1.0)
            for head, unit in zip(heads, of_units, strict=True)
        ),
        rows=rows,
        does_stack=False,
    )


def difference_sign(units: str) -> str:
    """The sign of a difference of temperatures."""
    return "°F" if units == "us" else "K"


def _padded(values: Sequence[float], decimals: int) -> tuple[str, ...]:
    return on_the_point([number(float(one), decimals) if isfinite(one) else NOTHING for one in values])


def _valve_table(system: CircuitSystem, states: States, units: str) -> Iterator[Table]:
    """The outdoor units' own valves."""
    rows = []
    for name in system.valves[len(system.units) :]:
        outdoor, _, role = name.partition("/")
        at = system.outdoor.index(outdoor)
        by_role = {
            "main": (states.main_opening_frac, states.main_command_frac, states.coil_superheat_k, states.coil_flow_g_s),
            "subcooler-bypass": (
                states.bypass_opening_frac,
                states.bypass_command_frac,
                states.bypass_superheat_k,
                states.bypass_flow_g_s,
            ),
        }
        opening, command, superheat, flow = (float(one[0, at]) for one in by_role[role])
        if isfinite(opening):
            held = difference(superheat, units, 1) if isfinite(superheat) else NOTHING
            rows.append(
                Row(cells=(name, _percent(opening), _percent(command), held, with_unit(number(flow, 1), "g/s")))
            )
    if rows:
        columns = ("Valve", "Opening", "Command", "Superheat behind it", "Flow")
        yield Table(
            caption=f"The outdoor units' valves, {closure_words(states.closure)}",
            columns=tuple(Column(label=one, is_figure=place > 0, share=1.0) for place, one in enumerate(columns)),
            rows=tuple(rows),
            does_stack=False,
        )
