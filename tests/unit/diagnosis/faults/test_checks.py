"""What a check is worth: exact one step ahead, and never less than nothing."""

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fifthwire.diagnosis.faults.case import Case, WindingRead
from fifthwire.diagnosis.faults.checks import best_check, entropy_bits, gain_bits
from fifthwire.diagnosis.faults.likelihoods import CAUSES, OUTCOMES
from fifthwire.diagnosis.movement.fact import Fact, State
from fifthwire.model.assessment import WindingFinding


def case(causes: dict[str, float], *codes: str, head: str = "bolt-on", **more: object) -> Case:
    return Case(
        id="V1",
        role="indoor",
        kind="eev",
        head=head,
        windings=WindingRead(finding=WindingFinding(verdict="sound")),
        facts=tuple(Fact(code=code) for code in codes),
        state=State(),
        causes=dict(sorted(causes.items(), key=lambda one: -one[1])),
        **more,
    )


def test_causes_that_one_part_cures_are_one_question() -> None:
    assert entropy_bits({"head-jammed": 0.25, "head-cracked": 0.25, "sound": 0.5}) == pytest.approx(1.0)


def test_the_worth_of_a_magnet_test_is_worked_out_by_hand() -> None:
    """Body stuck 0.5 or sound 0.5; the magnet sticks with 0.97 and 0.01."""
    p_stuck = 0.5 * 0.97 + 0.5 * 0.01
    after_stuck, after_moves = 0.5 * 0.97 / p_stuck, 0.5 * 0.03 / (1 - p_stuck)

    def h(p: float) -> float:
        return -p * log2(p) - (1 - p) * log2(1 - p)

    expected = 1.0 - p_stuck * h(after_stuck) - (1 - p_stuck) * h(after_moves)

    assert gain_bits({"body-stuck-open": 0.5, "sound": 0.5}, "hand-magnet") == pytest.approx(expected, abs=1e-12)


@given(
    st.dictionaries(st.sampled_from(CAUSES), st.floats(1e-6, 1.0), min_size=1),
    st.sampled_from(sorted(OUTCOMES)),
)
def test_no_look_is_worth_less_than_nothing(weights: dict[str, float], question: str) -> None:
    line = dict(zip(CAUSES, OUTCOMES[question][0].likelihood, strict=True))
    there = {cause: weight for cause, weight in weights.items() if line[cause] is not None} or {"sound": 1.0}
    causes = {cause: weight / sum(there.values()) for cause, weight in there.items()}

    assert -1e-9 <= gain_bits(causes, question) <= entropy_bits(causes) + 1e-9


def test_the_stem_is_the_next_look_where_the_head_is_off_anyway() -> None:
    doubt = {"sound": 0.8, "head-jammed": 0.12, "head-cracked": 0.08}

    check = best_check(case(doubt, service_state_holds=True), movement_only=True)

    assert check is not None and check.check == "stem-in-service-state" and check.is_system_stopped


def test_a_look_taken_already_is_not_proposed_again() -> None:
    doubt = {"sound": 0.8, "head-jammed": 0.2}

    check = best_check(case(doubt, "stem.back", "felt.motor.steps", service_state_holds=True), movement_only=True)

    assert check is None or check.check not in ("stem-in-service-state", "feel-under-command")


def test_a_look_that_proved_nothing_may_be_proposed_again() -> None:
    doubt = {"sound": 0.3, "board-output": 0.7}

    check = best_check(case(doubt, "board.at-rest"), among=("pulses-at-board",))

    assert check is not None


def test_an_old_coil_that_never_came_off_makes_looking_underneath_dear() -> None:
    doubt = {"sound": 0.7, "head-unseated": 0.3}
    young = best_check(case(doubt, "seated.yes", head="clip-on"), among=("look-underneath",))
    old = best_check(case(doubt, "seated.yes", head="clip-on", is_old=True), among=("look-underneath",))

    assert young is not None and young.risk == ""
    assert old is not None and old.risk == "twists-pipe"


def test_nothing_is_proposed_where_nothing_is_open() -> None:
    assert best_check(case({"sound": 1.0})) is None
