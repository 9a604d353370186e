"""Ways in which wires can be joined, and what wires are called."""

from collections import Counter

import pytest
from pytest import approx

from fifthwire.diagnosis.winding.arrangements import LAYOUTS, arrangement_classes
from fifthwire.diagnosis.winding.wires import UNTOUCHED, name_wires


@pytest.mark.parametrize(
    ("name", "n_wires", "n_arrangements"),
    [("unipolar-5", 5, 5 * 3), ("unipolar-6", 6, 90), ("bipolar-4", 4, 3), ("single-2", 2, 1)],
)
@pytest.mark.parametrize("n_seen", [2, 3, 4, 5, 6])
def test_all_arrangements_are_there_whatever_was_touched(name, n_wires, n_arrangements, n_seen):
    classes = arrangement_classes(name, min(n_seen, n_wires), ())

    members = [member for klass in classes for member in klass.members]
    assert len(members) == len(set(members)) == n_arrangements
    assert all(sorted(member) == list(range(n_wires)) for member in members)
    assert sum(klass.share for klass in classes) == approx(1.0)
    assert len(classes) <= n_arrangements


def test_five_wires_have_five_candidates_for_the_common():
    commons = Counter(member[0] for klass in arrangement_classes("unipolar-5", 5, ()) for member in klass.members)

    assert commons == dict.fromkeys(range(5), 3)


def test_untouched_wires_shorten_the_list():
    assert len(arrangement_classes("unipolar-6", 6, ())) == 90
    assert len(arrangement_classes("unipolar-6", 2, ())) < 25


def test_a_stated_common_is_the_only_one():
    members = [member for klass in arrangement_classes("unipolar-6", 6, (1, 4)) for member in klass.members]

    assert members
    assert all({member[place] for place in LAYOUTS["unipolar-6"].commons} == {1, 4} for member in members)


def test_missing_pins_are_named_where_their_names_are_beyond_doubt():
    assert name_wires(["1", "3"], (), 5).names == ("1", "3", "2", "4", "5")
    assert name_wires(["A", "C"], (), 4).names == ("A", "C", "B", "D")
    assert name_wires(["red", "blue"], (), 4).names == ("red", "blue", UNTOUCHED, UNTOUCHED)
    assert name_wires(["1", "2"], ("5",), 5).names == ("1", "2", "5", "3", "4")
    assert name_wires(["1", "7"], (), 5).names == ("1", "7", *[UNTOUCHED] * 3)
