from math import inf, nan

import pytest
from pytest import approx

from fifthwire.model.errors import InputError
from fifthwire.physics.network import Resistor, effective_matrix, effective_ohm


def test_resistors_in_a_row_add():
    assert effective_ohm([Resistor("a", "b", 1.5), Resistor("b", "c", 2.5)], "a", "c") == approx(4.0)


def test_resistors_side_by_side_share_the_current():
    assert effective_ohm([Resistor("a", "b", 3.0), Resistor("b", "a", 6.0)], "a", "b") == approx(2.0)


def test_a_balanced_bridge_carries_no_current_across():
    arms = [Resistor("a", "x", 1.0), Resistor("x", "b", 2.0), Resistor("a", "y", 10.0), Resistor("y", "b", 20.0)]

    assert effective_ohm([*arms, Resistor("x", "y", 7.0)], "a", "b") == approx(effective_ohm(arms, "a", "b"))


def test_zero_ohms_join_two_nodes():
    resistors = [Resistor("a", "b", 0.0), Resistor("b", "c", 5.0), Resistor("c", "d", 0.0)]

    assert effective_ohm(resistors, "a", "b") == 0.0
    assert effective_ohm(resistors, "a", "d") == approx(5.0)


def test_a_ring_of_zero_ohms_is_one_node():
    ring = [Resistor("a", "b", 0.0), Resistor("b", "c", 0.0), Resistor("c", "a", 0.0), Resistor("c", "a", 3.0)]

    assert effective_matrix(ring, "abc") == {("a", "b"): 0.0, ("a", "c"): 0.0, ("b", "c"): 0.0}


def test_an_infinite_resistor_is_not_there():
    assert effective_ohm([Resistor("a", "b", inf)], "a", "b") == inf


def test_a_wire_without_a_resistor_is_open_to_all():
    assert effective_matrix([Resistor("a", "b", 1.0)], "abz")["a", "z"] == inf


def test_two_networks_that_nothing_joins_are_open_to_one_another():
    apart = effective_matrix([Resistor("a", "b", 1.0), Resistor("c", "d", 2.0)], "abcd")

    assert apart["a", "b"] == approx(1.0)
    assert apart["c", "d"] == approx(2.0)
    assert apart["a", "c"] == apart["b", "d"] == inf


def test_networks_joined_late_are_one():
    chain = [Resistor("a", "b", 1.0), Resistor("c", "d", 1.0), Resistor("d", "e", 1.0), Resistor("b", "c", 1.0)]

    assert effective_ohm(chain, "a", "e") == approx(4.0)


def test_a_probe_on_its_own_wire_reads_nothing():
    assert effective_ohm([Resistor("a", "b", 1.0)], "a", "a") == 0.0


def test_a_resistor_from_a_node_to_itself_changes_nothing():
    assert effective_ohm([Resistor("a", "b", 4.0), Resistor("a", "a", 1.0)], "a", "b") == approx(4.0)


@pytest.mark.parametrize("ohm", [-1.0, nan])
def test_a_negative_resistor_is_refused(ohm):
    with pytest.raises(InputError, match="between a and b is no resistance"):
        Resistor("a", "b", ohm)
