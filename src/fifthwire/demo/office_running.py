"""How an invented system ran before it was switched off: one steady moment, made from its true faults."""

from collections.abc import Mapping
from random import Random
from typing import Final

from fifthwire.demo.office_places import SPECS, InventedSystem, InventedValve, valves_of
from fifthwire.demo.office_signs import Signs
from fifthwire.model.running import (
    CompressorReadings,
    Curve,
    Opening,
    OutdoorReadings,
    SensorCheck,
    Snapshot,
    UnitReadings,
)
from fifthwire.physics.refrigerants import refrigerant

BOILS_C, CONDENSES_C, AMBIENT_C, ROOM_C = 6.2, 42.5, 31.0, 24.3
TARGET_K: Final = 5.0
INLET_OVER_K: Final = 0.9
"""A coil's inlet over the suction's dew point, by the drop of pressure between.  [K]"""
NOISE_K: Final = 0.15
CURVE: Final = "pipe-sensor"
CURVES: Final = {CURVE: Curve(r25_ohm=10_000.0, beta_k=3950.0)}
"""An invented sensor."""
TRUE_C: Final = 23.4


def snapshot(rng: Random, system: InventedSystem, signs: Mapping[str, Signs]) -> Snapshot:
    """One steady moment in cooling.

    Parameters
    ----------
    rng : random.Random
        Where all chance comes from.
    system : InventedSystem
        What runs.
    signs : mapping
        What is wrong, by the label of the valve.
    """
    valves = valves_of(system)
    names = dict.fromkeys(valve.unit for valve in valves if valve.unit_kind == "outdoor")
    return Snapshot(
        mode="cooling",
        minutes_running=70.0,
        state="normal",
        ambient_c=AMBIENT_C,
        outdoor={name: _outdoor(rng, system) for name in names},
        units={valve.unit: _unit(rng, valve, signs) for valve in valves if valve.unit_kind == "indoor"},
    )


def _outdoor(rng: Random, system: InventedSystem) -> OutdoorReadings:
    of = refrigerant(system.refrigerant)
    discharge = of.dew_kpa_abs(CONDENSES_C)
    compressor = CompressorReadings(
        discharge_temperature_c=round(CONDENSES_C + 29.5 + rng.gauss(0.0, 0.5), 1),
        shell_temperature_c=round(CONDENSES_C + 24.0 + rng.gauss(0.0, 0.5), 1),
        shell="high-side",
        speed_hz=58.0,
    )
    return OutdoorReadings(
        suction_kpa_abs=round(of.dew_kpa_abs(BOILS_C)),
        discharge_kpa_abs=round(discharge),
        suction_temperature_c=round(BOILS_C + 5.2, 1),
        liquid_temperature_c=round(of.bubble_c(discharge) - 9.4, 1),
        compressors={"C1": compressor},
    )


def _unit(rng: Random, valve: InventedValve, signs: Mapping[str, Signs]) -> UnitReadings:
    def noisy(value: float) -> float:
        return round(value + rng.gauss(0.0, NOISE_K), 1)

    stroke = SPECS[valve.spec].full_stroke_pulses or 500.0
    sign = signs.get(valve.label, Signs())
    held_k = sign.held_superheat_k
    is_starved = held_k is not None and held_k > TARGET_K
    opening = 0.43 * stroke if held_k is None else stroke if is_starved else 0.08 * stroke
    cooled_k = 10.6 if held_k is None else 2.2 if is_starved else 12.4
    inlet_c, room_c = BOILS_C + INLET_OVER_K + sign.sensor_off_k, noisy(ROOM_C)
    shown_k = TARGET_K + rng.gauss(0.0, 0.3) if held_k is None else held_k
    return UnitReadings(
        on=True,
        valve=valve.label,
        opening=Opening(pulses=round(opening)),
        liquid_pipe_c=noisy(inlet_c),
        gas_pipe_c=noisy(inlet_c + shown_k),
        return_air_c=room_c,
        supply_air_c=noisy(room_c - cooled_k),
        target_superheat_k=TARGET_K,
    )


def sensor_checks(valve: InventedValve, off_k: float, meter: str) -> tuple[SensorCheck, ...]:
    """The unit's two pipe sensors measured with the meter, a thermometer beside each."""
    return tuple(
        SensorCheck(
            id=f"{valve.unit}-{name}",
            unit=valve.unit,
            curve=CURVE,
            reading_ohm=round(_ohm(TRUE_C + off), -1),
            meter=meter,
            true_temperature_c=TRUE_C,
            true_within_k=0.5,
        )
        for name, off in (("gas", 0.0), ("liquid", off_k))
    )


def _ohm(celsius: float) -> float:
    from math import exp

    return 10_000.0 * exp(3950.0 * (1.0 / (celsius + 273.15) - 1.0 / 298.15))
