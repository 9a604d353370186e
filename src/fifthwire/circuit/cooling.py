"""Cooling as a few equations, whatever the number of indoor units: everything else follows in closed form.

Unknowns: evaporating and condensing temperature, the enthalpy of the liquid to the indoor units and of what leaves the
outdoor coils, and the share of full flow that each subcooler's bypass passes. Gas comes back through one header and is
shared among the outdoor units by their size; what a bypass returns goes to its own compressor. A bypass takes
liquid that is subcooled already.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import sizes
from fifthwire.circuit.charge import boiling_kg, cooling_kg
from fifthwire.circuit.coil import Condensing, Evaporating, Zones, boiling_against_liquid, condensing, evaporating
from fifthwire.circuit.compressor import Suction
from fifthwire.circuit.fluid import MOST_SUPERHEAT_K, Saturated
from fifthwire.circuit.problem import (
    CLOSE_K,
    NO_WAY,
    OUTSIDE_MAP,
    OVER_HIGH,
    PER_CHARGE,
    TOO_HOT,
    UNDER_LOW,
    Closure,
    Jacobian,
    Problem,
    held_by_speed,
)
from fifthwire.circuit.surroundings import indoor_coils, outdoor_coils
from fifthwire.circuit.valve_law import full_flow, inlet_volume, opening_for, passed

Array = NDArray[np.float64]

SCALES: Final = (1.0, 1.0, 2.0, 2.0, 0.05)
"""Of evaporating and condensing temperature, the two enthalpies, and a bypass.  [K, K, kJ/kg, kJ/kg, 1]"""
STEPS: Final = (6.0, 6.0, 15.0, 15.0, 0.3)
"""Most of one step."""
PER_FLOODED_SHARE: Final = 30.0
"""What a share of the outdoor coil counts in the residual.  Our choice: about a kelvin of condensing temperature."""
MOST_BYPASS: Final = 1.4
"""Of the flow that saturated liquid would have through the open valve: colder liquid is denser.  [1]"""
LEAST_HOT_KW_K: Final = 1e-6
COLD_K: Final = 8.0
"""Above the evaporating temperature aimed at: colder air outside needs a slower fan than is simulated.  Our choice."""
STILL_AIR: Final = 0.4
"""Of the rated airflow outside: with less, a case that nothing balances lacks air before anything else.  Our choice."""
LEAST_LIFT_K: Final = 8.0
"""From evaporating to condensing, with which a compressor runs as one.  Our choice."""
MAIN_SHUT: Final = (
    "an outdoor unit's main valve is shut while it cools: its coil fills and its compressor stops; the others alone "
    "are another plant"
)
COLD_OUTSIDE: Final = (
    "the air outside is too cold for cooling without slowing the outdoor fans, and that control is not simulated"
)
LEAST_WAY: Final = 1e-3
"""Of all indoor valves fully open: with less nothing flows.  [1]"""
HALVINGS: Final = 45
"""Of the range in which a pressure behind a main valve is sought: to some 1e-10 kPa."""


@dataclass(frozen=True)
class Branches:
    """Indoor units at one evaporating pressure. [..., units]"""

    coil: Evaporating
    full: Array
    """Flow of the valve fully open."""
    flow: Array
    superheat_k: Array
    enthalpy: Array


@dataclass(frozen=True)
class Outside:
    """Outdoor units. [..., outdoor]"""

    gas_flow: Array
    bypass: Evaporating
    bypass_flow: Array
    bypass_full: Array
    """Of the bypass fully open, of what comes to it."""
    bypass_superheat_k: Array
    bypass_enthalpy: Array
    liquid_enthalpy: Array
    suction: Suction
    speed_frac: Array
    discharge_enthalpy: Array
    condenser: Condensing
    coil_subcooling_k: Array
    coil_enthalpy: Array

    @property
    def flow(self) -> Array:
        """Through the compressor."""
        return self.gas_flow + self.bypass_flow


@dataclass(frozen=True)
class CoolingState:
    """Everything at a point of the unknowns."""

    low: Saturated
    high: Saturated
    liquid_enthalpy: Array
    left_enthalpy: Array
    """Of what leaves the outdoor coils, together."""
    liquid_kpa: Array
    branches: Branches
    indoor_kg: Array
    """In the indoor coils; NaN where nobody asked."""
    outside: Outside
    speed_frac: Array


class Cooling(Problem):
    """Cases of one system, cooling. See `problem.Problem`."""

    too_fast = (
        "too little flow for the least speed at every evaporating temperature from {low:.0f} to {high:.0f} °C: the "
        "compressors pump the suction down and stop, and start again"
    )
    too_slow = (
        "more flow than the compressors can take at every evaporating temperature from {low:.0f} to {high:.0f} °C: the "
        "suction fills with liquid and finds no balance"
    )

    def prepare(self) -> None:
        """What does not change with the state."""
        cases, system = self.cases, self.system
        self.charge_aim_kg = system.charge_kg * cases.charge_frac
        self.indoor: Zones = indoor_coils(system, cases)
        self.outdoor: Zones = outdoor_coils(system, cases)
        n_units = len(system.units)
        self.stuck = cases.stuck_frac[:, :n_units]
        self.leak = cases.leak_frac[:, :n_units]
        self.is_free = np.isnan(self.stuck) & cases.on
        offset = cases.gas_pipe_offset_k - cases.liquid_pipe_offset_k
        self.aim_k = cases.superheat_target_k[:, None] - offset
        self.held = passed(system.curve, np.nan_to_num(self.stuck), self.leak)
        self.least = passed(system.curve, sizes.LEAST_COMMAND, self.leak)
        place = system.bypass_places
        there = place >= 0
        self.bypass_stuck = np.where(there, cases.stuck_frac[:, place], 0.0)
        self.bypass_leak = np.where(there, cases.leak_frac[:, place], 0.0)
        self.bypass_aim_k = cases.superheat_target_k[:, None] - cases.bypass_outlet_offset_k
        self.bypass_held = passed(system.curve, np.nan_to_num(self.bypass_stuck), self.bypass_leak)
        main = cases.stuck_frac[:, system.main_places]
        share = np.maximum(passed(system.curve, np.where(np.isnan(main), 1.0, main), 0.0), 1e-4)
        self.restriction = np.max((1.0 / share**2 - 1.0) * (system.share / system.main_k) ** 2, axis=-1) / 2e3

    @property
    def scales(self) -> Array:
        return np.array([*SCALES[:4], *[SCALES[4]] * len(self.system.outdoor)])

    @property
    def steps(self) -> Array:
        return np.array([*STEPS[:4], *[STEPS[4]] * len(self.system.outdoor)])

    def bounds(self) -> tuple[Array, Array]:
        fluid, n = self.system.fluid, len(self.cases)
        bypasses = len(self.system.outdoor)
        low = np.array([fluid.low_c + 2.0, fluid.low_c + 30.0, 60.0, 60.0, *[0.0] * bypasses])
        high = np.array([45.0, fluid.high_c, 500.0, 520.0, *[MOST_BYPASS] * bypasses])
        return np.tile(low, (n, 1)), np.tile(high, (n, 1))

    def start(self) -> Array:
        cases, fluid = self.cases, self.system.fluid
        evaporating_c = np.minimum(cases.evaporating_target_c, cases.rooms_c.min(axis=1) - 3.0)
        loaded = np.clip((cases.on * self.system.unit_kw).sum(axis=1) / self.system.unit_kw.sum(), 0.15, 1.0)
        condensing_c = np.clip(cases.ambient_c + 2.0 + 9.0 * loaded, evaporating_c + 10.0, fluid.high_c - 2.0)
        high = fluid.saturated(condensing_c)
        coil = high.liquid_enthalpy - 4.0 * high.liquid_cp
        liquid = coil - 6.0 * high.liquid_cp * self.system.has_subcooler.mean()
        bypass = np.where(np.isnan(self.bypass_stuck), 0.5 * self.system.has_subcooler, self.bypass_held)
        return np.column_stack([evaporating_c, condensing_c, liquid, coil, bypass])

    def other_start(self) -> Array:
        cases, start = self.cases, self.start()
        start[:, 0] = np.minimum(start[:, 0], self.least_evaporating_c + 3.0)
        start[:, 1] = np.maximum(cases.ambient_c + 3.0, start[:, 0] + 8.0)
        high = self.system.fluid.saturated(start[:, 1])
        start[:, 2] = start[:, 3] = high.liquid_enthalpy - 2.0 * high.liquid_cp
        return start

    def evaluate(self, u: Array) -> tuple[Array, Jacobian]:
        """Residuals and how they change; a bypass changes nothing in the rooms, which cost the most."""
        step = self.difference * self.scales
        moved = u + np.concatenate([np.zeros((1, u.shape[1])), np.diag(step)])[:, None, :]
        some = self.indoors(moved[:4])
        which = np.concatenate([np.arange(4), np.zeros(len(moved) - 4, dtype=int)])
        found = self.residual(self.outdoors(moved, some, which))
        slopes = (found[1:] - found[0]) / step[:, None, None]
        return found[0], np.moveaxis(slopes, 0, -1)

    def state(self, u: Array) -> CoolingState:
        """Everything at the unknowns. [..., n, unknowns]"""
        return self.outdoors(u, self.indoors(u), None)

    def indoors(self, u: Array) -> tuple[Saturated, Saturated, Array, Branches]:
        """The indoor units; they know nothing of the outdoor coil's outlet or of bypasses."""
        fluid, system = self.system.fluid, self.system
        low, high = fluid.saturated(u[..., 0]), fluid.saturated(u[..., 1])
        at = low.columns() if self.loss_k is None else fluid.saturated(u[..., 0:1] + self.loss_k)
        coil = evaporating(self.indoor, at, u[..., 2:3])
        wanted = coil.flow_for(self.aim_k)

        def passing(liquid_kpa: Array, line: Saturated) -> tuple[Array, Array]:
            volume = inlet_volume(fluid, line, u[..., 2])
            full = system.valve_k * full_flow(volume[..., None], liquid_kpa[..., None] - at.kpa)
            share = np.clip(wanted / np.maximum(full, 1e-12), self.least, 1.0)
            share = np.where(self.aim_k > 0.0, np.maximum(share, self.leak), 1.0)
            return full, np.where(self.is_free, share, self.held) * full

        liquid_kpa = high.kpa
        if np.any(self.restriction > 0.0):
            liquid_kpa = self._behind_main_valves(low, high, u[..., 2], lambda *at: passing(*at)[1].sum(axis=-1))
            full, flow = passing(liquid_kpa, fluid.saturated(fluid.dew_c(liquid_kpa)))
        else:
            full, flow = passing(liquid_kpa, high)
        superheat, enthalpy = coil.leaving(flow)
        return low, high, liquid_kpa, Branches(coil, full, flow, superheat, enthalpy)

    def _behind_main_valves(
        self, low: Saturated, high: Saturated, enthalpy: Array, passing: Callable[[Array, Saturated], Array]
    ) -> Array:
        """Pressure behind main valves that do not stand fully open: where what passes them passes the indoor valves."""
        fluid = self.system.fluid
        resistance = self.restriction * fluid.liquid_volume(np.minimum(enthalpy, high.liquid_enthalpy))
        least, most = low.kpa + 1.0, np.array(high.kpa)
        for _ in range(HALVINGS):
            kpa = 0.5 * (least + most)
            is_low = high.kpa - kpa > resistance * passing(kpa, fluid.saturated(fluid.dew_c(kpa))) ** 2
            least, most = np.where(is_low, kpa, least), np.where(is_low, most, kpa)
        return np.asarray(0.5 * (least + most))

    def outdoors(
        self, u: Array, inside: tuple[Saturated, Saturated, Array, Branches], which: NDArray[np.int_] | None
    ) -> CoolingState:
        """The outdoor units; `which` names the row of the indoor units that belongs to each row of unknowns."""
        fluid, system = self.system.fluid, self.system
        low, high, liquid_kpa, branches = inside
        flow, heat = branches.flow.sum(axis=-1), (branches.flow * branches.enthalpy).sum(axis=-1)
        kg = boiling_kg(system.unit_kw, branches) if self.closure is Closure.SETTLED else np.full(flow.shape, np.nan)
        if which is not None:
            flow, heat, kg, liquid_kpa = flow[which], heat[which], kg[which], liquid_kpa[which]
            low, high = fluid.saturated(u[..., 0]), fluid.saturated(u[..., 1])
        gas = system.share * flow[..., None]
        one_low, one_high = low.columns(), high.columns()
        drop = one_high.kpa - one_low.kpa
        bypass_flow = u[..., 4:] * system.bypass_k * full_flow(one_high.liquid_volume, drop)
        bypass_full = system.bypass_k * full_flow(inlet_volume(fluid, high, u[..., 2])[..., None], drop)
        total = gas + bypass_flow
        cold = self._subcooler(u, one_low, high, total)
        superheat, leaving = cold.leaving(bypass_flow)
        some = np.maximum(total, 1e-12)
        liquid = u[..., 3:4] - bypass_flow * (leaving - u[..., 2:3]) / some
        returning = (heat / np.maximum(flow, 1e-12))[..., None]
        entering = (gas * returning + bypass_flow * leaving) / some
        suction = Suction(one_low, entering, fluid.entering(one_low, entering))
        speed, discharge = self.compress(suction, one_high, total)
        condenser = condensing(self.outdoor, one_high, discharge, fluid.superheat_k(one_high, discharge))
        subcooling, wet = condenser.leaving(total)
        cooled = fluid.liquid(one_high.bubble_c - subcooling, one_high.kpa)
        outside = Outside(
            gas, cold, bypass_flow, bypass_full, superheat, leaving, liquid, suction, speed, discharge, condenser,
            subcooling, np.where(subcooling > 0.0, cooled, wet),
        )  # fmt: skip
        speed_all = (speed * system.share).sum(axis=-1)
        return CoolingState(low, high, u[..., 2], u[..., 3], liquid_kpa, branches, kg, outside, speed_all)

    def _subcooler(self, u: Array, low: Saturated, high: Saturated, flow: Array) -> Evaporating:
        """The bypasses' side of the subcoolers, against all the liquid that leaves the outdoor coils."""
        hot_c = self.system.fluid.liquid_c(np.minimum(u[..., 3], high.liquid_enthalpy), high.kpa)
        hot_c = np.minimum(high.bubble_c, hot_c)[..., None]
        hot = np.maximum(flow * high.liquid_cp[..., None], LEAST_HOT_KW_K)
        return boiling_against_liquid(low, u[..., 2:3], hot_c, hot, self.system.subcooler_kw_k)

    def residual(self, state: CoolingState) -> Array:
        """What is not yet zero. [..., n, unknowns]"""
        outside = state.outside
        speed = self.speed_residual(state) if self.fixed_at is None else state.low.dew_c - self.fixed_at
        closure = self.closing(state)
        total = outside.flow.sum(axis=-1)
        mixed = (outside.flow * outside.liquid_enthalpy).sum(axis=-1)
        liquid = (state.liquid_enthalpy - mixed / np.maximum(total, 1e-12)) / SCALES[2]
        coil = (outside.flow * outside.coil_enthalpy).sum(axis=-1) / np.maximum(total, 1e-12)
        left = (state.left_enthalpy - coil) / SCALES[3]
        bypasses = (self.bypass_flow_wanted(outside) - outside.bypass_flow) / self.bypass_scale(state)
        return np.concatenate([np.stack([speed, closure, liquid, left], axis=-1), bypasses / SCALES[4]], axis=-1)

    def speed_residual(self, state: CoolingState) -> Array:
        """The controller's equation: the evaporating temperature it sees is held, or the speed is at an end."""
        shown = self.cases.suction_offset_k @ self.system.share
        excess = self.cases.evaporating_target_c - (state.low.dew_c + shown)
        over_high = state.high.dew_c - self.most_condensing_c
        return held_by_speed(excess, state.speed_frac, self, over_high, self.least_evaporating_c - state.low.dew_c)

    def bypass_scale(self, state: CoolingState) -> Array:
        drop = (state.high.kpa - state.low.kpa)[..., None]
        return np.maximum(self.system.bypass_k, 1e-9) * full_flow(state.high.liquid_volume[..., None], drop)

    def bypass_flow_wanted(self, outside: Outside) -> Array:
        """What the valve passes as its controller drives it, or as it is stuck."""
        share = outside.bypass.flow_for(self.bypass_aim_k) / np.maximum(outside.bypass_full, 1e-12)
        share = np.where(self.bypass_aim_k > 0.0, np.clip(share, self.bypass_leak, 1.0), 1.0)
        return np.where(np.isnan(self.bypass_stuck), share, self.bypass_held) * outside.bypass_full

    def closing(self, state: CoolingState) -> Array:
        """Minutes after: the outdoor coils hold the liquid they held. Settled: the charge is all there."""
        if self.closure is Closure.MINUTES_AFTER:
            flooded = state.outside.condenser.flooded_share(state.outside.flow)
            return np.asarray(PER_FLOODED_SHARE * ((self.flooded_aim - flooded) * self.system.share).sum(axis=-1))
        return np.asarray(PER_CHARGE * (cooling_kg(self.system, state) / self.charge_aim_kg - 1.0))

    def ruled_out(self) -> list[tuple[NDArray[np.bool_], str]]:
        share = np.where(self.is_free, 1.0, self.held)
        open_k = (share * self.system.valve_k).sum(axis=-1)
        main = self.cases.stuck_frac[:, self.system.main_places]
        mains = passed(self.system.curve, np.where(np.isnan(main), 1.0, main), 0.0).min(axis=-1)
        return [
            (np.asarray(open_k < LEAST_WAY * self.system.valve_k.sum()), NO_WAY),
            (np.asarray(mains < LEAST_WAY), MAIN_SHUT),
        ]

    def because(self, row: int) -> str | None:
        cold = self.cases.ambient_c[row] < self.cases.evaporating_target_c[row] + COLD_K
        is_still = self.cases.outdoor_airflow_frac[row].min() < STILL_AIR
        return COLD_OUTSIDE if cold else OVER_HIGH if is_still else None

    def speed_balance(self, u: Array) -> Array:
        return self.speed_residual(self.state(u))

    def span_c(self) -> tuple[Array, Array]:
        coldest = max(self.system.fluid.low_c + 2.0, self.least_evaporating_c - 10.0)
        warmest = np.minimum(self.cases.rooms_c.max(axis=1) + 4.0, 40.0)
        return np.full(len(warmest), coldest), np.asarray(warmest)

    def flooded_share(self, u: Array) -> Array:
        outside = self.state(u).outside
        return outside.condenser.flooded_share(outside.flow)

    def losses_k(self, u: Array) -> Array:
        flow = self.state(u).branches.flow / self.system.rated_flow_kg_s
        return np.asarray(self.system.suction_drop_k * flow**2)

    def beyond(self, u: Array) -> list[tuple[NDArray[np.bool_], str]]:
        state = self.state(u)
        high = state.outside.condenser.at
        superheat = self.system.fluid.superheat_k(high, state.outside.discharge_enthalpy)
        outside = self.system.law.is_outside(state.low.dew_c, state.high.dew_c)
        return [
            (outside, OUTSIDE_MAP),
            (state.high.dew_c - state.low.dew_c < LEAST_LIFT_K, COLD_OUTSIDE),
            (state.high.dew_c > self.most_condensing_c + CLOSE_K, OVER_HIGH),
            (state.low.dew_c < self.least_evaporating_c - CLOSE_K, UNDER_LOW),
            (np.asarray((superheat > MOST_SUPERHEAT_K).any(axis=-1)), TOO_HOT),
        ]

    def openings(self, state: CoolingState) -> Array:
        """Of the indoor valves, where they stand. [n, units]"""
        share = state.branches.flow / np.maximum(state.branches.full, 1e-12)
        free = opening_for(self.system.curve, share, self.leak)
        standing = np.where(np.isnan(self.stuck), 0.0, self.stuck)
        return np.where(self.is_free, free, standing)
