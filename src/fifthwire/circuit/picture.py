"""A simulated state as drawings: the cycle of each outdoor unit in its pressure-enthalpy diagram, a bar a unit."""

from collections.abc import Iterator
from math import ceil, isfinite
from typing import Final

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing_cycle import cycle_picture
from fifthwire.assessment.drawing_superheat import ROWS_A_PICTURE, UnitBar, held_picture, held_scale
from fifthwire.circuit.scenario import Scenarios
from fifthwire.circuit.states import States
from fifthwire.circuit.system import CircuitSystem
from fifthwire.diagnosis.running.cycle import Cycle, CyclePoint, saturation_lines
from fifthwire.physics.refrigerants import refrigerant

ORIGIN: Final = "All four corners are simulated."
APART_K: Final = 1.0
"""Further from its target than this, a unit's bar is filled.  [K]  Our choice."""


def state_pictures(
    system: CircuitSystem, cases: Scenarios, states: States, row: int, *, units: str = "si"
) -> tuple[Picture, ...]:
    """Every drawing of one state.

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    cases : Scenarios
        What was asked.
    states : States
        What came out.
    row : int
        Which case.
    units : str
        "si" or "us".

    Returns
    -------
    tuple of Picture
        Nothing where the case did not converge.
    """
    if not states.converged[row]:
        return ()
    return (*_cycles(system, states, row, units), *_bars(system, cases, states, row, units))


def state_cycle(system: CircuitSystem, states: States, row: int, outdoor: int) -> Cycle:
    """The cycle of one outdoor unit.

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    states : States
        Holds a state that converged.
    row, outdoor : int
        Which case, which outdoor unit.

    Returns
    -------
    Cycle
        Its corners, and the saturation lines around them.
    """
    of = refrigerant(system.plant.refrigerant)
    low = of.dew_kpa_abs(float(states.outdoor_evaporating_c[row, outdoor]))
    high = float(states.discharge_kpa_abs[row])
    suction = float(states.suction_enthalpy_kj_kg[row, outdoor])
    discharge = float(states.discharge_enthalpy_kj_kg[row, outdoor])
    liquid = float(states.liquid_enthalpy_kj_kg[row])
    superheat, quality = float(states.suction_superheat_k[row, outdoor]), float(states.suction_quality[row, outdoor])
    is_wet = quality < 1.0
    corners = (
        _corner("suction", low, suction, None if is_wet else of.dew_c(low) + superheat, quality if is_wet else None),
        _corner("discharge", high, discharge, float(states.discharge_c[row, outdoor])),
        _corner("liquid", high, liquid, None),
        _corner("inlet", low, liquid, None),
    )
    lines = saturation_lines(of, low / 2.0, high * 2.0)
    return Cycle(points=corners, liquid_line=lines[0], vapour_line=lines[1])


def _corner(name: str, kpa: float, enthalpy: float, c: float | None, quality: float | None = None) -> CyclePoint:
    return CyclePoint(name=name, kpa_abs=kpa, enthalpy_kj_kg=enthalpy, c=c, is_read=True, quality=quality)


def _cycles(system: CircuitSystem, states: States, row: int, units: str) -> Iterator[Picture]:
    for place, name in enumerate(system.outdoor):
        if states.outdoor_flow_g_s[row, place] <= 0.0:
            continue  # nothing goes round
        yield cycle_picture(
            state_cycle(system, states, row, place),
            float(states.outdoor_evaporating_c[row, place]),
            float(states.condensing_c[row]),
            caption=f"Pressure and enthalpy of {name}, simulated, {closure_words(states.closure)}",
            title=f"Pressure-enthalpy diagram of {name}, {closure_words(states.closure)}",
            units=units,
            origin=ORIGIN,
        )


def closure_words(closure: str) -> str:
    """A closure as people say it.

    Examples
    --------
    >>> closure_words("settled"), closure_words("minutes-after")
    ('settled', 'minutes after')
    """
    return closure.replace("-", " ")


def _bars(system: CircuitSystem, cases: Scenarios, states: States, row: int, units: str) -> Iterator[Picture]:
    factor, unit = (1.8, "°F") if units == "us" else (1.0, "K")
    target = cases.superheat_target_k[row] if states.mode == "cooling" else cases.subcooling_target_k[row]
    bars = [
        _bar(name, bool(cases.on[row, at]), float(states.superheat_k[row, at]) * factor, float(target) * factor, factor)
        for at, name in enumerate(system.units)
    ]
    scale = held_scale(bars, unit, None)
    what = "Superheat" if states.mode == "cooling" else "Subcooling"
    a_part = ceil(len(bars) / ceil(len(bars) / ROWS_A_PICTURE))
    for start in range(0, len(bars), a_part):
        part = bars[start : start + a_part]
        span = "" if a_part == len(bars) else f", {part[0].name} to {part[-1].name}"
        yield held_picture(
            part,
            scale,
            caption=f"{what} that each coil has, {closure_words(states.closure)}{span}. Tick: target. Filled: off it.",
            title=f"{what} of the indoor units, {closure_words(states.closure)}{span}",
        )


def _bar(name: str, is_on: bool, held: float, target: float, factor: float) -> UnitBar:
    if not is_on or not isfinite(held):
        return UnitBar(name=name, held=None, u=None, target=None, stands_apart=False, instead="off")
    is_apart = abs(held - target) > APART_K * factor
    return UnitBar(name=name, held=held, u=None, target=target, stands_apart=is_apart)
