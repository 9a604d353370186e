"""The simulated circuit: one state, atlases of 24 and 40 units, and the same states by CoolProp and SciPy directly.

    python -m benchmarks circuit
    python -m benchmarks.circuit plot     also draws cost against units and cases, in docs/pictures/

Aims: one state within 20 ms; an atlas of 4,600 cases of 24 units within 4 s and of 40 units within 6 s, on two cores,
the refrigerant's tables made anew; in batch at least 50 times as fast as the direct solution. Times are by the clock on
the wall; the work of one core is told beside them, since on a busy machine the two lie far apart.
"""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final

import numpy as np
from tests.circuit_cases import a_plant
from tests.direct_circuit import DirectCircuit

from fifthwire.circuit import fluid
from fifthwire.circuit.scenario import Scenarios, plain_cases, together
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.circuit.system import CircuitSystem

CLOSURES: Final = ("minutes-after", "settled")
CASES: Final = 4600
OPENINGS: Final = 21
AMBIENTS_C: Final = (28.0, 35.0, 43.0)
LOADS: Final = (0.35, 0.6, 1.0)
DIRECT_CASES: Final = 12
ROUNDS: Final = 5
AIM_ONE_S: Final = 0.020
AIM_ATLAS_S: Final = {24: 4.0, 40: 6.0}
AIM_DIRECT: Final = 50.0
PICTURE: Final = Path(__file__).parent.parent / "docs" / "pictures" / "circuit-cost.svg"


def atlas_cases(system: CircuitSystem, n_cases: int) -> Scenarios:
    """Every valve at every opening under nine loads, cut or repeated to a number of cases."""
    n = len(system.units)
    valves = [*range(n), system.valve("subcooler-bypass")]
    parts = []
    for ambient in AMBIENTS_C:
        for load in LOADS:
            sound = plain_cases(system.plant).with_(ambient_c=ambient, on=np.arange(n) < load * n)
            rows = sound.repeated(OPENINGS)
            parts += [rows.with_stuck(valve, np.linspace(0.0, 1.0, OPENINGS)) for valve in valves]
    every = together(parts)
    return every.rows(np.linspace(0, len(every) - 1, n_cases).round().astype(int))


def shortest(work: Callable[[], object], rounds: int) -> float:
    """The shortest of several runs, by the clock on the wall. [s]"""
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def met(value: float, aim: float, *, is_least: bool = False) -> str:
    """Whether an aim is met, in words."""
    return f"aim {aim:g}: {'met' if (value >= aim if is_least else value <= aim) else 'not met'}"


def one_state() -> None:
    """Print the time of a single state of 24 units."""
    system = circuit_of(a_plant(24))
    cases = plain_cases(system.plant).with_stuck(3, 0.9)
    for closure in CLOSURES:
        began = time.process_time()
        took = shortest(lambda closure=closure: solve(system, cases, closure), 30)  # type: ignore[misc]
        worked = 1e3 * (time.process_time() - began) / 30
        print(
            f"one state, 24 units, {closure:14} {1e3 * took:7.1f} ms   ({met(took, AIM_ONE_S)})"
            f"   {worked:.1f} ms of one core's work on average"
        )


def atlases() -> None:
    """Print the time of atlases, tables and sizes made anew."""
    for n_units, aim in AIM_ATLAS_S.items():
        for closure in CLOSURES:
            solved: list[float] = []

            def work(n_units: int = n_units, closure: str = closure, solved: list[float] = solved) -> None:
                fluid._fluid.cache_clear()
                system = circuit_of(a_plant(n_units))
                states = solve(system, atlas_cases(system, CASES), closure)
                solved.append(float(states.converged.mean()))

            began = time.process_time()
            took = shortest(work, ROUNDS)
            worked = (time.process_time() - began) / ROUNDS
            print(
                f"atlas, {n_units} units, {CASES:,} cases, {closure:14} {took:7.2f} s   ({met(took, aim)})"
                f"   {worked:.2f} s of one core's work, {100 * solved[0]:.2f} % converged"
            )


