from collections import Counter
from math import inf, sqrt
from random import Random

import pytest
from pytest import approx

from fifthwire.demo.heads import World, draw_head
from fifthwire.diagnosis.winding.case import WindingLaws
from fifthwire.physics.copper import resistance_factor

LAWS = WindingLaws(
    fault_shares={
        "open-winding": 0.2,
        "open-common": 0.1,
        "shorted-turns": 0.2,
        "bad-contact": 0.2,
        "bridged": 0.1,
        "wrong-head": 0.1,
        "bad-reading": 0.1,
    }
)
SOUND = World(sound=1.0)
FAULTY = World(sound=0.0)


def heads(n, world, seed=1):
    rng = Random(seed)
    return [draw_head(rng, LAWS, world) for _ in range(n)]


def mean_and_sd(values):
    mean = sum(values) / len(values)
    return mean, sqrt(sum((v - mean) ** 2 for v in values) / (len(values) - 1))


def read_of(head, a, b):
    return [r.ohm for r in head.case.readings if {r.wire_a, r.wire_b} == {a, b}]


def test_the_same_seed_gives_the_same_head():
    assert draw_head(Random(7), LAWS) == draw_head(Random(7), LAWS)
    assert draw_head(Random(7), LAWS) != draw_head(Random(8), LAWS)


def test_causes_come_as_often_as_their_shares():
    drawn = heads(3000, World(arrangements=(("unipolar-5", 1.0),)))
    counts = Counter(head.cause for head in drawn)

    assert counts["sound"] / 3000 == approx(0.70, abs=0.03)
    for cause, share in LAWS.fault_shares.items():
        assert counts[cause] / 3000 == approx(0.3 * share, abs=4 * sqrt(0.3 * share / 3000))


def test_four_wires_have_no_common_to_be_open():
    causes = Counter(head.cause for head in heads(500, World(sound=0.0, arrangements=(("bipolar-4", 1.0),))))

    assert "open-common" not in causes
    assert causes["open-winding"] / 500 == approx(0.2 / 0.9, abs=0.07)


@pytest.mark.parametrize(
    ("arrangement", "n_pairs", "n_windings"), [("unipolar-5", 10, 4), ("unipolar-6", 15, 4), ("bipolar-4", 6, 2)]
)
def test_each_set_reads_its_pairs(arrangement, n_pairs, n_windings):
    for head in heads(60, World(arrangements=((arrangement, 1.0),))):
        pairs = {frozenset((r.wire_a, r.wire_b)) for r in head.case.readings}
        if head.set_of_readings == "full":
            assert len(pairs) == len(head.case.readings) == n_pairs
        elif head.set_of_readings == "common-to-each":
            assert pairs == {frozenset(ends) for ends in head.ends}
            assert len(head.case.readings) == n_windings
        else:
            assert 1 <= len(pairs) < n_pairs


def test_a_sound_head_reads_its_windings_within_what_its_meter_allows():
    for head in heads(200, SOUND):
        law = head.case.meter.ranges[0]
        for ends, ohm in zip(head.ends, head.winding_ohm, strict=True):
            for shown in read_of(head, *ends):
                above = shown - ohm * (1 - law.of_reading_frac) - head.case.meter.leads_ohm * (1 - law.of_reading_frac)
                below = shown - (ohm + head.case.meter.leads_ohm) * (1 + law.of_reading_frac)
                slack = (law.digits + 0.5) * law.resolution_ohm + 0.06
                assert above > -slack
                assert below < slack + 5 * LAWS.touch_ohm


def test_windings_scatter_as_the_laws_say():
    drawn = heads(1500, World(sound=1.0, arrangements=(("unipolar-6", 1.0),)))
    within = [head.winding_ohm[0] / head.winding_ohm[1] - 1 for head in drawn]
    between = [sum(head.winding_ohm[:2]) / sum(head.winding_ohm[2:]) - 1 for head in drawn]

    assert mean_and_sd(within)[1] == approx(sqrt(2) * 0.004, rel=0.08)
    assert mean_and_sd(between)[1] == approx(sqrt(2 * 0.007**2 + 0.004**2), rel=0.08)


def test_five_wires_pair_their_bobbins_three_ways():
    drawn = heads(1500, World(sound=1.0, arrangements=(("unipolar-5", 1.0),)))
    ratio = [head.winding_ohm[0] / head.winding_ohm[1] - 1 for head in drawn]

    assert mean_and_sd(ratio)[1] == approx(sqrt(2 * 0.004**2 + 2 / 3 * 2 * 0.007**2), rel=0.08)


