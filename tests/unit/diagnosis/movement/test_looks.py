"""Inspection, insulation, movement, board, harness and work as facts."""

from dataclasses import replace

import pytest

from fifthwire.diagnosis.movement.board import board_facts
from fifthwire.diagnosis.movement.fact import Found, State
from fifthwire.diagnosis.movement.harness import harness_fact
from fifthwire.diagnosis.movement.inspected import inspection_facts, insulation_facts
from fifthwire.diagnosis.movement.moved import moved_facts
from fifthwire.diagnosis.movement.work import state_of, work_facts
from fifthwire.model.followup import Proof, Work
from fifthwire.model.valve import Board, Inspection, Insulation, Measurement, Movement, PairReading, Valve

COIL = Valve(id="V1", unit="OU1", role="main", head="clip-on")
MOTOR = Valve(id="V1", unit="OU1", role="main", head="bolt-on")
SOLENOID = Valve(id="V1", unit="OU1", role="hot-gas-bypass", kind="solenoid")


def weighing(found: Found) -> set[str]:
    return {fact.code for fact in found.facts if fact.weighs}


def warned(found: Found) -> list[str]:
    return [one.code for one in found.warnings]


def test_cracks_are_a_motors_and_the_seat_is_a_coils() -> None:
    seen = Inspection(cracks=True, seated=False)

    assert weighing(inspection_facts(MOTOR, seen, State())) == {"cracks.yes"}
    assert warned(inspection_facts(MOTOR, seen, State())) == ["other-kind.seated"]
    assert weighing(inspection_facts(COIL, seen, State())) == {"seated.no"}
    assert warned(inspection_facts(COIL, seen, State())) == ["other-kind.cracks"]


def test_no_cracks_on_a_coil_is_no_contradiction() -> None:
    assert inspection_facts(COIL, Inspection(cracks=False), State()) == Found()


def test_rust_that_was_cleaned_off_and_a_seat_put_right_do_not_weigh_any_more() -> None:
    seen = Inspection(rust="heavy", seated=False, connector="wet")

    assert weighing(inspection_facts(COIL, seen, State(is_cleaned=True, is_reseated=True))) == set()


@pytest.mark.parametrize(
    ("mohm", "at_least", "test", "cleaned", "code"),
    [
        (120.0, False, "500 V", False, "insulation.good"),
        (100.0, True, "500 V", False, "insulation.good"),
        (120.0, False, "meter", False, "insulation.meter-only"),
        (120.0, False, None, False, "insulation.untold"),
        (0.5, True, "meter", False, "insulation.at-least"),
        (1.0, False, "500 V", False, "insulation.good"),
        (0.99, False, "500 V", False, "insulation.suspect"),
        (0.05, False, "500 V", False, "insulation.suspect"),
        (0.05, False, "meter", True, "insulation.fault"),
        (0.1, False, "500 V", True, "insulation.suspect"),
    ],
)
def test_insulation_by_its_limits(mohm: float, at_least: bool, test: str | None, cleaned: bool, code: str) -> None:
    valve = replace(COIL, insulation=Insulation(mohm, at_least), insulation_test=test)

    assert insulation_facts(valve, State(is_cleaned=cleaned)).facts[0].code == code


def test_insulation_says_with_which_voltage() -> None:
    valve = replace(COIL, insulation=Insulation(0.5), insulation_test="500 V")

    assert insulation_facts(valve, State()).facts[0].values["test"] == "500 V"


def test_a_hum_is_a_coils_and_a_step_is_a_motors() -> None:
    felt = Movement(felt="steps")

    assert weighing(moved_facts(COIL, felt, State())) == {"felt.coil.steps"}
    assert weighing(moved_facts(MOTOR, felt, State())) == {"felt.motor.steps"}
    assert warned(moved_facts(SOLENOID, felt, State())) == ["other-kind.felt"]


def test_what_is_felt_at_a_board_at_rest_proves_nothing() -> None:
    valve = replace(MOTOR, board=Board(when="at-rest"))

    assert [one.code for one in moved_facts(valve, Movement(felt="nothing"), State()).facts] == ["felt.at-rest"]


def test_the_opening_magnet_is_not_a_motors() -> None:
    assert warned(moved_facts(MOTOR, Movement(hand_magnet="stuck"), State())) == ["other-kind.hand_magnet"]


def test_its_own_head_says_more_after_a_good_one_has_moved_the_valve() -> None:
    after = moved_facts(COIL, Movement(known_good_head="moves", old_head_again="stuck"), State())
    alone = moved_facts(COIL, Movement(old_head_again="stuck"), State())

    assert weighing(after) == {"good-head.moves", "own-head-after-good.stuck"}
    assert weighing(alone) == {"own-head.stuck"}


