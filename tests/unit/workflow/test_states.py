"""The states of a head that were measured."""

from fifthwire.model.valve import Measurement, PairReading, Valve
from fifthwire.workflow.states import latest_state, readings_of, state_when, with_readings_of, with_state

READING = PairReading("5", "1", 62.0)


def a_valve(*measurements: Measurement) -> Valve:
    return Valve(id="a", unit="u", role="main", head="bolt-on", measurements=measurements)


def test_the_latest_state_is_the_last_one_at_the_heads_plug():
    at_the_board = Measurement(measured_at="board-plug", readings=(READING,))
    cleaned = Measurement(when="after-cleaning")

    assert latest_state(a_valve()) is None
    assert latest_state(a_valve(at_the_board)) is None
    assert latest_state(a_valve(cleaned, at_the_board)) == 0
    assert latest_state(a_valve(cleaned, Measurement(is_void=True))) == 0


def test_a_state_that_is_not_there_yet_comes_after_the_others():
    cleaned = Measurement(when="after-cleaning")

    assert state_when(a_valve(cleaned), "after-cleaning") == 0
    assert state_when(a_valve(cleaned), "after-replacement") == 1
    assert state_when(a_valve(cleaned), "as-found") is None
    assert with_state(a_valve(cleaned), 1, "after-replacement").measurements[1].when == "after-replacement"


def test_readings_are_put_into_the_state_they_belong_to():
    valve = a_valve(Measurement(when="after-cleaning"))

    assert readings_of(with_readings_of(valve, 0, (READING,)), 0) == (READING,)
    assert readings_of(with_readings_of(valve, 0, (READING,)), None) == ()
    assert readings_of(with_readings_of(valve, None, (READING,)), None) == (READING,)
