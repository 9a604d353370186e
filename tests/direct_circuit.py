"""The same steady state by another way: plain scalars, CoolProp for every property, SciPy for the root.

One case, cooling, one outdoor unit, minutes after, sound sensors. It takes a system's sizes and the surroundings of one
case, and nothing else of the program: the equations are written again from their description, one indoor unit after the
other. It is slow, and that is measured too (`benchmarks.circuit`).
"""

from dataclasses import dataclass
from math import exp, expm1, inf, isnan, log, log1p, sqrt

import numpy as np
from CoolProp import CoolProp as coolprop  # noqa: N813 - the module has the name of its package
from scipy.optimize import root

from fifthwire.circuit import sizes
from fifthwire.circuit.scenario import Scenarios
from fifthwire.circuit.system import CircuitSystem

KELVIN = 273.15


class Properties:
    """CoolProp with the reference state of the IIR, in kPa, kJ and °C."""

    def __init__(self, name: str) -> None:
        self.state = coolprop.AbstractState("HEOS", name)
        self.state.update(coolprop.QT_INPUTS, 0.0, KELVIN)
        self.h0, self.s0 = self.state.hmass(), self.state.smass()

    def _h(self) -> float:
        return (self.state.hmass() - self.h0) / 1e3 + 200.0

    def saturated(self, quality: float, *, c: float | None = None, kpa: float | None = None) -> dict[str, float]:
        if c is not None:
            self.state.update(coolprop.QT_INPUTS, quality, c + KELVIN)
        else:
            self.state.update(coolprop.PQ_INPUTS, 1e3 * kpa, quality)
        return {
            "kpa": self.state.p() / 1e3, "c": self.state.T() - KELVIN, "h": self._h(),
            "s": (self.state.smass() - self.s0) / 1e3 + 1.0, "v": 1.0 / self.state.rhomass(),
        }  # fmt: skip

    def gas(self, kpa: float, c: float) -> tuple[float, float]:
        self.state.specify_phase(coolprop.iphase_gas)
        self.state.update(coolprop.PT_INPUTS, 1e3 * kpa, c + KELVIN)
        found = self._h(), (self.state.smass() - self.s0) / 1e3 + 1.0
        self.state.unspecify_phase()
        return found

    def liquid_h(self, kpa: float, c: float) -> float:
        self.state.specify_phase(coolprop.iphase_liquid)
        self.state.update(coolprop.PT_INPUTS, 1e3 * kpa, c + KELVIN)
        found = self._h()
        self.state.unspecify_phase()
        return found

    def at(self, kpa: float, h: float) -> tuple[float, float, float]:
        """Volume, entropy and temperature."""
        self.state.update(coolprop.HmassP_INPUTS, 1e3 * (h - 200.0) + self.h0, 1e3 * kpa)
        return 1.0 / self.state.rhomass(), (self.state.smass() - self.s0) / 1e3 + 1.0, self.state.T() - KELVIN

    def at_entropy(self, kpa: float, s: float) -> float:
        self.state.update(coolprop.PSmass_INPUTS, 1e3 * kpa, 1e3 * (s - 1.0) + self.s0)
        return self._h()


def positive(x: float, width: float) -> float:
    return 0.5 * (x + sqrt(x * x + width * width))


def magnus(c: float) -> float:
    kpa = 0.61094 * exp(17.625 * c / (c + 243.04))
    return 0.622 * kpa / (101.325 - kpa)


def moist(c: float, humidity: float) -> float:
    return 1.006 * c + humidity * (2501.0 + 1.86 * c)


def zone(capacity: float, conductance: float) -> float:
    return -capacity * expm1(-conductance / capacity)


@dataclass
class Direct:
    """A state: what the batch solver's can be compared with."""

    evaporating_c: float
    condensing_c: float
    speed_frac: float
    power_kw: float
    capacity_kw: float
    discharge_c: float
    subcooling_k: float
    flow_g_s: list[float]
    superheat_k: list[float]


