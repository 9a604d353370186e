"""What is said of heads whose matrices are figures from outside (M1 to M16 of topologies.toml)."""

import tomllib
from itertools import combinations
from math import inf
from pathlib import Path

import pytest
from pytest import approx
from tests.winding_cases import judged, probability, spec, star

from fifthwire.diagnosis.winding import HeadTemperature

NUMBERS = tomllib.loads(Path(__file__).with_name("topologies.toml").read_text(encoding="utf-8"))
SPEC = spec(NUMBERS["winding_ohm"])


def finding_of(name, **changes):
    """Every pair of the head as the table says it, common not stated."""
    head, said = NUMBERS[name], {}
    for pairs, ohm in head["reads"]:
        said.update({frozenset(pair): ohm for pair in pairs.split()})
    readings = []
    for a, b in combinations(head["wires"], 2):
        ohm = said.get(frozenset((a, b)), inf)
        readings.append((a, b, "open" if ohm == inf else round(ohm, 1)))
    return judged(readings, **({"arrangement": head["arrangement"], "spec": SPEC} | changes))


@pytest.mark.parametrize(
    ("name", "common"), [("m1", {"C"}), ("m2", {"1", "2"}), ("m3", None)], ids=["five wires", "six", "four"]
)
def test_a_sound_matrix_is_sound_and_its_common_found(name, common):
    finding = finding_of(name)

    assert finding.verdict == "sound"
    assert finding.next_reading is None
    assert (set(finding.common[0].wires) if common else None) == common
    assert [row.ohm for row in finding.windings] == approx([46.0] * len(finding.windings), abs=0.2)


@pytest.mark.parametrize(
    ("name", "cause", "wires"),
    [
        ("m4", "shorted-turns", {"A"}),
        ("m5", "open-winding", {"A"}),
        ("m6", "open-common", {"C"}),
        ("m7", "bad-contact", {"C"}),
        ("m8", "bad-contact", {"A"}),
        ("m9", "bridged", {"A", "B"}),
        ("m10", "bridged", {"A", "B"}),
        ("m11", "bridged", {"A", "B"}),
        ("m12", "open-common", {"1"}),
        ("m13", "bridged", {"A", "B"}),
    ],
)
def test_a_faulty_matrix_is_faulty_and_names_its_cause_and_wires(name, cause, wires):
    finding = finding_of(name)

    assert (finding.verdict, finding.causes[0].cause) == ("faulty", cause)
    assert set(finding.causes[0].wires) == wires
    assert finding.next_reading is None


def test_a_shorted_winding_shows_its_low_value_and_the_others_theirs():
    shown = {row.wires[1]: row.ohm for row in finding_of("m4").windings}

    assert shown == {"A": approx(36.8, abs=0.2)} | {end: approx(46.0, abs=0.2) for end in "Bcd"}


def test_an_open_winding_shows_no_value():
    shown = {row.wires[1]: row.ohm for row in finding_of("m5").windings}

    assert shown["A"] is None
    assert [shown[end] for end in "Bcd"] == approx([46.0] * 3, abs=0.2)


def test_a_poor_contact_is_told_from_a_high_winding_by_what_is_common_not_by_ohms():
    finding = finding_of("m8")  # M8: the same matrix as a winding of 54 ohm; no cause makes a winding high

    assert probability(finding, "bad-contact", {"A"}) > 0.99
    assert probability(finding, "shorted-turns") < 0.01


@pytest.mark.parametrize("factor", [0.80, 1.165])
def test_a_shift_of_all_windings_is_heat_or_another_spec_never_a_fault_of_one_winding(factor):
    """M16; the head's temperature is not known here."""
    finding = judged(star([round(46.0 * factor, 1)] * 4), spec=SPEC, head=HeadTemperature())

    assert probability(finding, "sound") + probability(finding, "wrong-head") > 0.999
    assert finding.causes[0].cause == "sound"


def test_four_windings_of_47_ohm_at_20_c_pass_a_47_ohm_spec():
    """Common practice, no published source."""
    assert judged(star([47.0] * 4), spec=spec(47.0)).verdict == "sound"
