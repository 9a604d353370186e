"""What the system as a whole shows."""

import pytest

from fifthwire.diagnosis.running import facts_system
from fifthwire.diagnosis.running.facts_units import CoilSeen


def most(outcome: object) -> str:
    assert isinstance(outcome, dict)
    assert sum(outcome.values()) == pytest.approx(1.0)
    return max(outcome, key=lambda code: outcome[code])


def test_commands_are_judged_by_their_median_and_need_three_units() -> None:
    coils = [CoilSeen(unit=f"IU{i}", command=command) for i, command in enumerate([0.8, 0.85, 0.9, 0.1])]

    assert most(facts_system.commands_outcome(coils)) == "commands.wide"
    assert facts_system.commands_outcome(coils[:2]) is None


@pytest.mark.parametrize(
    ("subcooling", "code"), [(0.2, "none"), (3.6, "little"), (9.0, "normal"), (15.3, "much"), (20.0, "far")]
)
def test_subcooling_is_none_little_normal_much_or_far_too_much(subcooling: float, code: str) -> None:
    assert most(facts_system.subcooling_outcome(subcooling, 0.3)) == f"subcooling.{code}"


def test_without_a_bypass_little_subcooling_says_nothing() -> None:
    outcome = facts_system.without_subcooler(facts_system.subcooling_outcome(1.0, 0.5), 1.0)

    assert outcome is not None
    assert set(outcome.values()) == {0.2}


def test_condensing_is_judged_by_the_load() -> None:
    assert most(facts_system.condensing_outcome(46.0, 34.0, 1.0)) == "condensing.usual"
    assert most(facts_system.condensing_outcome(46.0, 34.0, 0.2)) != "condensing.usual"
    assert most(facts_system.condensing_outcome(58.0, 34.0, 1.0)) == "condensing.far"


def test_the_same_discharge_superheat_is_wet_for_one_refrigerant_and_dry_for_another() -> None:
    """Computed (steady circuit): dry suction gives 24 K with R410A and 40 K with R32, both at 50 °C condensing."""
    assert most(facts_system.discharge_outcome(32.0, 24.0, 2.0)) == "discharge.above"
    assert most(facts_system.discharge_outcome(32.0, 40.4, 2.0)) == "discharge.below"


def test_what_was_not_read_is_not_told() -> None:
    assert facts_system.subcooling_outcome(None, 1.0) is None
    assert facts_system.condensing_outcome(None, 30.0, 1.0) is None
    assert facts_system.suction_outcome(None, 1.0) is None
    assert facts_system.discharge_outcome(None, 20.0, 1.0) is None
