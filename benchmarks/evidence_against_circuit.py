"""The likelihoods of the running evidence against the simulated circuit: 500 random plants, a behaviour a valve.

For each plant one unit's valve, or the bypass, is made to behave in each way that can be simulated; its readings, with
noise, go through the same facts as those of a visit. Printed: how often each fact came, what the table of likelihoods
says, and where the two differ in which fact is the usual one (sign) or by more than five times (size).
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import log
from typing import Any, Final

import numpy as np

from fifthwire.circuit import sizes
from fifthwire.circuit.scenario import Scenarios, scenarios_of, together
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.circuit.states import States
from fifthwire.circuit.system import CircuitSystem
from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS
from fifthwire.diagnosis.faults.running_table import VALVE_ROWS
from fifthwire.diagnosis.running.facts_units import CoilSeen, coil_facts
from fifthwire.diagnosis.running.facts_valves import BypassSeen, bypass_fact
from fifthwire.model.plant import Plant, PlantUnit

PLANTS: Final = 500
SEED: Final = 20260711
UNITS_KW: Final = (2.2, 2.8, 3.6, 4.5, 5.6, 7.1)
SIMULATED: Final = ("follows", "short", "wide", "narrow", "still", "leaks", "reads-high", "reads-low", "dirty")
OF_BYPASS: Final = ("follows", "wide", "narrow", "still")
FAR: Final = 5.0
"""Times by which a frequency and a likelihood may differ before it is said.  [1]  Our choice."""
SEEN_FROM: Final = 0.05
"""Below this both are rare.  [1]  Our choice."""
NOISE_K: Final = 0.4

Tally = defaultdict[tuple[str, str], list[float]]


def random_plant(rng: np.random.Generator) -> Plant:
    """Any size, R410A or R32, either curve, any weather."""
    units = tuple(
        PlantUnit(id=f"IU{at:02d}", capacity_kw=float(rng.choice(UNITS_KW)), room_c=float(rng.uniform(22.0, 29.0)))
        for at in range(int(rng.integers(4, 41)))
    )
    return Plant(
        refrigerant=str(rng.choice(["R410A", "R32"])),
        units=units,
        ambient_c=float(rng.uniform(22.0, 42.0)),
        valve_curve=str(rng.choice(["concave", "linear"])),
    )


def behaving(system: CircuitSystem, base: Scenarios, healthy: States, how: str, at: int, rng: Any) -> Scenarios:
    """The case with one valve that behaves in a way."""
    is_unit = at < len(system.units)
    stands = float(healthy.opening_frac[0, at] if is_unit else healthy.bypass_opening_frac[0, 0])
    if how == "wide":
        return base.with_stuck(at, min(1.0, rng.uniform(stands + 0.08, 1.08)))
    if how == "narrow":
        return base.with_stuck(at, max(0.0, rng.uniform(-0.08, stands - 0.08)))
    if how == "still":
        return base.with_stuck(at, float(np.clip(stands + rng.normal(0.0, 0.015), 0.0, 1.0)))
    if how == "short":
        return base.with_(charge_frac=rng.uniform(0.6, 0.85))
    if how == "leaks":
        leak = base.leak_frac.copy()
        leak[0, at] = rng.uniform(0.03, 0.3)
        return replace(base, leak_frac=leak)
    if how in ("reads-high", "reads-low"):
        offset = base.gas_pipe_offset_k.copy()
        offset[0, at] = rng.uniform(2.0, 8.0) * (1.0 if how == "reads-high" else -1.0)
        return replace(base, gas_pipe_offset_k=offset)
    if how == "dirty":
        air = base.airflow_frac.copy()
        air[0, at] = rng.uniform(0.35, 0.7)
        return replace(base, airflow_frac=air)
    return base


def coil_of(system: CircuitSystem, cases: Scenarios, states: States, row: int, at: int, rng: Any) -> CoilSeen:
    """What a technician reads at one unit."""

    def noisy(value: float) -> float:
        return float(value + rng.normal(0.0, NOISE_K))

    gas, liquid = noisy(states.gas_pipe_c[row, at]), noisy(states.liquid_pipe_c[row, at])
    is_on = bool(cases.on[row, at])
    return CoilSeen(
        unit=system.units[at],
        is_on=is_on,
        off_minutes=None if is_on else 60.0,
        held_k=gas - liquid if is_on else None,
        u_k=0.6,
        target_k=float(cases.superheat_target_k[row]),
        command=float(states.command_frac[row, at]),
        least_command=sizes.LEAST_COMMAND,
        saturation_c=noisy(states.evaporating_c[row]),
        liquid_pipe_c=liquid,
        gas_pipe_c=gas,
        return_air_c=noisy(cases.rooms_c[row, at]),
        supply_air_c=noisy(states.supply_air_c[row, at]),
    )


def facts_of_plant(rng: np.random.Generator) -> Iterator[tuple[str, Mapping[str, float]]]:
    """A behaviour and the facts that come of it, for one plant."""
    plant = random_plant(rng)
    system, base = circuit_of(plant), scenarios_of(plant)
    units = len(system.units)
    at = int(rng.integers(0, units))
    on = rng.random(units) < rng.uniform(0.4, 1.0)
    on[at] = True
    base = base.with_(on=on)
    closure = str(rng.choice(["minutes-after", "settled"]))
    healthy = solve(system, base, closure=closure)
    if not healthy.converged[0]:
        return
    bypass = system.valve("subcooler-bypass")
    off = on.copy()
    off[at] = False
    stopped = base.with_(on=off) if off.any() else None
    asked = [(how, at, behaving(system, base, healthy, how, at, rng)) for how in SIMULATED]
    asked += [(how, bypass, behaving(system, base, healthy, how, bypass, rng)) for how in OF_BYPASS]
    if stopped is not None:
        asked += [(how, at, behaving(system, stopped, healthy, how, at, rng)) for how in SIMULATED if how != "short"]
    cases = together([case for _, _, case in asked])
    states = solve(system, cases, closure=closure)
    for row, (how, place, _) in enumerate(asked):
        if states.converged[row]:
            yield from ((how, soft) for soft in _facts(system, cases, states, row, place, rng))


def _facts(
    system: CircuitSystem, cases: Scenarios, states: States, row: int, place: int, rng: Any
) -> Iterator[Mapping[str, float]]:
    if place >= len(system.units):
        outlet = float(states.bypass_shown_superheat_k[row, 0] + rng.normal(0.0, NOISE_K))
        command = float(states.bypass_command_frac[row, 0])
        fact = bypass_fact(BypassSeen(valve="bypass", command=command, outlet_superheat_k=outlet, u_k=0.6))
        if fact is not None:
            yield fact.soft
        return
    read = [at for at in range(len(system.units)) if cases.on[row, at] or at == place]
    coils = [coil_of(system, cases, states, row, at, rng) for at in read]
    own = next(one for one in coils if one.unit == system.units[place])
    peers = [one for one in coils if one.unit != own.unit and one.is_on]
    for fact in coil_facts(own, peers):
        yield fact.soft


def tallied() -> Tally:
    """Weights of every fact under every behaviour."""
    rng, tally = np.random.default_rng(SEED), Tally(list)
    for _ in range(PLANTS):
        for how, soft in facts_of_plant(rng):
            for code, weight in soft.items():
                tally[how, code].append(weight)
    return tally


def main() -> int:
    """Compare and print."""
    tally = tallied()
    print(f"{PLANTS} random plants, seed {SEED}. In each cell: how often simulated / what the table says, %.")
    print("! differs more than five times where either is 5 % and more; * the usual fact is another one.\n")
    codes = [code for code in VALVE_ROWS if any((how, code) in tally for how in SIMULATED)]
    print(f"{'fact':22s}" + "".join(f"{how:>16s}" for how in SIMULATED))
    signs = sizes_off = cells = 0
    questions = {VALVE_ROWS[code].question for code in codes}
    usual = {(how, one): _usual(tally, codes, how, one) for how in SIMULATED for one in questions}
    for code in codes:
        shown = []
        for how in SIMULATED:
            weights = tally.get((how, code))
            said = VALVE_ROWS[code].likelihood[BEHAVIOURS.index(how)]
            if not weights:
                shown.append("")
                continue
            found = float(np.mean(weights))
            is_far = max(found, said) >= SEEN_FROM and abs(log(max(found, 1e-4) / max(said, 1e-4))) > log(FAR)
            simulated, table = usual[how, VALVE_ROWS[code].question]
            is_other = simulated != table and code == simulated
            cells, sizes_off, signs = cells + 1, sizes_off + is_far, signs + is_other
            shown.append(f"{found * 100.0:.1f}/{said * 100.0:.1f}{'!' if is_far else ' '}{'*' if is_other else ' '}")
        print(f"{code:22s}" + "".join(f"{one:>16s}" for one in shown))
    print(f"\n{cells} cells, {sizes_off} differ in size, {signs} looks have another usual fact")
    print("not simulated: starved (a branch restricted before its valve), unfilled and overfull (heating)")
    return 0


def _usual(tally: Tally, codes: list[str], how: str, question: str) -> tuple[str, str]:
    """The most frequent fact of a look, simulated and by the table."""
    here = [code for code in codes if VALVE_ROWS[code].question == question and (how, code) in tally]
    if not here:
        return "", ""
    column = BEHAVIOURS.index(how)
    return (
        max(here, key=lambda code: float(np.mean(tally[how, code]))),
        max(here, key=lambda code: VALVE_ROWS[code].likelihood[column]),
    )


if __name__ == "__main__":
    raise SystemExit(main())
