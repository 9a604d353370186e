"""Saturation of R410A: on an array beside CoolProp and beside copying the memory, and one value in plain Python.

    python -m benchmarks refrigerants
    python -m benchmarks.refrigerants 1000000     values of the array; left out: 10^7

Aims: an array 1,000 times as fast as CoolProp's `PropsSI` on an array, and within four times a copy of it; one value
within 3 microseconds. Times are the shortest of several, taken in turn, so that all see the same machine.
"""

import os
import sys
import time
from collections.abc import Callable
from typing import Final

import numpy as np
from CoolProp.CoolProp import PropsSI

from fifthwire.physics.refrigerants import refrigerant
from fifthwire.properties import refrigerant_arrays

FLUID: Final = "R410A"
ROUNDS: Final = 30
COOLPROP_VALUES: Final = 5_000
"""CoolProp is given fewer: its time a value does not depend on their number."""
SINGLE_VALUES: Final = 50_000
AIM_COOLPROP: Final = 1000.0
AIM_COPY: Final = 4.0
AIM_SINGLE_US: Final = 3.0


def seconds(work: Callable[[], object]) -> float:
    """One run, by the clock on the wall. [s]"""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def shortest(**works: Callable[[], object]) -> dict[str, float]:
    """The shortest of several runs of each, taken in turn. [s]"""
    taken: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(ROUNDS):
        for name, work in works.items():
            taken[name].append(seconds(work))
    return {name: min(times) for name, times in taken.items()}


def coolprop_ns(kpa: np.ndarray, low: float, high: float) -> float:
    """CoolProp's time a value, on an array. [ns]"""
    some = 1e3 * np.clip(kpa[:COOLPROP_VALUES], low, high)
    times = shortest(coolprop=lambda: PropsSI("T", "P", some, "Q", 1.0, FLUID))
    return 1e9 * times["coolprop"] / int(some.size)


def single_us(work: Callable[[float], float], values: list[float]) -> float:
    """One value in plain Python. [µs]"""

    def run() -> None:
        for value in values:
            work(value)

    return 1e6 * shortest(single=run)["single"] / len(values)


def met(value: float, aim: float, *, is_least: bool = False) -> str:
    """Whether an aim is met, in words."""
    return f"aim {aim:,.0f}: {'met' if (value >= aim if is_least else value <= aim) else 'not met'}"


def arrays(n_values: int) -> None:
    """Print the times on an array."""
    of, many = refrigerant(FLUID), refrigerant_arrays(FLUID)
    low, high = of.bubble_kpa_abs(-40.0), of.dew_kpa_abs(60.0)
    kpa = np.random.default_rng(1).uniform(low, high, n_values)
    superheat = np.random.default_rng(2).uniform(0.0, 30.0, n_values // 10)
    times = shortest(
        copy=kpa.copy,
        dew=lambda: many.dew_c(kpa),
        bubble=lambda: many.bubble_c(kpa),
        vapour=lambda: many.vapour_enthalpy_kj_kg(kpa[: superheat.size], superheat),
    )
    one_coolprop = coolprop_ns(kpa, low, high)
    copy = 1e9 * times["copy"] / n_values
    print(f"{FLUID}, {n_values:,} values, {os.cpu_count()} cores, load before {os.getloadavg()[0]:.1f}")
    print(f"copying the array               {copy:9.2f} ns a value")
    print(f"CoolProp PropsSI on an array    {one_coolprop:9.0f} ns a value")
    for name in ("dew", "bubble"):
        took = 1e9 * times[name] / n_values
        faster, copies = one_coolprop / took, took / copy
        print(
            f"{name + ' temperature, array':31} {took:9.2f} ns a value"
            f"   {faster:7,.0f} times as fast as PropsSI ({met(faster, AIM_COOLPROP, is_least=True)})"
            f"   {copies:4.1f} copies ({met(copies, AIM_COPY)})"
        )
    print(f"vapour enthalpy, array          {1e9 * times['vapour'] / superheat.size:9.2f} ns a value")


def singles() -> None:
    """Print the times of single values."""
    of, rng = refrigerant(FLUID), np.random.default_rng(3)
    kpa = rng.uniform(of.bubble_kpa_abs(-40.0), of.dew_kpa_abs(60.0), SINGLE_VALUES // 10).tolist()
    c = rng.uniform(-40.0, 60.0, SINGLE_VALUES // 10).tolist()
    for name, work, values in (
        ("dew temperature", of.dew_c, kpa),
        ("bubble temperature", of.bubble_c, kpa),
        ("dew pressure", of.dew_kpa_abs, c),
        ("liquid enthalpy", of.liquid_enthalpy_kj_kg, c),
    ):
        took = single_us(work, values)
        print(f"{name + ', one value':31} {took:9.2f} µs   ({met(took, AIM_SINGLE_US)})")
    print(f"{'vapour enthalpy, one value':31} {single_us(of.vapour_enthalpy_kj_kg, kpa[:2000]):9.2f} µs")


if __name__ == "__main__":
    arrays(int(sys.argv[1]) if len(sys.argv) > 1 else 10**7)
    singles()