class DirectCircuit:
    """One case of a system.

    Parameters
    ----------
    system : CircuitSystem
        For its sizes only.
    cases : Scenarios
        The first row is taken.
    """

    def __init__(self, system: CircuitSystem, cases: Scenarios) -> None:
        self.system, self.of = system, Properties(system.plant.refrigerant)
        row = cases.rows(slice(0, 1))
        self.ambient, self.rooms, self.on = float(row.ambient_c[0]), row.rooms_c[0], row.on[0]
        self.stuck, self.leak = row.stuck_frac[0], row.leak_frac[0]
        self.fixed = float(row.fixed_speed_frac[0])
        self.target_c, self.target_k = float(row.evaporating_target_c[0]), float(row.superheat_target_k[0])
        self.airflow = row.airflow_frac[0]
        self.outdoor_airflow = float(row.outdoor_airflow_frac[0, 0])
        self.bypass = int(system.bypass_places[0])

    def passed(self, opening: float, leak: float) -> float:
        return leak + (1.0 - leak) * float(self.system.curve.flow(opening))

    def full(self, volume: float, drop_kpa: float) -> float:
        drop = max(drop_kpa, 0.0)
        return sqrt(2e3 / volume) * drop / sqrt(sqrt(drop * drop + 400.0))

    def inlet_volume(self, high: dict, h: float) -> float:
        f, g = high["f"], high["g"]
        flash = min(positive(h - f["h"], 0.8) / (g["h"] - f["h"]), 1.0)
        liquid = self.saturated_liquid_volume(min(h, f["h"]))
        return liquid + flash * (g["v"] - f["v"])

    def saturated_liquid_volume(self, h: float) -> float:
        """Of saturated liquid of an enthalpy: the program neglects what pressure does to density."""
        c = self.last_c
        for _ in range(30):
            here, there = (self.of.saturated(0.0, c=at) for at in (c, c + 0.01))
            step = (h - here["h"]) / ((there["h"] - here["h"]) / 0.01)
            c += step
            if abs(step) < 1e-9:
                break
        self.last_c = c
        return self.of.saturated(0.0, c=c)["v"]

    last_c = 30.0

    def unit(self, i: int, low: dict, h_l: float, volume: float, drop: float) -> tuple[float, float, float]:
        """Flow, superheat and enthalpy at the outlet of an indoor unit."""
        coils = self.system.indoor_coils
        airflow = float(self.airflow[i]) if self.on[i] else sizes.OFF_AIRFLOW
        flow_air, outer, inner = coils.air_kg_s[i] * airflow, coils.outer_kw_k[i] * airflow**0.6, coils.inner_kw_k[i]
        room, f, g = float(self.rooms[i]), low["f"], low["g"]
        x = min(max((h_l - f["h"]) / (g["h"] - f["h"]), 0.0), 1.0)
        mean = g["c"] - 0.5 * (1.0 - x) * (g["c"] - f["c"])
        capacity = 1.02 * flow_air
        dry = zone(capacity, 1.0 / (1.0 / inner + 1.0 / outer)) * positive(room - mean, 0.2)
        slope = moist(mean + 4.5, magnus(mean + 4.5)) - moist(mean + 3.5, magnus(mean + 3.5))
        wet_conductance = 1.0 / (slope / inner + 1.02 / outer)
        driving = moist(room, 0.47 * magnus(room)) - moist(mean, magnus(mean))
        wet = -flow_air * expm1(-wet_conductance / flow_air) * driving
        whole = 0.5 * (dry + wet + sqrt((dry - wet) ** 2 + (0.008 * coils.kw[i]) ** 2))
        vapour = zone(capacity, 1.0 / (1.0 / (0.15 * inner) + 1.0 / outer))
        above = positive(room - g["c"], 0.2)
        full = self.system.valve_k[i] * self.full(volume, drop)
        if not isnan(self.stuck[i]):
            flow = self.passed(self.stuck[i], self.leak[i]) * full
        elif not self.on[i]:
            flow = self.leak[i] * full
        else:
            aim = min(self.target_k, 0.995 * above)
            wanted = 1.0 / ((g["h"] - h_l) / whole - low["cp"] * log1p(-aim / above) / vapour)
            flow = min(max(wanted / full, self.passed(0.06, self.leak[i])), 1.0) * full
        return (flow, *self.leaving(flow, low, h_l, whole, vapour, above))

    def leaving(
        self, flow: float, low: dict, h_in: float, whole: float, vapour: float, above: float
    ) -> tuple[float, float]:
        flow = max(flow, 1e-12)
        share = flow * (low["g"]["h"] - h_in) / whole
        if share >= 1.0:
            return 0.0, h_in + whole / flow
        superheat = -above * expm1(-(1.0 - share) * vapour / (flow * low["cp"]))
        return superheat, self.of.gas(low["g"]["kpa"], low["g"]["c"] + superheat)[0]

    def pressures(self, dew_c: float) -> dict:
        g = self.of.saturated(1.0, c=dew_c)
        f = self.of.saturated(0.0, kpa=g["kpa"])
        cp = (self.of.gas(g["kpa"], dew_c + 10.0)[0] - g["h"]) / 10.0
        return {"g": g, "f": f, "cp": cp}

    def everything(self, u: np.ndarray) -> dict:
        evaporating, condensing, h_l, h_c, y = (float(one) for one in u)
        system, of = self.system, self.of
        low, high = self.pressures(evaporating), self.pressures(condensing)
        f = high["f"]
        drop = high["g"]["kpa"] - low["g"]["kpa"]
        volume = self.inlet_volume(high, h_l)
        units = [self.unit(i, low, h_l, volume, drop) for i in range(len(system.units))]
        gas = sum(flow for flow, _, _ in units)
        heat = sum(flow * h for flow, _, h in units)
        bypass = y * system.bypass_k[0] * self.full(f["v"], drop)
        total = gas + bypass
        liquid_cp = (f["h"] - of.saturated(0.0, c=f["c"] - 6.0)["h"]) / 6.0
        hot_c = min(f["c"], of.at(high["g"]["kpa"], h_c)[2])
        hot = max(total * liquid_cp, 1e-6)
        above = positive(hot_c - low["g"]["c"], 0.2)
        whole, vapour = zone(hot, system.subcooler_kw_k[0]) * above, zone(hot, 0.12 * system.subcooler_kw_k[0])
        _, h_b = self.leaving(bypass, low, h_l, whole, vapour, above)
        suction = (heat + bypass * h_b) / total
        v, s, _ = of.at(low["g"]["kpa"], suction)
        law = system.law
        speed = total * v / (system.size[0] * law.volumetric_frac)
        discharge = suction + (of.at_entropy(high["g"]["kpa"], s) - suction) / law.isentropic_frac
        outlet, flooded = self.condenser(total, discharge, high, liquid_cp)
        aim = min(self.target_k, 0.995 * above)
        wanted = 1.0 / ((low["g"]["h"] - h_l) / whole - low["cp"] * log1p(-aim / above) / vapour)
        bypass_full = system.bypass_k[0] * self.full(volume, drop)
        leak = self.leak[self.bypass]
        if isnan(self.stuck[self.bypass]):
            aimed = min(max(wanted, leak * bypass_full), bypass_full)
        else:
            aimed = self.passed(self.stuck[self.bypass], leak) * bypass_full
        residuals = [
            self.speed_equation(evaporating, speed),
            30.0 * (system.flooded_share[0] - flooded),
            (h_l - (h_c - bypass * (h_b - h_l) / total)) / 2.0,
            (h_c - outlet) / 2.0,
            (aimed - bypass) / (system.bypass_k[0] * self.full(f["v"], drop)) / 0.05,
        ]
        return {
            "residuals": residuals, "units": units, "total": total, "suction": suction, "discharge": discharge,
            "speed": speed, "heat": heat - gas * h_l, "high": high,
        }  # fmt: skip

    def speed_equation(self, evaporating: float, speed: float) -> float:
        if not isnan(self.fixed):
            return 20.0 * log(speed / self.fixed)
        least, most = self.system.plant.compressor.speed_frac
        excess = self.target_c - evaporating
        base = max(min(excess, 20.0 * log(speed / least)), 20.0 * log(speed / most))
        return min(max(base, -inf), 20.0 * log(speed / least))

    def condenser(self, flow: float, discharge: float, high: dict, liquid_cp: float) -> tuple[float, float]:
        """Enthalpy at the outlet, and the share of the coil that is flooded."""
        coils, f, g = self.system.outdoor_coils, high["f"], high["g"]
        capacity = 1.02 * coils.air_kg_s[0] * self.outdoor_airflow
        outer, inner = coils.outer_kw_k[0] * self.outdoor_airflow**0.6, coils.inner_kw_k[0]
        boiling = zone(capacity, 1.0 / (1.0 / inner + 1.0 / outer))
        vapour = zone(capacity, 1.0 / (1.0 / (0.15 * inner) + 1.0 / outer))
        liquid = zone(capacity, 1.0 / (1.0 / (0.35 * inner) + 1.0 / outer))
        dew, bubble = positive(g["c"] - self.ambient, 0.2), positive(f["c"] - self.ambient, 0.2)
        hot_c = self.of.at(g["kpa"], discharge)[2] if discharge > g["h"] else g["c"]
        excess, superheat = max(discharge - g["h"], 0.0), max(hot_c - g["c"], 1e-9)
        first = excess * log1p(superheat / dew) / (superheat * vapour)
        wet_kw = boiling * 0.5 * (dew + bubble)
        share = 1.0 - flow * (first + (min(discharge, g["h"]) - f["h"]) / wet_kw)
        if share < 0.0:
            return min(f["h"] - share * wet_kw / flow, discharge), share
        subcooling = -bubble * expm1(-share * liquid / (flow * liquid_cp))
        return self.of.liquid_h(g["kpa"], f["c"] - subcooling), share

    def solved(self, start: np.ndarray) -> Direct:
        """By Powell's hybrid method, from a start.

        Raises
        ------
        ArithmeticError
            If it does not get there.
        """
        found = root(lambda u: self.everything(u)["residuals"], start, method="hybr", options={"xtol": 1e-10})
        state = self.everything(found.x)
        if max(abs(one) for one in state["residuals"]) > 1e-6:
            raise ArithmeticError(found.message)
        high = state["high"]
        return Direct(
            evaporating_c=float(found.x[0]),
            condensing_c=float(found.x[1]),
            speed_frac=state["speed"],
            power_kw=state["total"] * (state["discharge"] - state["suction"]),
            capacity_kw=state["heat"],
            discharge_c=self.of.at(high["g"]["kpa"], state["discharge"])[2],
            subcooling_k=high["f"]["c"] - self.of.at(high["g"]["kpa"], float(found.x[2]))[2],
            flow_g_s=[1e3 * flow for flow, _, _ in state["units"]],
            superheat_k=[superheat for _, superheat, _ in state["units"]],
        )
