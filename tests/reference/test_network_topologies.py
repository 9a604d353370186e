"""What every two wires of a head read, through the network solver, against figures from outside (M1 to M16)."""

import tomllib
from itertools import combinations
from math import inf
from pathlib import Path

import numpy
import pytest
from pytest import approx

from fifthwire.physics.head_network import head_network
from fifthwire.physics.network import effective_matrix

NUMBERS = tomllib.loads(Path(__file__).with_name("topologies.toml").read_text(encoding="utf-8"))
HEADS = [name for name, head in NUMBERS.items() if isinstance(head, dict) and "reads" in head]
N_WINDINGS = {"unipolar-5": 4, "unipolar-6": 4, "bipolar-4": 2}
STAR = "CABcd"


def matrix_of(name):
    head = NUMBERS[name]
    windings = head.get("winding_ohm", [NUMBERS["winding_ohm"]] * N_WINDINGS[head["arrangement"]])
    resistors = head_network(
        head["arrangement"],
        head["wires"],
        windings,
        contact_ohm=head.get("contact_ohm"),
        bridges=[tuple(bridge) for bridge in head.get("bridges", [])],
    )
    matrix = effective_matrix(resistors, head["wires"])
    return matrix | {(b, a): ohm for (a, b), ohm in matrix.items()}


@pytest.mark.parametrize("name", HEADS)
def test_every_pair_of_the_head_reads_what_the_table_says(name):
    matrix, said = matrix_of(name), {}
    for pairs, ohm in NUMBERS[name]["reads"]:
        said.update({(pair[0], pair[1]): ohm for pair in pairs.split()})

    for pair, ohm in said.items():
        assert matrix[pair] == approx(ohm, abs=NUMBERS["tolerance_ohm"])
    said_pairs = {frozenset(pair) for pair in said}
    unsaid = [pair for pair in combinations(NUMBERS[name]["wires"], 2) if frozenset(pair) not in said_pairs]
    assert name == "m12" or not unsaid  # that row of the table names no cross pair but those of the open wire
    assert all(matrix[pair] == inf for pair in unsaid)


def contact_of_common(matrix, i, j):
    return (matrix["C", i] + matrix["C", j] - matrix[i, j]) / 2.0


def test_a_common_contact_shows_the_same_from_every_pair_of_ends_and_a_bridge_does_not():
    m14 = NUMBERS["m14"]
    ends = list(combinations("ABcd", 2))

    assert all(contact_of_common(matrix_of("m1"), *pair) == approx(0.0, abs=1e-9) for pair in ends)
    assert all(
        contact_of_common(matrix_of("m7"), *pair) == approx(m14["contact_from_common_contact"], abs=1e-9)
        for pair in ends
    )
    bridged = matrix_of("m9")
    assert contact_of_common(bridged, "A", "B") == approx(
        m14["contact_from_bridged_pair"], abs=m14["tolerance_ohm"] + 1e-9
    )
    others = [pair for pair in ends if pair != ("A", "B")]
    assert all(contact_of_common(bridged, *pair) == approx(0.0, abs=1e-9) for pair in others)


def test_a_poor_contact_and_a_high_winding_give_the_same_matrix():
    contact, winding = matrix_of("m8"), matrix_of("m8-as-a-winding")

    assert all(contact[pair] == approx(winding[pair], abs=1e-9) for pair in combinations(STAR, 2))


def test_ten_readings_of_a_star_tell_five_numbers():
    rows = []
    pairs = list(combinations(STAR, 2))
    for wire in STAR:  # what an ohm more in each wire's contact adds to each reading
        base = matrix_of("m1")
        resistors = head_network("unipolar-5", STAR, [46.0] * 4, contact_ohm={wire: 1.0})
        more = effective_matrix(resistors, STAR)
        rows.append([more[pair] - base[pair] for pair in pairs])
    for place in range(4):  # and in each winding
        windings = [47.0 if place == i else 46.0 for i in range(4)]
        more = effective_matrix(head_network("unipolar-5", STAR, windings), STAR)
        rows.append([more[pair] - matrix_of("m1")[pair] for pair in pairs])

    rank = numpy.linalg.matrix_rank(numpy.array(rows), tol=1e-6)

    assert (len(pairs), rank) == (NUMBERS["m15"]["star_readings"], NUMBERS["m15"]["star_rank"])


@pytest.mark.parametrize("factor", [0.8, 1.165, 2.0])
def test_heat_moves_every_reading_by_the_same_factor(factor):
    hot = effective_matrix(head_network("unipolar-5", STAR, [46.0 * factor] * 4), STAR)

    assert all(ohm == approx(matrix_of("m1")[pair] * factor) for pair, ohm in hot.items())


@pytest.mark.parametrize("shorted_turns", [1, 10, 100])
def test_shorted_turns_lower_a_winding_by_their_share(shorted_turns):
    n_turns = 500
    reads = effective_matrix(
        head_network("unipolar-5", STAR, [46.0 * (1 - shorted_turns / n_turns), 46.0, 46.0, 46.0]), STAR
    )

    assert reads["C", "A"] / 46.0 - 1.0 == approx(-shorted_turns / n_turns)
    assert reads["A", "B"] / 92.0 - 1.0 == approx(-shorted_turns / n_turns / 2)
