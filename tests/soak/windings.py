"""Structures into the winding inference: whatever the readings, a finding that sums to 1, within 2 s."""

from math import isfinite
from time import perf_counter

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.oracle.stored import shipped_laws

from fifthwire.diagnosis.winding import (
    HeadTemperature,
    MeterLaw,
    RangeLaw,
    SpecLaw,
    WindingCase,
    judge_windings,
)
from fifthwire.model.choices import WINDING_ARRANGEMENTS, WINDING_CAUSES, WINDING_VERDICTS
from fifthwire.model.errors import InputError
from fifthwire.model.valve import PairReading

LATEST_S = 2.0
LAWS = shipped_laws()

names = st.sampled_from("1234567") | st.text(min_size=1, max_size=3)
near = st.floats(20.0, 300.0).map(lambda ohm: round(ohm, 1))
ohms = st.none() | near | near | st.floats(1e-4, 1e7) | st.sampled_from([0.0, 1e-9, 1e9])
reading = st.builds(PairReading, names, names, ohms)
ranges = st.builds(
    RangeLaw,
    to_ohm=st.sampled_from([60.0, 600.0, float("inf")]),
    of_reading_frac=st.sampled_from([0.0, 0.002, 0.009, 0.05]),
    digits=st.sampled_from([0.0, 1.0, 5.0, 50.0]),
    resolution_ohm=st.sampled_from([0.001, 0.1, 1.0]),
)
meters = st.builds(
    MeterLaw,
    ranges=st.lists(ranges, min_size=1, max_size=3).map(lambda rs: tuple(sorted(rs, key=lambda r: r.to_ohm))),
    leads_ohm=st.sampled_from([0.0, 0.2, 5.0]),
)
specs = st.builds(
    SpecLaw,
    resistance_ohm=st.floats(0.1, 1e5),
    tolerance_frac=st.sampled_from([0.001, 0.05, 0.1, 0.5]),
    at_c=st.sampled_from([-20.0, 20.0, 25.0]),
)
temperatures = st.builds(
    HeadTemperature, centre_c=st.none() | st.floats(-60.0, 150.0), sd_k=st.sampled_from([0.0, 0.5, 2.5, 7.5, 30.0])
)


@st.composite
def cases(draw: st.DrawFn) -> WindingCase:
    """A case of any kind, mostly of few wires."""
    readings = draw(st.lists(reading, max_size=40))
    seen = sorted({wire for r in readings for wire in (r.wire_a, r.wire_b)})
    return WindingCase(
        readings=tuple(readings),
        meter=draw(meters),
        head=draw(temperatures),
        arrangement=draw(st.none() | st.sampled_from(WINDING_ARRANGEMENTS)),
        spec=draw(st.none() | specs),
        common=tuple(draw(st.lists(st.sampled_from(seen), max_size=2, unique=True))) if seen else (),
        sound_prior=draw(st.sampled_from([0.5, 0.7, 0.97, 0.999])),
    )


@st.composite
def heads(draw: st.DrawFn) -> WindingCase:
    """A case with the wires of one arrangement and readings near those of a head."""
    arrangement = draw(st.sampled_from(WINDING_ARRANGEMENTS))
    wires = "123456"[: int(arrangement[-1])]
    pairs = st.tuples(st.sampled_from(wires), st.sampled_from(wires)).filter(lambda pair: pair[0] != pair[1])
    readings = draw(st.lists(st.builds(lambda pair, ohm: PairReading(*pair, ohm), pairs, ohms), max_size=16))
    return WindingCase(
        readings=tuple(readings),
        meter=draw(meters),
        head=draw(temperatures),
        arrangement=arrangement,
        spec=draw(st.none() | specs),
        sound_prior=draw(st.sampled_from([0.7, 0.97])),
    )


def try_case(case: WindingCase) -> float:
    """Judge it and look at the finding; how long it took. [s]

    Raises
    ------
    AssertionError
        If the finding is not one.
    """
    start = perf_counter()
    try:
        finding = judge_windings(case, LAWS)
    except InputError:
        assert any(r.wire_a == r.wire_b for r in case.readings), "refused without a reason"
        return perf_counter() - start
    took = perf_counter() - start
    assert took < LATEST_S, f"{took:.1f} s"
    assert finding.verdict in WINDING_VERDICTS
    probabilities = [cause.probability for cause in finding.causes]
    assert all(isfinite(p) and 0.0 <= p <= 1.0 + 1e-9 for p in probabilities)
    assert not probabilities or abs(sum(probabilities) - 1.0) < 1e-6
    assert all(cause.cause in (*WINDING_CAUSES, "other") for cause in finding.causes)
    assert all(0.0 <= common.probability <= 1.0 + 1e-9 for common in finding.common)
    for winding in finding.windings:
        assert winding.ohm is None or (isfinite(winding.ohm) and winding.u_ohm is not None and isfinite(winding.u_ohm))
    assert finding.next_reading is None or finding.next_reading.gain_bits >= 0.0
    return took


def run(n_examples: int, seconds: float) -> tuple[int, float]:
    """Try this many of each kind or until the time is up; how many, and the slowest. [s]"""
    count, slowest, start = 0, 0.0, perf_counter()

    def one(case: WindingCase) -> None:
        nonlocal count, slowest
        if perf_counter() - start > seconds:
            return
        slowest = max(slowest, try_case(case))
        count += 1

    for kind in (cases(), heads()):
        checks = settings(
            max_examples=n_examples, deadline=None, database=None, suppress_health_check=list(HealthCheck)
        )
        checks(given(kind)(one))()
    return count, slowest
