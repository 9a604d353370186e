"""What a coil shows of its valve: softly, against its target, its peers and the ends of its command."""

import pytest

from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.diagnosis.running.facts_units import CoilSeen, bands, coil_facts, command_bands, target_of


def coil(**more: object) -> CoilSeen:
    usual = {"unit": "IU1", "held_k": 5.0, "u_k": 0.5, "target_k": 5.0, "command": 0.42, "least_command": 40 / 480}
    return CoilSeen(**{**usual, "saturation_c": 7.0, "liquid_pipe_c": 7.8, "gas_pipe_c": 12.8, **more})  # type: ignore[arg-type]


PEERS = [coil(unit=f"IU{i}") for i in range(2, 6)]


def named(facts: tuple[Fact, ...], question: str) -> Fact:
    return next(one for one in facts if one.code.startswith(question + "."))


@pytest.mark.parametrize(
    ("held", "command", "code"),
    [
        (0.0, 40 / 480, "coil.low-min"),
        (0.2, 1.0, "coil.low-max"),
        (16.0, 1.0, "coil.high-max"),
        (5.0, 0.42, "coil.on-like"),
        (5.0, 0.24, "coil.on-below"),
        (5.0, 0.75, "coil.on-above"),
        (12.0, 0.42, "coil.high-like"),
    ],
)
def test_what_is_held_and_what_is_commanded_make_one_fact(held: float, command: float, code: str) -> None:
    fact = named(coil_facts(coil(held_k=held, command=command), PEERS), "coil")

    assert fact.code == code
    assert sum(fact.soft.values()) == pytest.approx(1.0)


def test_a_reading_on_an_edge_belongs_to_both_sides() -> None:
    soft = named(coil_facts(coil(held_k=1.5, u_k=0.5), PEERS), "coil").soft

    low = sum(weight for code, weight in soft.items() if code.startswith("coil.low"))
    assert low == pytest.approx(0.5, abs=0.02)


def test_the_weights_of_bands_are_those_of_a_normal_distribution() -> None:
    """Source: tables of the normal distribution, 0.8413 below one standard deviation (from memory)."""
    assert bands(1.0, 2.0, [3.0], ["under", "over"]) == pytest.approx({"under": 0.8413, "over": 0.1587}, abs=1e-4)


def test_a_noisier_measurement_says_less() -> None:
    sure = named(coil_facts(coil(held_k=0.3, u_k=0.4), PEERS), "coil").soft
    noisy = named(coil_facts(coil(held_k=0.3, u_k=2.0), PEERS), "coil").soft

    assert sum(w for c, w in sure.items() if "low" in c) > sum(w for c, w in noisy.items() if "low" in c)


def test_the_target_is_the_units_own_then_its_peers_then_what_they_hold() -> None:
    assert target_of(coil(target_k=7.0), PEERS) == 7.0
    assert target_of(coil(target_k=None), PEERS) == 5.0
    assert target_of(coil(target_k=None), [coil(target_k=None, held_k=6.0) for _ in range(3)]) == 6.0


def test_pulses_without_a_full_stroke_are_held_against_peers_only() -> None:
    peers = [coil(command=None, pulses=200.0) for _ in range(3)]

    found = command_bands(coil(command=None, pulses=90.0), peers)

    assert found is not None
    assert found["min"] == found["max"] == 0.0
    assert found["below"] > 0.9


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"liquid_pipe_c": 7.5, "gas_pipe_c": 8.2}, "off-pipes.cold"),
        ({"liquid_pipe_c": 24.0, "gas_pipe_c": 24.6}, "off-pipes.warm"),
        ({"liquid_pipe_c": 7.5, "gas_pipe_c": 24.6}, "off-pipes.warm"),  # one cold pipe alone may be a sensor's
    ],
)
def test_pipes_of_a_stopped_unit_tell_whether_it_passes(more: dict[str, float], code: str) -> None:
    stopped = coil(is_on=False, off_minutes=60.0, command=0.0, return_air_c=25.0, **more)

    (fact,) = coil_facts(stopped, PEERS)

    assert fact.code == code


@pytest.mark.parametrize(
    "more",
    [
        {"off_minutes": 10.0},
        {"off_minutes": None},
        {"command": 0.1},
        {"command": None},
        {"is_cooling": False},
        {"saturation_c": None},
    ],
)
def test_no_leak_is_claimed_where_it_cannot_be_told(more: dict[str, object]) -> None:
    cold = {
        "is_on": False,
        "off_minutes": 60.0,
        "command": 0.0,
        "return_air_c": 25.0,
        "liquid_pipe_c": 7.5,
        "gas_pipe_c": 8.0,
    }

    assert coil_facts(coil(**{**cold, **more}), PEERS) == ()


def test_a_pipe_colder_than_what_evaporates_is_no_coils() -> None:
    assert named(coil_facts(coil(liquid_pipe_c=2.0), PEERS), "liquid-pipe").code == "liquid-pipe.low"
    assert named(coil_facts(coil(gas_pipe_c=2.0), PEERS), "gas-pipe").code == "gas-pipe.impossible"


def test_in_heating_pipes_and_air_say_nothing_of_a_valve() -> None:
    (fact,) = coil_facts(coil(is_cooling=False, gas_pipe_c=65.0, held_k=6.0, target_k=6.0), PEERS)

    assert fact.code.startswith("coil.")
    assert fact.values["what"] == "subcooling"


def test_a_gas_pipe_colder_than_its_inlet_and_than_what_evaporates_is_surely_a_sensors() -> None:
    both = named(coil_facts(coil(gas_pipe_c=3.0), PEERS), "gas-pipe").soft
    inlet_only = named(coil_facts(coil(gas_pipe_c=4.8, saturation_c=4.0), PEERS), "gas-pipe").soft

    assert both["gas-pipe.impossible"] > 0.99
    assert inlet_only["gas-pipe.impossible"] < 0.6


def test_peers_whose_commands_can_go_no_further_do_not_tell_the_target() -> None:
    starved = [coil(target_k=None, held_k=13.0, command=0.98) for _ in range(7)]
    flooded = [coil(target_k=None, held_k=0.0, command=40 / 480) for _ in range(7)]
    holding = [coil(target_k=None, held_k=7.0, command=0.45) for _ in range(3)]

    assert target_of(coil(target_k=None), starved) == 5.0
    assert target_of(coil(target_k=None), [*starved, *flooded, *holding]) == 7.0
