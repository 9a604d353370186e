from copy import deepcopy
from dataclasses import FrozenInstanceError, fields, replace
from pickle import dumps, loads

import pytest

from fifthwire.model.fields import describe
from fifthwire.model.valve import PairReading, Valve


def a_valve(**more: object) -> Valve:
    return Valve(id="OU1-main", unit="OU1", role="main", **more)  # type: ignore[arg-type]


def test_a_record_takes_its_defaults_and_compares_by_value():
    valve = a_valve()

    assert (valve.kind, valve.head, valve.readings, valve.extra) == ("eev", None, (), {})
    assert valve == a_valve()
    assert valve != a_valve(head="clip-on")


def test_two_records_do_not_share_a_default_table():
    assert a_valve().extra is not a_valve().extra


def test_a_record_cannot_be_changed():
    with pytest.raises(FrozenInstanceError, match="head is frozen"):
        a_valve().head = "clip-on"  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError, match="head is frozen"):
        del a_valve().head


def test_replace_copy_and_pickle_keep_a_record_whole():
    valve = a_valve(readings=(PairReading("1", "5", 62.0),))

    assert replace(valve, number=2).number == 2
    assert deepcopy(valve) == loads(dumps(valve)) == valve


def test_a_record_refuses_what_it_does_not_know_and_asks_for_what_it_needs():
    with pytest.raises(TypeError, match="unknown \\['colour'\\]"):
        a_valve(colour="red")
    with pytest.raises(TypeError, match="missing \\['id'\\]"):
        Valve(unit="OU1", role="main")  # type: ignore[call-arg]


def test_small_values_may_be_given_in_order_and_hashed():
    assert {PairReading("1", "5", None), PairReading("1", "5", None)} == {PairReading(wire_a="1", wire_b="5", ohm=None)}
    with pytest.raises(TypeError, match="too many values"):
        PairReading("1", "5", 62.0, 3.0)  # type: ignore[call-arg]


def test_every_note_names_an_attribute_of_its_record():
    names = {of.name for of in fields(Valve)}

    assert {note.name for note in describe(Valve)} <= names
