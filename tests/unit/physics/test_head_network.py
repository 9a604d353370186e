from math import inf

import pytest
from pytest import approx

from fifthwire.model.errors import InputError
from fifthwire.physics.head_network import WINDING_ENDS, head_network, inside
from fifthwire.physics.network import effective_matrix, effective_ohm


def test_a_solenoids_coil_is_one_winding_between_two_wires():
    coil = head_network("single-2", "ab", [130.0], contact_ohm={"a": 1.0, "b": 2.0})

    assert effective_ohm(coil, "a", "b") == approx(133.0)


def test_a_bridge_lies_behind_the_contacts():
    head = head_network("bipolar-4", "AaBb", [46.0, 46.0], contact_ohm={"A": 3.0, "B": 4.0}, bridges=[("A", "B", 10.0)])

    assert effective_ohm(head, "A", "B") == approx(17.0)


def test_each_winding_is_its_own():
    reads = effective_matrix(head_network("unipolar-6", "1Ac2Bd", [10.0, 20.0, 30.0, 40.0]), "1Ac2Bd")

    assert [reads[pair] for pair in (("1", "A"), ("1", "c"), ("2", "B"), ("2", "d"))] == approx([10, 20, 30, 40])
    assert reads["A", "c"] == approx(30.0)
    assert reads["B", "d"] == approx(70.0)


def test_an_open_wire_leaves_the_rest():
    reads = effective_matrix(head_network("bipolar-4", "AaBb", [46.0, 46.0], contact_ohm={"a": inf}), "AaBb")

    assert reads["A", "a"] == inf
    assert reads["B", "b"] == approx(46.0)


def test_every_arrangement_uses_every_wire():
    for ends in WINDING_ENDS.values():
        places = {place for pair in ends for place in pair}
        assert places == set(range(len(places)))


@pytest.mark.parametrize(("wires", "windings"), [("CABc", [1.0] * 4), ("CABcd", [1.0] * 3)])
def test_wires_and_windings_that_do_not_fit_are_refused(wires, windings):
    with pytest.raises(InputError, match="unipolar-5 has 5 wires and 4 windings"):
        head_network("unipolar-5", wires, windings)


def test_the_node_behind_a_wire_is_not_the_wire():
    assert inside("1") != "1"
