"""Heating as a few equations: the indoor units condense, every outdoor unit boils behind its own main valve.

Unknowns: condensing temperature, the enthalpy and the pressure of the liquid between the two, the compressors' speed,
and an evaporating temperature for each outdoor unit, whose suction is its own. Indoor valves hold a subcooling, main
valves a superheat. The subcooler's bypass is shut; what it lets through when it is stuck or leaks enters the suction as
it is.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import sizes
from fifthwire.circuit.charge import heating_kg
from fifthwire.circuit.coil import Condensing, Evaporating, Zones, condensing, evaporating
from fifthwire.circuit.compressor import Suction
from fifthwire.circuit.fluid import MOST_SUPERHEAT_K, Saturated
from fifthwire.circuit.problem import (
    CLOSE_K,
    NO_WAY,
    OUTSIDE_MAP,
    OVER_HIGH,
    PER_CHARGE,
    PER_LOG_SPEED,
    STILL_KG_S,
    TOO_HOT,
    UNDER_LOW,
    Closure,
    Jacobian,
    Problem,
    held_by_speed,
)
from fifthwire.circuit.smooth import root
from fifthwire.circuit.surroundings import indoor_coils, outdoor_coils
from fifthwire.circuit.valve_law import (
    PRESSURE_ROUNDING_KPA,
    full_flow,
    inlet_volume,
    opening_for,
    passed,
)

Array = NDArray[np.float64]

SCALES: Final = (1.0, 2.0, 1.0, 0.05, 1.0)
"""Of condensing temperature, liquid enthalpy, the liquid line's dew temperature, speed, evaporating temperatures."""
STEPS: Final = (5.0, 15.0, 5.0, 0.25, 5.0)
PER_FLOW: Final = 1000.0
"""What the whole flow counts in the residual.  Our choice, so that mass is kept to 1e-10."""
LEAST_WAY: Final = 1e-3
CLOSE_SPEED: Final = 1e-4


@dataclass(frozen=True)
class Rooms:
    """Indoor units that condense. [..., units]"""

    coil: Condensing
    full: Array
    """Flow of the valve fully open, for what comes to it."""
    flow: Array
    subcooling_k: Array
    enthalpy: Array


@dataclass(frozen=True)
class OutsideHeating:
    """Outdoor units that boil. [..., outdoor]"""

    coil: Evaporating
    full: Array
    coil_flow: Array
    superheat_k: Array
    coil_enthalpy: Array
    bypass_flow: Array
    suction: Suction
    speed_frac: Array
    discharge_enthalpy: Array

    @property
    def flow(self) -> Array:
        """Through the compressor."""
        return self.coil_flow + self.bypass_flow


@dataclass(frozen=True)
class HeatingState:
    """Everything at a point of the unknowns."""

    high: Saturated
    line: Saturated
    low: Saturated
    """[..., outdoor]"""
    liquid_enthalpy: Array
    speed_frac: Array
    discharge_enthalpy: Array
    rooms: Rooms
    outside: OutsideHeating