def test_the_batch_stays_within_the_tolerance():
    for head in heads(300, World(sound=1.0, unstated_temperature=0.0)):
        spec, stated = head.case.spec, head.case.head
        expected = spec.resistance_ohm * resistance_factor(spec.at_c, stated.centre_c)
        doubt = 5 * (0.0043 * stated.sd_k + 0.008)
        assert abs(head.winding_ohm[0] / expected - 1) < spec.tolerance_frac + doubt


def test_an_open_winding_shows_from_every_wire():
    for head in heads(600, FAULTY):
        if head.cause == "open-winding" and head.set_of_readings == "full":
            end = head.wires[-1]
            assert all(r.is_open for r in head.case.readings if end in (r.wire_a, r.wire_b))
            assert inf in head.winding_ohm


def test_an_open_common_leaves_the_ends_joined():
    found = [h for h in heads(900, FAULTY) if h.cause == "open-common" and h.arrangement == "unipolar-5"]

    assert found
    for head in found:
        for reading in head.case.readings:
            assert reading.is_open == (head.wires[0] in (reading.wire_a, reading.wire_b))


def test_a_poor_contact_adds_to_every_reading_through_its_wire():
    found = [h for h in heads(600, FAULTY) if h.cause == "bad-contact" and h.set_of_readings == "common-to-each"]

    assert found
    for head in found:
        for ends, ohm in zip(head.ends, head.winding_ohm, strict=True):
            added = read_of(head, *ends)[0] - ohm - head.case.meter.leads_ohm
            assert added == approx(head.size if head.wires[0] in ends else 0.0, abs=0.013 * (ohm + head.size) + 1.0)


def test_a_bridge_joins_two_windings_and_only_sizes_of_its_law_are_drawn():
    found = [h for h in heads(900, FAULTY) if h.cause == "bridged"]

    assert {len(h.wires) for h in found} == {2}
    assert any(h.size > 200.0 for h in found)
    assert all(0.5 <= h.size <= 20e3 for h in found)
    for head in found:
        if head.set_of_readings == "full":
            assert read_of(head, *head.wires)[0] < head.size * 1.02 + 3.0


def test_a_wrong_head_is_balanced_at_another_value():
    found = [h for h in heads(1200, FAULTY) if h.cause == "wrong-head"]

    assert any(not (0.40 <= h.size <= 0.75 or 1.35 <= h.size <= 2.50) for h in found)
    for head in found:
        assert max(head.winding_ohm) / min(head.winding_ohm) < 1.06


def test_one_reading_of_a_bad_reading_is_false():
    found = [h for h in heads(900, FAULTY) if h.cause == "bad-reading" and h.wires]

    opens = [h for h in found if h.size is None]
    assert len(opens) / len(found) == approx(0.4, abs=0.15)
    assert all(None in read_of(h, *h.wires) for h in opens)


def test_a_world_may_scatter_more_than_the_priors_say():
    twice = heads(800, World(sound=1.0, scatter_factor=2.0, arrangements=(("unipolar-6", 1.0),)))

    assert mean_and_sd([h.winding_ohm[0] / h.winding_ohm[1] for h in twice])[1] == approx(2 * sqrt(2) * 0.004, rel=0.1)


def test_a_world_may_have_its_temperature_wrong():
    right, wrong = (
        [draw_head(Random(seed), LAWS, World(temperature_off_k=off, unstated_temperature=0.0)) for seed in range(20)]
        for off in (0.0, 20.0)
    )

    for a, b in zip(right, wrong, strict=True):
        assert b.case.head.centre_c - a.case.head.centre_c == approx(20.0)
        assert a.winding_ohm == b.winding_ohm


def test_a_world_may_have_its_meter_out_of_calibration():
    def errors(gain_factor):
        drawn = heads(300, World(sound=1.0, gain_factor=gain_factor, sets=("common-to-each",)))
        return [
            read_of(h, *h.ends[0])[0] / h.winding_ohm[0] - 1
            for h in drawn
            if h.case.meter.ranges[0].of_reading_frac == 0.012 and h.winding_ohm[0] > 100
        ]

    assert max(map(abs, errors(1.0))) < 0.02 < 0.025 < max(map(abs, errors(4.0)))