def test_a_head_that_moves_since_it_was_cleaned_was_stuck_before() -> None:
    seen = Movement(known_good_head="moves", old_head_again="stuck", after_cleaning="moves")

    assert weighing(moved_facts(COIL, seen, State(is_cleaned=True))) == {"good-head.moves", "after-cleaning.moves"}


def test_what_was_seen_of_a_head_does_not_weigh_on_the_new_one() -> None:
    seen = Movement(felt="nothing", known_good_head="moves", old_head_again="stuck", plug_swap="fault-moves")

    assert weighing(moved_facts(MOTOR, seen, State(has_new_head=True))) == {"good-head.moves"}


@pytest.mark.parametrize(
    ("pulses", "code"),
    [
        (True, "board.all-swing"),
        (False, "board.none-swing"),
        ({"1": True, "2": True, "3": True, "4": True}, "board.all-swing"),
        ({"1": True, "2": True, "3": True, "4": True, "5": False}, "board.all-swing"),
        ({"1": True, "2": False, "3": True, "4": True}, "board.some-missing"),
        ({"1": False, "2": False, "3": False, "4": False}, "board.none-swing"),
        ({"1": True, "2": True}, "board.listed-swing"),
    ],
)
def test_pulses_of_a_commanded_board(pulses: object, code: str) -> None:
    found = board_facts(COIL, Board(when="commanded", pulses=pulses), common=("5",), spec_supply_volt=None)  # type: ignore[arg-type]

    assert [one.code for one in found.facts] == [code]


def test_a_board_at_rest_drives_nothing() -> None:
    still = board_facts(COIL, Board(when="at-rest", pulses=False, supply_volt=0.0), common=(), spec_supply_volt=12.0)
    swings = board_facts(COIL, Board(when="at-rest", pulses=True), common=(), spec_supply_volt=None)

    assert [one.code for one in still.facts] == ["board.at-rest"] and not still.warnings
    assert warned(swings) == ["board.pulses-at-rest"]


def test_missing_pulses_prove_nothing_where_it_is_not_written_that_the_board_was_commanded() -> None:
    found = board_facts(COIL, Board(pulses=False), common=(), spec_supply_volt=None)

    assert [one.code for one in found.facts] == ["board.unknown-when"]


@pytest.mark.parametrize(("volt", "spec", "code"), [(12.1, 12.0, "good"), (9.0, 12.0, "low"), (12.1, None, "unknown")])
def test_the_supply_against_the_spec(volt: float, spec: float | None, code: str) -> None:
    found = board_facts(COIL, Board(when="commanded", supply_volt=volt), common=(), spec_supply_volt=spec)

    assert [one.code for one in found.facts] == [f"supply.{code}"]


def pairs(*ohms: float | None) -> list[PairReading]:
    return [PairReading("5", str(i + 1), ohm) for i, ohm in enumerate(ohms)]


def test_the_same_ohms_at_both_ends_clear_the_harness() -> None:
    fact = harness_fact(pairs(62.0, 62.1, None), pairs(62.6, 62.4, None))

    assert fact is not None and fact.code == "harness.same"


@pytest.mark.parametrize("through", [(62.6, None), (62.6, 75.0)])
def test_what_reads_at_the_head_and_not_through_the_harness_lies_between(through: tuple[float | None, ...]) -> None:
    fact = harness_fact(pairs(62.0, 62.1), pairs(*through))

    assert fact is not None and fact.code == "harness.differs" and fact.values == {"pair": "5 to 2"}


def test_what_reads_only_through_the_harness_was_missed_at_the_head() -> None:
    fact = harness_fact(pairs(62.0, None), pairs(62.3, 62.2))

    assert fact is not None and fact.code == "harness.head-end-doubtful"


def test_no_pair_read_at_both_ends_says_nothing() -> None:
    assert harness_fact(pairs(62.0), [PairReading("1", "2", 124.0)]) is None


def test_work_and_proofs_are_told_and_a_later_proof_stands_for_the_earlier() -> None:
    proofs = [Proof(valve="V1", kind="shut-off", result="failed"), Proof(valve="V1", kind="shut-off", result="passed")]
    found = work_facts(COIL, [Work(valve="V1", done="cleaned")], proofs)

    assert [one.code for one in found.facts] == ["work.cleaned", "proof.shut-off.passed"]


def test_a_coil_has_no_stem_to_see_travel() -> None:
    found = work_facts(COIL, [], [Proof(valve="V1", kind="stem-travel", result="passed")])

    assert not found.facts and warned(found) == ["other-kind.stem-travel"]


def test_a_measurement_after_replacement_says_that_the_head_is_new() -> None:
    assert state_of(COIL, [], [Measurement(when="after-replacement")]).has_new_head
    body = state_of(COIL, [Work(valve="V1", done="replaced-body")], [Measurement(when="after-replacement")])
    assert body.has_new_body and not body.has_new_head