class Heating(Problem):
    """Cases of one system, heating. See `problem.Problem`."""

    scanned = "condensing"
    too_fast = (
        "the rooms take up less than the least speed gives at every condensing temperature from {low:.0f} to "
        "{high:.0f} °C: the high-pressure protection stops it, and it starts again"
    )
    too_slow = (
        "the rooms take up more than the most speed gives at every condensing temperature from {low:.0f} to "
        "{high:.0f} °C"
    )

    def prepare(self) -> None:
        cases, system = self.cases, self.system
        if self.closure is not Closure.DESIGN:
            self.charge_aim_kg = system.heating_kg + (cases.charge_frac - 1.0) * system.charge_kg
        self.indoor: Zones = indoor_coils(system, cases)
        self.outdoor: Zones = outdoor_coils(system, cases)
        n_units = len(system.units)
        self.stuck, self.leak = cases.stuck_frac[:, :n_units], cases.leak_frac[:, :n_units]
        self.is_free = np.isnan(self.stuck) & cases.on
        shown = cases.discharge_pressure_offset_k @ system.share
        self.shown_condensing_k = shown
        self.aim_k = cases.subcooling_target_k[:, None] - shown[:, None] + cases.liquid_pipe_offset_k
        standing = np.where(np.isnan(self.stuck), sizes.OFF_HEATING_OPENING, self.stuck)
        self.held = passed(system.curve, standing, self.leak)
        self.least = passed(system.curve, sizes.LEAST_COMMAND, self.leak)
        self.main_stuck = cases.stuck_frac[:, system.main_places]
        self.main_leak = cases.leak_frac[:, system.main_places]
        self.main_held = passed(system.curve, np.nan_to_num(self.main_stuck), self.main_leak)
        self.main_least = passed(system.curve, sizes.LEAST_COMMAND, self.main_leak)
        self.main_aim_k = (
            cases.superheat_target_k[:, None] - cases.suction_temperature_offset_k + cases.suction_offset_k
        )
        place = system.bypass_places
        bypass = np.where(place >= 0, np.nan_to_num(cases.stuck_frac[:, place]), 0.0)
        self.bypass_share = np.where(place >= 0, passed(system.curve, bypass, cases.leak_frac[:, place]), 0.0)

    @property
    def scales(self) -> Array:
        return np.array([*SCALES[:4], *[SCALES[4]] * len(self.system.outdoor)])

    @property
    def steps(self) -> Array:
        return np.array([*STEPS[:4], *[STEPS[4]] * len(self.system.outdoor)])

    def bounds(self) -> tuple[Array, Array]:
        fluid, n, m = self.system.fluid, len(self.cases), len(self.system.outdoor)
        low = np.array([fluid.low_c + 30.0, 60.0, fluid.low_c + 8.0, 0.01, *[fluid.low_c + 2.0] * m])
        high = np.array([fluid.high_c, 500.0, fluid.high_c, 4.0, *[40.0] * m])
        return np.tile(low, (n, 1)), np.tile(high, (n, 1))

    def start(self) -> Array:
        cases, fluid, m = self.cases, self.system.fluid, len(self.system.outdoor)
        condensing_c = np.minimum(cases.condensing_target_c, fluid.high_c - 3.0)
        evaporating_c = np.minimum(cases.ambient_c - 6.0, condensing_c - 15.0)
        high, low = fluid.saturated(condensing_c), fluid.saturated(evaporating_c)
        kpa = low.kpa + sizes.LIQUID_PRESSURE_SHARE * (high.kpa - low.kpa)
        liquid = high.liquid_enthalpy - 5.0 * high.liquid_cp
        loaded = np.clip((cases.on * self.system.unit_kw).sum(axis=1) / self.system.unit_kw.sum(), 0.2, 1.0)
        speed = np.where(self.is_fixed, self.most_speed, loaded)
        return np.column_stack([condensing_c, liquid, fluid.dew_c(kpa), speed, *[evaporating_c] * m])

    def other_start(self) -> Array:
        cases, start, fluid = self.cases, self.start(), self.system.fluid
        start[:, 0] = cases.rooms_c.mean(axis=1) + 4.0
        start[:, 4:] = self.least_evaporating_c + 2.0
        high = fluid.saturated(start[:, 0])
        start[:, 1] = high.liquid_enthalpy - 2.0 * high.liquid_cp
        start[:, 2] = start[:, 0] - 1.0
        start[:, 3] = self.most_speed
        return start

    def evaluate(self, u: Array) -> tuple[Array, Jacobian]:
        step = self.difference * self.scales
        moved = u + np.concatenate([np.zeros((1, u.shape[1])), np.diag(step)])[:, None, :]
        found = self.residual(self.state(moved))
        slopes = (found[1:] - found[0]) / step[:, None, None]
        return found[0], np.moveaxis(slopes, 0, -1)

    def state(self, u: Array) -> HeatingState:
        """Everything at the unknowns. [..., n, unknowns]"""
        fluid = self.system.fluid
        high, line, low = fluid.saturated(u[..., 0]), fluid.saturated(u[..., 2]), fluid.saturated(u[..., 4:])
        outside = self.outdoors(u, high, line, low)
        total = np.maximum(outside.flow.sum(axis=-1), 1e-12)
        discharge = (outside.flow * outside.discharge_enthalpy).sum(axis=-1) / total
        rooms = self.indoors(high, line, discharge)
        return HeatingState(high, line, low, u[..., 1], u[..., 3], discharge, rooms, outside)

    def outdoors(self, u: Array, high: Saturated, line: Saturated, low: Saturated) -> OutsideHeating:
        fluid, system = self.system.fluid, self.system
        enthalpy = u[..., 1:2]
        coil = evaporating(self.outdoor, low, enthalpy)
        volume = inlet_volume(fluid, line, u[..., 1])[..., None]
        open_flow = full_flow(volume, line.kpa[..., None] - low.kpa)
        full = system.main_k * open_flow
        share = np.clip(coil.flow_for(self.main_aim_k) / np.maximum(full, 1e-12), self.main_least, 1.0)
        share = np.where(self.main_aim_k > 0.0, np.maximum(share, self.main_leak), 1.0)
        flow = np.where(np.isnan(self.main_stuck), share, self.main_held) * full
        superheat, leaving = coil.leaving(flow)
        bypass = self.bypass_share * system.bypass_k * open_flow
        total = np.maximum(flow + bypass, 1e-12)
        rest = total - flow - bypass  # where nothing flows: the gas that stands behind the coil
        entering = ((flow + rest) * leaving + bypass * enthalpy) / total
        suction = Suction(low, entering, fluid.entering(low, entering))
        speed, discharge = self.compress(suction, high.columns(), total)
        return OutsideHeating(coil, full, flow, superheat, leaving, bypass, suction, speed, discharge)

    def indoors(self, high: Saturated, line: Saturated, discharge: Array) -> Rooms:
        fluid, at = self.system.fluid, high.columns()
        hot = discharge[..., None]
        coil = condensing(self.indoor, at, hot, fluid.superheat_k(at, hot))
        drop = (high.kpa - line.kpa)[..., None]
        wide = self.system.valve_k * np.sqrt(2e3) * root(drop, PRESSURE_ROUNDING_KPA)
        full = _through(coil, wide)
        wanted = coil.flow_for(self.aim_k)
        free = np.where(self.aim_k > 0.0, np.minimum(wanted, full), full)
        free = np.maximum(free, _through(coil, wide * np.maximum(self.least, self.leak)))
        flow = np.where(self.is_free, free, _through(coil, wide * self.held))
        subcooling, enthalpy = coil.leaving(flow)
        cooled = fluid.liquid(at.bubble_c - subcooling, at.kpa)
        return Rooms(coil, full, flow, subcooling, np.where(subcooling > 0.0, cooled, enthalpy))

    def residual(self, state: HeatingState) -> Array:
        """What is not yet zero. [..., n, unknowns]"""
        rooms, outside = state.rooms, state.outside
        speed = self.speed_residual(state) if self.fixed_at is None else state.high.dew_c - self.fixed_at
        into, out = rooms.flow.sum(axis=-1), outside.flow.sum(axis=-1)
        mass = PER_FLOW * (into - out) / np.maximum(0.5 * (into + out), 1e-9)
        mixed = (rooms.flow * rooms.enthalpy).sum(axis=-1) / np.maximum(into, 1e-12)
        liquid = (state.liquid_enthalpy - mixed) / SCALES[1]
        # all compressors run at one speed, but one whose suction has fallen to its limit is held back there
        speeds = PER_LOG_SPEED * np.log(np.maximum(outside.speed_frac, 1e-9) / state.speed_frac[..., None])
        speeds = np.maximum(speeds, self.least_evaporating_c - state.low.dew_c)
        first = np.stack([speed, self.closing(state), mass, liquid], axis=-1)
        return np.concatenate([first, speeds], axis=-1)

    def speed_residual(self, state: HeatingState) -> Array:
        """The controller's equation: the condensing temperature it sees is held, or the speed is at an end."""
        excess = state.high.dew_c + self.shown_condensing_k - self.cases.condensing_target_c
        over_high = state.high.dew_c - self.most_condensing_c
        return held_by_speed(excess, state.speed_frac, self, over_high, np.array(-np.inf))

    def closing(self, state: HeatingState) -> Array:
        """The charge is all there; minutes after, none of it has collected in an accumulator."""
        if self.closure is Closure.DESIGN:
            low = (state.low.kpa * self.system.share).sum(axis=-1)
            share = (state.line.kpa - low) / np.maximum(state.high.kpa - low, 1.0)
            return np.asarray(PER_CHARGE * (share - sizes.LIQUID_PRESSURE_SHARE))
        held = heating_kg(self.system, state, collected=self.closure is Closure.SETTLED)
        return np.asarray(PER_CHARGE * (held - self.charge_aim_kg) / self.system.charge_kg)

    def ruled_out(self) -> list[tuple[NDArray[np.bool_], str]]:
        indoor = (np.where(self.is_free, 1.0, self.held) * self.system.valve_k).sum(axis=-1)
        main = (np.where(np.isnan(self.main_stuck), 1.0, self.main_held) * self.system.main_k).sum(axis=-1)
        shut = (indoor < LEAST_WAY * self.system.valve_k.sum()) | (main < LEAST_WAY * self.system.main_k.sum())
        return [(np.asarray(shut), NO_WAY)]

    def speed_balance(self, u: Array) -> Array:
        return self.speed_residual(self.state(u))

    def span_c(self) -> tuple[Array, Array]:
        coldest = np.asarray(self.cases.rooms_c.min(axis=1) + 1.0)
        return coldest, np.full(len(coldest), self.most_condensing_c + 2.0)

    def losses_k(self, u: Array) -> Array:
        return np.zeros((len(u), len(self.system.units)))  # a loss of hot gas moves nothing that is told here

    def flooded_share(self, u: Array) -> Array:
        return np.full(self.outdoor_shape, np.nan)  # the outdoor coil boils: this closure has the line's pressure

    def beyond(self, u: Array) -> list[tuple[NDArray[np.bool_], str]]:
        state = self.state(u)
        superheat = self.system.fluid.superheat_k(state.high.columns(), state.outside.discharge_enthalpy)
        superheat = np.where(state.outside.flow > STILL_KG_S, superheat, 0.0)
        coldest = state.low.dew_c.min(axis=-1)
        return [
            (self.system.law.is_outside(coldest, state.high.dew_c), OUTSIDE_MAP),
            (state.high.dew_c > self.most_condensing_c + CLOSE_K, OVER_HIGH),
            ((state.outside.speed_frac * self.system.share).sum(axis=-1) < self.least_speed - CLOSE_SPEED, UNDER_LOW),
            (np.asarray((superheat > MOST_SUPERHEAT_K).any(axis=-1)), TOO_HOT),
        ]

    def openings(self, state: HeatingState) -> Array:
        """Of the indoor valves, where they stand. [n, units]"""
        share = state.rooms.flow / np.maximum(state.rooms.full, 1e-12)
        free = opening_for(self.system.curve, share, self.leak)
        standing = np.where(np.isnan(self.stuck), sizes.OFF_HEATING_OPENING, self.stuck)
        return np.where(self.is_free, free, standing)

    def main_openings(self, state: HeatingState) -> Array:
        """Of the main valves, where they stand. [n, outdoor]"""
        share = state.outside.coil_flow / np.maximum(state.outside.full, 1e-12)
        free = opening_for(self.system.curve, share, self.main_leak)
        return np.where(np.isnan(self.main_stuck), free, np.nan_to_num(self.main_stuck))


def _through(coil: Condensing, wide: Array) -> Array:
    """What a valve behind a condensing coil passes: liquid, or the mixture that the coil then leaves.

    With x = a - b/m leaving the coil, m² v(x) = wide² is a quadratic in the flow.
    """
    at = coil.at
    liquid = wide / np.sqrt(at.liquid_volume)
    span = at.vapour_enthalpy - at.liquid_enthalpy
    swell = at.vapour_volume - at.liquid_volume
    b = coil.wet_kw / span
    a = (coil.vapour_per_flow + coil.wet_per_flow) * b
    lead = at.liquid_volume + a * swell
    wet = (b * swell + np.sqrt((b * swell) ** 2 + 4.0 * lead * wide**2)) / (2.0 * lead)
    return np.where(coil.flooded_share(liquid) >= 0.0, liquid, wet)
