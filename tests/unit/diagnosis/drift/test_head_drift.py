"""Drift: called where a winding leaves the others, not where only the day was another, at the level that is stated."""

import random
from dataclasses import replace
from math import log

import pytest
from pytest import approx

from fifthwire.diagnosis.drift.head_drift import LEVEL, DayReading, head_drift

SPRINGS = (0.0, 371.0, 728.0, 1099.0, 1460.0)
WIRES = ("5-1", "5-2", "5-3", "5-4")


def drawn_head(
    rng: random.Random,
    *,
    days: tuple[float, ...] = SPRINGS,
    rises: dict[str, float] | None = None,
    wires: tuple[str, ...] = WIRES,
    ohm: float = 64.0,
    resolution_ohm: float = 0.1,
) -> list[DayReading]:
    """A head read on several days, scattered as the priors say: windings within half a percent of each other, a head
    temperature wrong by up to 5 K, a meter wrong by 0.9 % and two digits, probes that touch with up to 0.2 ohm."""
    apart = {wire: rng.gauss(0.0, 0.005) for wire in wires}
    readings = []
    for day in days:
        shared = 0.00393 * rng.gauss(0.0, 2.5) + rng.uniform(-0.009, 0.009)
        for wire in wires:
            drift = (rises or {}).get(wire, 0.0) * day / 365.25
            value = ohm * (1.0 + apart[wire] + drift) * (1.0 + shared)
            value += abs(rng.gauss(0.0, 0.08)) + rng.uniform(-2.0, 2.0) * resolution_ohm
            value = round(value / resolution_ohm) * resolution_ohm
            readings.append(DayReading(day, wire, value, 0.012 * value))
    return readings


@pytest.mark.parametrize(
    ("ohm", "resolution_ohm", "wires"),
    [(64.0, 0.1, WIRES), (205.0, 0.1, WIRES), (92.0, 0.1, ("1-2", "3-4")), (150.0, 1.0, WIRES)],
    ids=["64 ohm", "205 ohm", "two windings", "read to whole ohms"],
)
def test_of_sound_heads_no_more_are_called_than_the_level_says(ohm, resolution_ohm, wires):
    rng = random.Random(20260318)
    n, called = 1000, 0
    for _ in range(n):
        head = drawn_head(rng, ohm=ohm, resolution_ohm=resolution_ohm, wires=wires)
        called += bool(head_drift(head).called)

    # three standard deviations over the level; the least change of 1 % keeps it well below
    assert called <= n * LEVEL + 3.0 * (n * LEVEL * (1.0 - LEVEL)) ** 0.5


def test_a_winding_that_rises_a_percent_a_year_is_called_after_five_springs():
    rng = random.Random(20260319)
    found = [head_drift(drawn_head(rng, rises={"5-3": 0.01}, ohm=205.0)).called for _ in range(300)]

    right = sum([drift.winding for drift in called] == ["5-3"] for called in found)
    assert right >= 0.9 * len(found)


def test_the_others_are_not_said_to_drift_the_other_way():
    rng = random.Random(20260320)
    found = [head_drift(drawn_head(rng, rises={"5-3": 0.03}, ohm=205.0)).called for _ in range(200)]

    assert sum(any(drift.winding not in ("5-3", None) for drift in called) for called in found) <= 4


def test_a_head_read_hot_one_year_drifts_nowhere():
    rng = random.Random(1)
    head = [replace(one, ohm=one.ohm * (1.06 if one.day == SPRINGS[-1] else 1.0)) for one in drawn_head(rng)]

    assert [drift.winding for drift in head_drift(head).called if drift.winding is not None] == []


def test_all_windings_rising_together_are_called_together_and_none_alone():
    head = [DayReading(day, wire, 205.0 * (1 + 0.02 * day / 365.25), 1.0) for day in SPRINGS for wire in WIRES]

    assert [drift.winding for drift in head_drift(head).called] == [None]


def test_days_that_scatter_more_than_they_say_call_nothing_together():
    values = (200.0, 207.0, 199.0, 208.0, 206.0)
    head = [DayReading(day, wire, value, 0.3) for day, value in zip(SPRINGS, values, strict=True) for wire in WIRES]

    assert head_drift(head).called == ()


def test_of_two_windings_it_is_not_said_which_drifts():
    wires = ("1-2", "3-4")
    head = [
        DayReading(day, wire, 92.0 * (1.0 + (0.02 * day / 365.25 if wire == "3-4" else 0.0)))
        for day in SPRINGS
        for wire in wires
    ]
    (called,) = head_drift(head).called

    assert (called.winding, called.against) == wires


def test_a_change_too_small_to_matter_is_not_called_however_sure():
    head = [
        DayReading(day, wire, 205.0 * (1.0 + (0.002 * day / 365.25 if wire == "5-1" else 0.0)))
        for day in (30.0 * k for k in range(50))
        for wire in WIRES
    ]
    drift = next(one for one in head_drift(head).drifts if one.winding == "5-1")

    assert drift.p < LEVEL and abs(drift.change_frac) < 0.01
    assert not drift.is_called


@pytest.mark.parametrize("n_days", [0, 1, 2])
def test_two_days_call_nothing(n_days):
    head = drawn_head(random.Random(2), days=SPRINGS[:n_days], rises={"5-3": 0.5})

    assert head_drift(head).drifts == ()


def test_a_winding_that_was_open_on_some_days_is_compared_on_the_others():
    head = drawn_head(random.Random(3), rises={"5-1": 0.02}, ohm=205.0)
    head = [one for one in head if not (one.winding == "5-4" and one.day > 700.0)]
    tested = head_drift(head)

    assert [drift.winding for drift in tested.called] == ["5-1"]
    assert "5-4" not in [drift.winding for drift in tested.drifts]  # two days are too few


def test_neither_the_order_of_the_readings_nor_the_origin_of_the_days_matters():
    head = drawn_head(random.Random(4), rises={"5-2": 0.008}, ohm=205.0)
    moved = [replace(one, day=one.day + 730_000.0) for one in head]
    random.Random(5).shuffle(moved)

    first = {drift.winding: drift for drift in head_drift(head).drifts}
    second = {drift.winding: drift for drift in head_drift(moved).drifts}
    assert first.keys() == second.keys()
    for winding, drift in first.items():
        assert second[winding].p == approx(drift.p, rel=1e-6)
        assert second[winding].per_year_frac == approx(drift.per_year_frac, rel=1e-6)


def test_the_scale_of_the_windings_does_not_matter():
    head = drawn_head(random.Random(6), rises={"5-2": 0.008}, ohm=205.0)
    doubled = [replace(one, ohm=2 * one.ohm, u_ohm=2 * (one.u_ohm or 0.0)) for one in head]

    for one, other in zip(head_drift(head).drifts, head_drift(doubled).drifts, strict=True):
        assert one.p == approx(other.p, rel=1e-9)
        assert log(1.0 + one.change_frac) == approx(log(1.0 + other.change_frac), abs=1e-12)