def against_direct() -> None:
    """Print how much faster the batch is than CoolProp and SciPy on the same states."""
    system = circuit_of(a_plant(24))
    cases = atlas_cases(system, CASES)
    batch = shortest(lambda: solve(system, cases), 3) / CASES
    some = cases.rows(np.linspace(0, CASES - 1, DIRECT_CASES).round().astype(int))
    states = solve(system, some)
    begin = solve(system, some.with_(stuck_frac=np.nan)).unknowns  # the sound state in the same air: a good start
    worst, took = 0.0, 0.0
    for row in range(DIRECT_CASES):
        circuit = DirectCircuit(system, some.rows(slice(row, row + 1)))
        begun = time.perf_counter()
        found = circuit.solved(begin[row])
        took += time.perf_counter() - begun
        worst = max(worst, abs(found.capacity_kw / states.capacity_kw[row] - 1.0))
    direct = took / DIRECT_CASES
    faster = direct / batch
    print(
        f"CoolProp and SciPy directly, 24 units {1e3 * direct:9.0f} ms a state; in batch {1e3 * batch:.2f} ms: "
        f"{faster:,.0f} times as fast   ({met(faster, AIM_DIRECT, is_least=True)})"
    )
    print(f"largest difference in capacity of {DIRECT_CASES} states: {worst:.1e}")


def cost_points() -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Milliseconds a case against units, at 1,024 cases, and against cases, at 24 units."""
    by_units = []
    for n_units in (1, 2, 4, 8, 16, 24, 40, 64):
        system = circuit_of(a_plant(n_units))
        cases = atlas_cases(system, 1024)
        by_units.append((float(n_units), 1e3 * shortest(lambda s=system, c=cases: solve(s, c), 3) / 1024))  # type: ignore[misc]
    system = circuit_of(a_plant(24))
    by_cases = []
    for n_cases in (1, 4, 16, 64, 256, 1024, 4096):
        cases = atlas_cases(system, n_cases)
        by_cases.append((float(n_cases), 1e3 * shortest(lambda c=cases: solve(system, c), 3) / n_cases))  # type: ignore[misc]
    return by_units, by_cases


def plot(by_units: list[tuple[float, float]], by_cases: list[tuple[float, float]]) -> str:
    """Two panels, both axes in powers of ten."""
    panels = [
        _panel("indoor units, at 1,024 cases", by_units, 70.0, (1.0, 100.0)),
        _panel("cases together, at 24 units", by_cases, 420.0, (1.0, 10_000.0)),
    ]
    style = "text{font:13px sans-serif;fill:#222}line{stroke:#bbb}path{fill:none;stroke:#1b5e9c;stroke-width:2}"
    body = "".join(panels)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 720 330" role="img"><title>Cost of a simulated state'
        f"</title><style>{style}</style>{body}</svg>\n"
    )


def _panel(name: str, points: list[tuple[float, float]], left: float, across: tuple[float, float]) -> str:
    top, side, low, high = 40.0, 250.0, 0.1, 100.0

    def x(value: float) -> float:
        return left + side * float(np.log(value / across[0]) / np.log(across[1] / across[0]))

    def y(value: float) -> float:
        return top + side * (1.0 - float(np.log(value / low) / np.log(high / low)))

    marks = [f'<text x="{left:.0f}" y="{top - 16:.0f}">ms a state against {name}</text>']
    for tick in (0.1, 1.0, 10.0, 100.0):
        marks.append(f'<line x1="{left:.1f}" x2="{left + side:.1f}" y1="{y(tick):.1f}" y2="{y(tick):.1f}"/>')
        marks.append(f'<text x="{left - 8:.1f}" y="{y(tick) + 4:.1f}" text-anchor="end">{tick:g}</text>')
    tick = across[0]
    while tick <= across[1]:
        marks.append(f'<text x="{x(tick):.1f}" y="{top + side + 20:.1f}" text-anchor="middle">{tick:,.0f}</text>')
        tick *= 10.0
    line = " ".join(f"{x(a):.1f},{y(b):.1f}" for a, b in points)
    marks.append(f'<path d="M{line}"/>')
    marks += [f'<circle cx="{x(a):.1f}" cy="{y(b):.1f}" r="3.5" fill="#1b5e9c"/>' for a, b in points]
    return "".join(marks)


def main() -> None:
    """Print everything; with `plot`, draw the picture too."""
    print(f"{os.cpu_count()} cores, load before {os.getloadavg()[0]:.1f}")
    one_state()
    atlases()
    against_direct()
    by_units, by_cases = cost_points()
    print("ms a state by units: " + ", ".join(f"{units:.0f}: {cost:.2f}" for units, cost in by_units))
    print("ms a state by cases: " + ", ".join(f"{n_cases:.0f}: {cost:.2f}" for n_cases, cost in by_cases))
    if "plot" in sys.argv[1:]:
        PICTURE.write_text(plot(by_units, by_cases), "utf-8")


if __name__ == "__main__":
    main()
