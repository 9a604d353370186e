"""The stem proves something only with all valves open for service, and only on a motor."""

import pytest

from fifthwire.diagnosis.movement.service_state import ServiceState, service_state_of
from fifthwire.diagnosis.movement.stem import stem_facts
from fifthwire.model.valve import Movement, Valve
from fifthwire.model.visit import System

MOTOR = Valve(id="V1", unit="OU1", role="main", head="bolt-on")
COIL = Valve(id="V1", unit="OU1", role="main", head="clip-on")
HOLDS = ServiceState(holds=True, minutes=10.0)


def code(movement: Movement, service: ServiceState = HOLDS, valve: Valve = MOTOR) -> str:
    return stem_facts(valve, movement, service).facts[0].code


@pytest.mark.parametrize(
    ("stem_mm", "seen"), [(0.0, "back"), (0.5, "back"), (1.0, "back"), (1.6, "between"), (2.5, "out"), (9.0, "out")]
)
def test_within_about_a_millimetre_is_back(stem_mm: float, seen: str) -> None:
    assert code(Movement(stem_mm=stem_mm)) == f"stem.{seen}"


@pytest.mark.parametrize(("stem", "seen"), [("retracted", "back"), ("part-way", "out"), ("extended", "out")])
def test_a_word_alone_is_enough(stem: str, seen: str) -> None:
    assert code(Movement(stem=stem)) == f"stem.{seen}"


def test_a_word_and_a_figure_that_contradict_are_not_used() -> None:
    found = stem_facts(MOTOR, Movement(stem="retracted", stem_mm=7.0), HOLDS)

    assert (found.facts[0].code, found.warnings[0].code) == ("stem.contradiction", "stem.two-states")


def test_outside_the_service_state_it_proves_nothing() -> None:
    assert code(Movement(stem="extended"), ServiceState(holds=False)) == "stem.outside-service-state"


def test_a_coil_has_no_stem() -> None:
    found = stem_facts(COIL, Movement(stem="extended"), HOLDS)

    assert not found.facts and found.warnings[0].code == "other-kind.stem"


def test_minutes_not_written_are_taken_as_long_enough_and_said() -> None:
    state = service_state_of(System(service_state=True))

    assert state.holds and state.warnings[0].code == "service-state.minutes-missing"


@pytest.mark.parametrize(("minutes", "holds"), [(1.0, False), (2.9, False), (3.0, True), (10.0, True)])
def test_too_few_minutes_make_the_stems_prove_nothing(minutes: float, holds: bool) -> None:
    state = service_state_of(System(service_state=True, service_state_minutes=minutes))

    assert state.holds is holds and bool(state.warnings) is not holds


def test_a_service_state_that_is_not_written_is_none() -> None:
    assert not service_state_of(System()).holds and not service_state_of(System(service_state=False)).holds
