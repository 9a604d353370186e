"""States of a system that cools, from the solution of its equations."""

from dataclasses import fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.charge import accumulator_kg, boiling_kg, cooling_kg, suction_liquid
from fifthwire.circuit.compressor import Suction
from fifthwire.circuit.cooling import Cooling, CoolingState
from fifthwire.circuit.fluid import Fluid, Saturated
from fifthwire.circuit.problem import STILL_KG_S, Closure, Problem
from fifthwire.circuit.readings import NO_COOLING_K, command_frac, drifted_share, mixture_c, supply_air_c
from fifthwire.circuit.states import States
from fifthwire.circuit.valve_law import opening_for

Array = NDArray[np.float64]
GRAMS = 1e3


def cooling_states(of: Cooling, unknowns: Array, why_not: NDArray[np.object_], loss_residual: Array) -> States:
    """Everything about solved cases, and nothing about the others.

    Parameters
    ----------
    of : Cooling
        The cases.
    unknowns : array
        Solved; NaN where there is no state.
    why_not : array
        A reason, or None.
    loss_residual : array
        Change of the suction losses in the last pass. [K]
    """
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        state = of.state(np.where(np.isfinite(unknowns), unknowns, of.start()))
        made = States(
            closure=of.closure.value,
            mode="cooling",
            converged=np.array([reason is None for reason in why_not]),
            why_not=why_not,
            loss_residual_k=loss_residual,
            unknowns=unknowns,
            **_whole(of, state),
            **outdoor_figures(of, state.low, state.high, state.outside.suction, state.outside),
            **_liquid(of, state),
            **_bypass(of, state),
            **_units(of, state),
        )
    return blanked(made)


def blanked(states: States) -> States:
    """No figure in a row that did not converge."""
    wrong = ~states.converged
    if not wrong.any():
        return states
    changed: dict[str, Any] = {}
    for of in fields(States):
        value = getattr(states, of.name)
        if isinstance(value, np.ndarray) and value.dtype == float:
            value = value.copy()
            value[wrong] = np.nan
            changed[of.name] = value
    return replace(states, **changed)


def _whole(of: Cooling, state: CoolingState) -> dict[str, Any]:
    outside, branches = state.outside, state.branches
    heat = branches.flow * (branches.enthalpy - state.liquid_enthalpy[..., None])
    work = outside.flow * (outside.discharge_enthalpy - outside.suction.enthalpy)
    rejected = (outside.flow * (outside.discharge_enthalpy - outside.coil_enthalpy)).sum(axis=-1)
    taken = heat.sum(axis=-1) + work.sum(axis=-1)
    into = branches.flow.sum(axis=-1)
    held = cooling_kg(of.system, replace(state, indoor_kg=boiling_kg(of.system.unit_kw, branches)))
    return {
        "energy_residual": np.abs(taken - rejected) / rejected,
        "mass_residual": np.abs(into - outside.gas_flow.sum(axis=-1)) / np.maximum(into, 1e-12),
        "evaporating_c": state.low.dew_c,
        "condensing_c": state.high.dew_c,
        "speed_frac": state.speed_frac,
        "power_kw": work.sum(axis=-1),
        "capacity_kw": heat.sum(axis=-1),
        "charge_frac": held / of.system.charge_kg,
        "suction_kpa_abs": state.low.kpa,
        "discharge_kpa_abs": state.high.kpa,
        "liquid_enthalpy_kj_kg": state.liquid_enthalpy,
        "liquid_kpa_abs": state.liquid_kpa * np.ones(len(into)),
        "outdoor_power_kw": work,
    }


def outdoor_figures(of: Problem, low: Saturated, high: Saturated, suction: Suction, outside: Any) -> dict[str, Any]:
    """Suction and discharge of every outdoor unit."""
    fluid, at = of.system.fluid, suction.at
    above = high.columns() if high.dew_c.ndim == 1 else high
    quality = np.clip(at.quality(suction.enthalpy), 0.0, 1.0)
    shape = suction.enthalpy.shape
    runs = outside.flow > STILL_KG_S
    superheat = np.where(runs, fluid.superheat_k(above, outside.discharge_enthalpy), np.nan)
    wet = np.minimum(above.quality(outside.discharge_enthalpy), 1.0)
    return {
        "outdoor_speed_frac": outside.speed_frac,
        "outdoor_flow_g_s": GRAMS * outside.flow,
        "outdoor_evaporating_c": np.broadcast_to(at.dew_c, shape).copy(),
        "suction_superheat_k": fluid.superheat_k(at, suction.enthalpy),
        "suction_quality": quality,
        "suction_enthalpy_kj_kg": suction.enthalpy,
        "discharge_enthalpy_kj_kg": outside.discharge_enthalpy,
        "liquid_to_compressor_g_s": GRAMS * (1.0 - quality) * outside.flow,
        "discharge_c": mixture_c(above, wet) + superheat + of.cases.discharge_temperature_offset_k,
        "discharge_superheat_k": superheat,
        "dry_discharge_superheat_k": np.where(runs, _dry_superheat(of, fluid, at, above, outside, shape), np.nan),
    }


