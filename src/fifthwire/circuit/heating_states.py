"""States of a system that heats, from the solution of its equations."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import sizes
from fifthwire.circuit.charge import accumulator_kg, heating_kg, suction_liquid
from fifthwire.circuit.cooling_states import GRAMS, blanked, outdoor_figures
from fifthwire.circuit.heating import Heating, HeatingState
from fifthwire.circuit.problem import Closure
from fifthwire.circuit.readings import NO_COOLING_K, command_frac, drifted_share, mixture_c, supply_air_c
from fifthwire.circuit.states import States

Array = NDArray[np.float64]


def heating_states(of: Heating, unknowns: Array, why_not: NDArray[np.object_], loss_residual: Array) -> States:
    """Everything about solved cases, and nothing about the others; see `cooling_states`."""
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        state = of.state(np.where(np.isfinite(unknowns), unknowns, of.start()))
        made = States(
            closure=of.closure.value,
            mode="heating",
            converged=np.array([reason is None for reason in why_not]),
            why_not=why_not,
            loss_residual_k=loss_residual,
            unknowns=unknowns,
            **_whole(of, state),
            **outdoor_figures(of, state.low, state.high, state.outside.suction, state.outside),
            **_liquid(of, state),
            **_main(of, state),
            **_units(of, state),
        )
    return blanked(made)


def _whole(of: Heating, state: HeatingState) -> dict[str, Any]:
    outside, rooms = state.outside, state.rooms
    heat = rooms.flow * (state.discharge_enthalpy[..., None] - rooms.enthalpy)
    work = outside.flow * (outside.discharge_enthalpy - outside.suction.enthalpy)
    taken = outside.coil_flow * (outside.coil_enthalpy - state.liquid_enthalpy[..., None])
    held = heating_kg(of.system, state, collected=of.closure is Closure.SETTLED)
    given, out = heat.sum(axis=-1), outside.flow.sum(axis=-1)
    return {
        "energy_residual": np.abs(taken.sum(axis=-1) + work.sum(axis=-1) - given) / given,
        "mass_residual": np.abs(rooms.flow.sum(axis=-1) - out) / np.maximum(out, 1e-12),
        "evaporating_c": state.low.dew_c.min(axis=-1),
        "condensing_c": state.high.dew_c,
        "speed_frac": (outside.speed_frac * of.system.share).sum(axis=-1),
        "power_kw": work.sum(axis=-1),
        "capacity_kw": given,
        "charge_frac": 1.0 + (held - of.system.heating_kg) / of.system.charge_kg,
        "suction_kpa_abs": state.low.kpa.min(axis=-1),
        "discharge_kpa_abs": state.high.kpa,
        "liquid_enthalpy_kj_kg": state.liquid_enthalpy,
        "liquid_kpa_abs": state.line.kpa,
        "outdoor_power_kw": work,
    }


def _liquid(of: Heating, state: HeatingState) -> dict[str, Any]:
    """What comes to the outdoor units' main valves, the same to all."""
    fluid, line, enthalpy, outside = of.system.fluid, state.line, state.liquid_enthalpy, state.outside
    c = fluid.liquid_c(np.minimum(enthalpy, line.liquid_enthalpy), line.kpa)
    subcooling = np.where(enthalpy < line.liquid_enthalpy, line.bubble_c - c, 0.0)
    shape = outside.coil_flow.shape
    nothing = np.full(shape, np.nan)
    entrained = suction_liquid(outside.suction.at, outside.suction.enthalpy, outside.flow)
    kept = accumulator_kg(of.system.outdoor_kw, outside.suction.at, entrained)
    return {
        "subcooling_k": np.broadcast_to(subcooling[:, None], shape).copy(),
        "coil_subcooling_k": nothing,
        "liquid_quality": np.broadcast_to(np.maximum(line.quality(enthalpy), 0.0)[:, None], shape).copy(),
        "coil_outlet_enthalpy_kj_kg": outside.coil_enthalpy,
        "accumulator_kg": kept if of.closure is Closure.SETTLED else nothing.copy(),
    }


def _main(of: Heating, state: HeatingState) -> dict[str, Any]:
    outside, cases = state.outside, of.cases
    opening = of.main_openings(state)
    shown = outside.superheat_k + cases.suction_temperature_offset_k - cases.suction_offset_k
    ones = np.ones(opening.shape, dtype=bool)
    aim = cases.superheat_target_k[:, None] * np.ones(opening.shape)
    command = command_frac(
        opening=opening, is_free=np.isnan(of.main_stuck), is_on=ones, is_dead=~ones, shown_k=shown, aim_k=aim
    )
    place = of.system.bypass_places
    there = place >= 0
    standing = np.where(there, np.nan_to_num(cases.stuck_frac[:, place]), np.nan)
    shut = np.where(there, 0.0, np.nan) * np.ones(opening.shape)
    flow = np.where(there, GRAMS * outside.bypass_flow, np.nan)
    return {
        "main_opening_frac": opening,
        "main_command_frac": command,
        "coil_superheat_k": outside.superheat_k,
        "coil_flow_g_s": GRAMS * outside.coil_flow,
        "bypass_opening_frac": standing,
        "bypass_command_frac": shut,
        "bypass_superheat_k": shut.copy(),
        "bypass_shown_superheat_k": shut + cases.bypass_outlet_offset_k,
        "bypass_flow_g_s": flow,
    }


def _units(of: Heating, state: HeatingState) -> dict[str, Any]:
    rooms, cases, system = state.rooms, of.cases, of.system
    at, flow = rooms.coil.at, rooms.flow
    still = drifted_share(flow, system.rated_flow_kg_s)
    quality = np.clip(at.quality(rooms.enthalpy), 0.0, 1.0)
    outlet = np.where(rooms.subcooling_k > 0.0, at.bubble_c - rooms.subcooling_k, mixture_c(at, quality))
    hot = mixture_c(at, np.ones(1)) + system.fluid.superheat_k(at, state.discharge_enthalpy[:, None])
    gas = hot + still * (cases.rooms_c - hot) + cases.gas_pipe_offset_k
    liquid = outlet + still * (cases.rooms_c - outlet) + cases.liquid_pipe_offset_k
    shown = at.bubble_c + of.shown_condensing_k[:, None] - liquid
    heat = flow * (state.discharge_enthalpy[:, None] - rooms.enthalpy)
    opening = of.openings(state)
    aim = cases.subcooling_target_k[:, None] * np.ones(flow.shape)
    command = command_frac(
        opening=opening,
        is_free=np.isnan(of.stuck),
        is_on=cases.on,
        is_dead=liquid < cases.rooms_c + NO_COOLING_K,
        shown_k=shown,
        aim_k=aim,
    )
    return {
        "opening_frac": opening,
        "command_frac": np.where(cases.on, command, sizes.OFF_HEATING_OPENING),
        "superheat_k": rooms.subcooling_k,
        "shown_superheat_k": shown,
        "outlet_quality": quality,
        "outlet_enthalpy_kj_kg": rooms.enthalpy,
        "flow_g_s": GRAMS * flow,
        "unit_capacity_kw": heat,
        "gas_pipe_c": gas,
        "liquid_pipe_c": liquid,
        "supply_air_c": np.where(cases.on, supply_air_c(of.indoor, -heat), cases.rooms_c) + cases.supply_air_offset_k,
    }
