"""What leaves a bypass, and what was held at two commands."""

import pytest

from fifthwire.diagnosis.running.facts_units import CoilSeen
from fifthwire.diagnosis.running.facts_valves import BypassSeen, bypass_fact, two_commands_fact


@pytest.mark.parametrize(
    ("command", "superheat", "code"),
    [
        (0.08, 0.0, "bypass.wet-low"),
        (0.35, 5.0, "bypass.on-mid"),
        (1.0, 27.0, "bypass.hot-wide"),
        (0.0, 20.0, "bypass-shut.dry"),
        (0.0, -0.3, "bypass-shut.wet"),
    ],
)
def test_the_vapour_leaving_a_bypass_is_held_against_its_command(command: float, superheat: float, code: str) -> None:
    fact = bypass_fact(BypassSeen(valve="B", command=command, outlet_superheat_k=superheat))

    assert fact is not None
    assert fact.code == code
    assert sum(fact.soft.values()) == pytest.approx(1.0)


def test_without_an_outlet_temperature_nothing_is_said() -> None:
    assert bypass_fact(BypassSeen(valve="B", command=0.4, outlet_superheat_k=None)) is None


def test_a_bypass_whose_command_is_not_known_is_judged_by_its_outlet_alone() -> None:
    fact = bypass_fact(BypassSeen(valve="B", command=None, outlet_superheat_k=0.0))

    assert fact is not None
    assert fact.soft["bypass.wet-low"] == pytest.approx(fact.soft["bypass.wet-wide"])


def moment(command: float, held: float = 5.0) -> tuple[CoilSeen, list[CoilSeen]]:
    return CoilSeen(unit="IU1", held_k=held, u_k=0.5, target_k=5.0, command=command), []


def test_a_target_held_at_two_clearly_different_commands_is_movement() -> None:
    fact = two_commands_fact([moment(0.27), moment(0.41)])

    assert fact is not None
    assert fact.code == "held.at-two-commands"


@pytest.mark.parametrize(
    "moments", [[moment(0.38), moment(0.41)], [moment(0.27, held=14.0), moment(0.41)], [moment(0.41)]]
)
def test_neither_commands_near_each_other_nor_a_target_missed_is(
    moments: list[tuple[CoilSeen, list[CoilSeen]]],
) -> None:
    assert two_commands_fact(moments) is None