def _dry_superheat(
    of: Problem, fluid: Fluid, at: Saturated, above: Saturated, outside: Any, shape: tuple[int, ...]
) -> Array:
    """Discharge superheat if exactly dry vapour were drawn in."""
    enthalpy = np.broadcast_to(at.vapour_enthalpy, shape)
    dry = Suction(at, enthalpy, fluid.entering(at, enthalpy))
    _, discharge = of.compress(dry, above, outside.flow)
    return fluid.superheat_k(above, discharge)


def _liquid(of: Cooling, state: CoolingState) -> dict[str, Any]:
    fluid, outside = of.system.fluid, state.outside
    at = outside.condenser.at
    enthalpy = outside.liquid_enthalpy
    is_liquid = enthalpy < at.liquid_enthalpy
    c = fluid.liquid_c(np.minimum(enthalpy, at.liquid_enthalpy), at.kpa * np.ones(enthalpy.shape))
    nothing = np.full(enthalpy.shape, np.nan)
    settled = of.closure is Closure.SETTLED
    kept = accumulator_kg(
        of.system.outdoor_kw,
        outside.suction.at,
        suction_liquid(outside.suction.at, outside.suction.enthalpy, outside.flow),
    )
    return {
        "subcooling_k": np.where(is_liquid, at.bubble_c - c, 0.0),
        "coil_subcooling_k": outside.coil_subcooling_k,
        "liquid_quality": np.maximum(at.quality(enthalpy), 0.0),
        "coil_outlet_enthalpy_kj_kg": outside.coil_enthalpy,
        "main_opening_frac": nothing,
        "main_command_frac": nothing.copy(),
        "coil_superheat_k": nothing.copy(),
        "coil_flow_g_s": GRAMS * outside.flow,
        "accumulator_kg": kept if settled else nothing.copy(),
    }


def _bypass(of: Cooling, state: CoolingState) -> dict[str, Any]:
    outside, system = state.outside, of.system
    share = outside.bypass_flow / np.maximum(outside.bypass_full, 1e-12)
    is_free = np.isnan(of.bypass_stuck)
    opening = np.where(is_free, opening_for(system.curve, share, of.bypass_leak), np.nan_to_num(of.bypass_stuck))
    shown = outside.bypass_superheat_k + of.cases.bypass_outlet_offset_k
    ones = np.ones(opening.shape, dtype=bool)
    aim = of.cases.superheat_target_k[:, None] * np.ones(opening.shape)
    command = command_frac(
        opening=opening, is_free=is_free, is_on=ones, is_dead=outside.bypass_flow <= 0.0, shown_k=shown, aim_k=aim
    )
    there = system.has_subcooler

    def where(value: Array) -> Array:
        return np.where(there, value, np.nan)

    return {
        "bypass_opening_frac": where(opening),
        "bypass_command_frac": where(command),
        "bypass_superheat_k": where(outside.bypass_superheat_k),
        "bypass_shown_superheat_k": where(shown),
        "bypass_flow_g_s": where(GRAMS * outside.bypass_flow),
    }


def _units(of: Cooling, state: CoolingState) -> dict[str, Any]:
    branches, cases, system = state.branches, of.cases, of.system
    at, flow = branches.coil.at, branches.flow
    inlet = mixture_c(at, at.quality(branches.coil.inlet_enthalpy))
    still = drifted_share(flow, system.rated_flow_kg_s)
    quality = np.clip(at.quality(branches.enthalpy), 0.0, 1.0)
    gas = mixture_c(at, quality) + branches.superheat_k + cases.gas_pipe_offset_k
    liquid = inlet + still * (cases.rooms_c - inlet) + cases.liquid_pipe_offset_k
    shown = gas - liquid - (1.0 - still) * (at.dew_c - inlet)
    opening = of.openings(state)
    is_dead = liquid > cases.rooms_c - NO_COOLING_K
    aim = cases.superheat_target_k[:, None] * np.ones(flow.shape)
    heat = flow * (branches.enthalpy - state.liquid_enthalpy[..., None])
    supply = np.where(cases.on, supply_air_c(of.indoor, heat), cases.rooms_c)
    return {
        "opening_frac": opening,
        "command_frac": command_frac(
            opening=opening, is_free=np.isnan(of.stuck), is_on=cases.on, is_dead=is_dead, shown_k=shown, aim_k=aim
        ),
        "superheat_k": branches.superheat_k,
        "shown_superheat_k": shown,
        "outlet_quality": quality,
        "outlet_enthalpy_kj_kg": branches.enthalpy,
        "flow_g_s": GRAMS * flow,
        "unit_capacity_kw": heat,
        "gas_pipe_c": gas,
        "liquid_pipe_c": liquid,
        "supply_air_c": supply + cases.supply_air_offset_k,
    }
