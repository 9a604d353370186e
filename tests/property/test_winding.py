"""What must hold of the winding verdict whatever the readings are."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx
from tests.winding_cases import LAWS, spec

from fifthwire.demo.heads import draw_head
from fifthwire.diagnosis.winding import HeadTemperature, MeterLaw, RangeLaw, WindingCase, judge_windings
from fifthwire.model.valve import PairReading

ANY_OHM = st.one_of(
    st.none(), st.just(0.0), st.floats(1e-4, 1e7), st.floats(40.0, 130.0), st.sampled_from([62.0, 124.0, 1e9])
)
SAME = 1e-9
RENAMED = 5e-4
"""The exact laws are put in one reading after the other, in the order of the wires' names, and for the leading
hypotheses only: the last digits depend on the names."""


@st.composite
def any_case(draw):
    arrangement = draw(st.sampled_from(["unipolar-5", "unipolar-6", "bipolar-4", "single-2", None]))
    n_wires = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4, "single-2": 2, None: 6}[arrangement]
    wires = [str(n + 1) for n in range(n_wires)]
    pair = st.lists(st.sampled_from(wires), min_size=2, max_size=2, unique=True)
    readings = draw(st.lists(st.tuples(pair, ANY_OHM), max_size=45))
    stated = {"unipolar-5": 1, "unipolar-6": 2}.get(arrangement or "", 0)
    law = RangeLaw(
        of_reading_frac=draw(st.sampled_from([0.0, 0.002, 0.012])),
        digits=draw(st.sampled_from([0.0, 1.0, 5.0, 2.5])),
        resolution_ohm=draw(st.sampled_from([0.001, 0.1, 1.0])),
    )
    return WindingCase(
        readings=tuple(PairReading(a, b, ohm) for (a, b), ohm in readings),
        meter=MeterLaw(ranges=(law,), leads_ohm=draw(st.sampled_from([0.0, 0.3]))),
        head=draw(st.sampled_from([HeadTemperature(), HeadTemperature(centre_c=31.0, sd_k=1.5)])),
        arrangement=arrangement,
        spec=draw(st.sampled_from([None, spec(), spec(tolerance_frac=0.001), spec(1e4, 0.5)])),
        common=tuple(draw(st.permutations(wires))[:stated]) if draw(st.booleans()) else (),
        sound_prior=draw(st.sampled_from([0.7, 0.97])),
    )


@settings(max_examples=150, deadline=2000)
@given(any_case())
def test_probabilities_sum_to_one_and_nothing_is_raised_whatever_is_read(case):
    finding = judge_windings(case, LAWS)

    if case.readings:
        assert sum(row.probability for row in finding.causes) == approx(1.0, abs=1e-9)
        assert all(0.0 <= row.probability <= 1.0 + 1e-12 for row in finding.causes)
    if finding.common:
        assert sum(row.probability for row in finding.common) == approx(1.0, abs=1e-9)
    assert finding.next_reading is None or finding.next_reading.gain_bits >= 0.0
    assert finding.verdict in ("sound", "faulty", "undecided", "not-measured")


def by_cause(finding, names=None):
    found = {}
    for row in finding.causes:
        key = (row.cause, frozenset((names or {}).get(wire, wire) for wire in row.wires))
        found[key] = found.get(key, 0.0) + row.probability
    return found


def assert_same(one, other, within, names=None):
    first, second = by_cause(one, names), by_cause(other)
    for key in first.keys() | second.keys():
        assert first.get(key, 0.0) == approx(second.get(key, 0.0), abs=within)


@settings(max_examples=40, deadline=2000)
@given(st.integers(0, 10**6), st.randoms(use_true_random=False))
def test_the_order_of_readings_and_the_direction_of_a_pair_do_not_matter(seed, rng):
    case = draw_head(Random(seed), LAWS).case
    turned = [PairReading(r.wire_b, r.wire_a, r.ohm) if rng.random() < 0.5 else r for r in case.readings]
    rng.shuffle(turned)
    other = WindingCase(
        readings=tuple(turned),
        meter=case.meter,
        head=case.head,
        arrangement=case.arrangement,
        spec=case.spec,
        common=case.common,
        sound_prior=case.sound_prior,
    )

    one, two = judge_windings(case, LAWS), judge_windings(other, LAWS)

    assert_same(one, two, SAME)
    assert one.verdict == two.verdict
    assert one.next_reading == two.next_reading


@settings(max_examples=40, deadline=2000)
@given(st.integers(0, 10**6), st.permutations("123456"))
def test_renaming_the_wires_renames_the_answer(seed, order):
    case = draw_head(Random(seed), LAWS).case
    wires = sorted({wire for r in case.readings for wire in (r.wire_a, r.wire_b)} | set(case.common))
    n_wires = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4}[case.arrangement or ""]
    names = dict(zip("123456"[:n_wires], [wire for wire in order if wire <= str(n_wires)], strict=True))
    assert set(wires) <= set(names)
    other = WindingCase(
        readings=tuple(PairReading(names[r.wire_a], names[r.wire_b], r.ohm) for r in case.readings),
        meter=case.meter,
        head=case.head,
        arrangement=case.arrangement,
        spec=case.spec,
        common=tuple(names[wire] for wire in case.common),
        sound_prior=case.sound_prior,
    )

    one, two = judge_windings(case, LAWS), judge_windings(other, LAWS)

    assert_same(one, two, RENAMED, names)
    gains = [finding.next_reading.gain_bits if finding.next_reading else 0.0 for finding in (one, two)]
    assert gains[0] == approx(gains[1], abs=0.05)  # of hypotheses that weigh the same, which are looked at may differ
