"""The oracle itself: against plain Monte Carlo on small cases, against its own finer grids, and part by part."""

from collections import Counter
from math import exp, sqrt
from random import Random

import numpy as np
import pytest
from pytest import approx
from tests.oracle.evidence import FINE, Evidence
from tests.oracle.forms import Size, _Builder, explanations, heads_of
from tests.oracle.laws import TAIL_SHARE, ReadingLaw, log_scale
from tests.oracle.posterior import posterior

from fifthwire.demo.heads import World, draw_head
from fifthwire.diagnosis.winding.case import (
    HeadTemperature,
    MeterLaw,
    RangeLaw,
    SpecLaw,
    WindingCase,
    WindingLaws,
)
from fifthwire.model.valve import PairReading
from fifthwire.physics.head_network import head_network
from fifthwire.physics.network import effective_matrix

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
RANGE = RangeLaw(of_reading_frac=0.01, digits=1.0, resolution_ohm=1.0)
SPEC = SpecLaw(resistance_ohm=60.0, tolerance_frac=0.10, at_c=20.0)
HEAD = HeadTemperature(centre_c=25.0, sd_k=2.0)


def a_case(readings, **changes):
    given = {
        "readings": tuple(PairReading(a, b, ohm) for a, b, ohm in readings),
        "meter": MeterLaw(ranges=(RANGE,), leads_ohm=0.0),
        "head": HEAD,
        "arrangement": "unipolar-5",
        "spec": SPEC,
        "common": ("C",),
        "sound_prior": 0.5,
    }
    return WindingCase(**(given | changes))


def test_the_law_of_a_reading_is_that_of_many_drawn():
    rng = np.random.default_rng(1)
    meter = RangeLaw(of_reading_frac=0.0, digits=2.0, resolution_ohm=0.1)
    true = 61.234
    shown = true + np.abs(rng.normal(0, 0.08, 2_000_000)) + rng.uniform(-0.2, 0.2, 2_000_000)
    drawn = Counter(np.round(shown / 0.1).astype(int))

    law = ReadingLaw(meter, LAWS)

    for value in range(min(drawn), max(drawn) + 1):
        mass = float(law.mass(np.array([value * 0.1 - true]))[0])
        assert mass == approx(drawn[value] / 2_000_000, abs=4 * sqrt(max(mass, 1e-6) / 2_000_000) + 1e-5)


@pytest.mark.parametrize(
    "ranges", [(), ((1 - TAIL_SHARE, ((0.4, 0.75), (1.35, 2.5))), (TAIL_SHARE, ((0.15, 0.4), (2.5, 7.0))))]
)
def test_the_law_of_the_scale_is_that_of_many_drawn(ranges):
    rng = np.random.default_rng(2)
    logs = np.log(_drawn_scale(rng, 400_000) * (_drawn_factor(rng, 400_000) if ranges else 1.0))

    law = log_scale(SPEC, HEAD, RANGE, ranges)

    at = law.start + law.step * np.arange(len(law.density))
    below = np.cumsum(law.density) * law.step
    assert below[-1] == approx(1.0, abs=1e-6)
    for share in (0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99):
        assert float(np.interp(np.quantile(logs, share), at, below)) == approx(share, abs=0.003)


def _drawn_scale(rng, n):
    batch = rng.normal(0.0, SPEC.tolerance_frac / 3.0, n)
    while (beyond := np.abs(batch) > SPEC.tolerance_frac).any():
        batch[beyond] = rng.normal(0.0, SPEC.tolerance_frac / 3.0, int(beyond.sum()))
    factor = (234.5 + rng.normal(HEAD.centre_c, HEAD.sd_k, n)) / (234.5 + SPEC.at_c)
    return SPEC.resistance_ohm * (1.0 + batch) * factor * (1.0 + rng.uniform(-0.01, 0.01, n))


def _drawn_factor(rng, n):
    low, high = rng.uniform(0.4, 0.75, n), rng.uniform(1.35, 2.5, n)
    far_low, far_high = rng.uniform(0.15, 0.4, n), rng.uniform(2.5, 7.0, n)
    usual = np.where(rng.random(n) < 0.35 / 1.5, low, high)
    return np.where(rng.random(n) < TAIL_SHARE, np.where(rng.random(n) < 0.25 / 4.75, far_low, far_high), usual)


def _simulated_star(case, n, seed):
    """Plain Monte Carlo of a star by its laws: cause of every draw, and whether the meter showed what was read."""
    rng = np.random.default_rng(seed)
    ends = list("ABDE")
    causes = ["sound", *LAWS.fault_shares]
    cause = rng.choice(
        len(causes), n, p=[case.sound_prior, *((1 - case.sound_prior) * np.array(list(LAWS.fault_shares.values())))]
    )
    is_cause = {name: cause == i for i, name in enumerate(causes)}
    place, wire = rng.integers(0, 4, n), rng.integers(0, 5, n)  # wire 4 is the common
    scale = _drawn_scale(rng, n) * np.where(is_cause["wrong-head"], _drawn_factor(rng, n), 1.0)
    partner = rng.integers(1, 4, n)
    bobbin = rng.normal(0.0, LAWS.bobbin_to_bobbin_frac, (n, 2))
    w = np.empty((n, 4))
    for j in range(4):
        mine = np.where((j == 0) | (partner == j), bobbin[:, 0], bobbin[:, 1])
        w[:, j] = scale * (1.0 + mine + rng.normal(0.0, LAWS.winding_to_winding_frac, n))
        shorted = is_cause["shorted-turns"] & (place == j)
        w[:, j] *= np.where(shorted, 1.0 - rng.uniform(*LAWS.shorted_fraction, n), 1.0)
    contact = np.exp(rng.uniform(*np.log(LAWS.contact_ohm), n))
    other = (place + rng.integers(1, 4, n)) % 4
    bridge = np.exp(
        np.where(rng.random(n) < 0.02, rng.uniform(*np.log([200.0, 20e3]), n), rng.uniform(*np.log(LAWS.bridge_ohm), n))
    )
    leads = rng.uniform(-LAWS.leads_within_ohm, LAWS.leads_within_ohm, n)
    spoiled, false_open = rng.integers(0, len(case.readings), n), rng.random(n) < LAWS.bad_reading_open_share
    stray = np.exp(rng.uniform(*np.log(LAWS.bad_reading_adds_ohm), n))
    fits = np.ones(n, bool)
    for k, reading in enumerate(case.readings):
        numbers = [4 if name == "C" else ends.index(name) for name in (reading.wire_a, reading.wire_b)]
        held = [j for j in numbers if j != 4]
        ohm = sum(w[:, j] for j in held)
        loop_w = np.take_along_axis(w, np.stack([place, other], 1), 1)
        around = sum(np.where(place == j, w[:, j], 0) * (1 if j == held[0] else -1) for j in held)
        around = around - sum(np.where(other == j, w[:, j], 0) * (1 if j == held[0] else -1) for j in held)
        ohm = ohm - np.where(is_cause["bridged"], around**2 / (loop_w.sum(1) + bridge), 0.0)
        for j in numbers:
            ohm = ohm + np.where(is_cause["bad-contact"] & (wire == j), contact, 0.0)
        is_spoiled = is_cause["bad-reading"] & (spoiled == k)
        ohm = ohm + np.where(is_spoiled & ~false_open, stray, 0.0)
        is_open = is_spoiled & false_open
        for j in held:
            is_open |= is_cause["open-winding"] & (place == j)
        if 4 in numbers:
            is_open |= is_cause["open-common"]
        shown = ohm + leads + np.abs(rng.normal(0, LAWS.touch_ohm, n))
        shown = np.round(
            (shown + rng.uniform(-1.0, 1.0, n) * RANGE.digits * RANGE.resolution_ohm) / RANGE.resolution_ohm
        )
        if reading.is_open:
            fits &= is_open
        else:
            fits &= ~is_open & (shown == round(reading.ohm / RANGE.resolution_ohm))
    return [causes[i] for i in cause[fits]]


TINY = [
    ([("C", "A", 62.0), ("C", "B", 60.0)], 1),
    ([("C", "A", 64.0), ("A", "B", 129.0)], 1),
    ([("C", "A", None), ("C", "B", 60.0)], 1),
    ([("C", "A", 66.0), ("C", "B", 62.0)], 3),
    ([("C", "A", 62.0), ("C", "B", 58.0), ("A", "B", 120.0)], 12),
]


@pytest.mark.parametrize(("readings", "runs"), TINY)
def test_the_posterior_is_that_of_plain_monte_carlo(readings, runs):
    case = a_case(readings, sound_prior=0.3)
    drawn = Counter(cause for seed in range(runs) for cause in _simulated_star(case, 400_000, seed))
    n = sum(drawn.values())
    assert n > 400

    found = posterior(case, LAWS)

    for cause, probability in found.causes.items():
        sigma = sqrt((probability * (1.0 - probability) + 2.0 / n) / n)
        assert drawn[cause] / n == approx(probability, abs=4.0 * sigma)


@pytest.mark.parametrize("seed", [0, 2, 7, 15, 22])
def test_finer_grids_change_nothing_that_matters(seed):
    rng = Random(5)
    for _ in range(seed + 1):
        head = draw_head(rng, LAWS, World(unstated_temperature=0.0))

    usual, finer = posterior(head.case, LAWS), posterior(head.case, LAWS, FINE)

    assert all(usual.causes[cause] == approx(finer.causes[cause], abs=5e-4) for cause in finer.causes)


def _network_of(head, windings, **faults):
    order = []
    for common in head.commons or ("",):
        group = [j for j, (hub, _) in enumerate(head.windings) if hub == common or not head.commons]
        if head.commons:
            order += [common, *(head.windings[j][1] for j in group)]
        else:
            order += [wire for j in group for wire in head.windings[j]]
    return effective_matrix(head_network(faults.pop("arrangement"), order, windings, **faults), order)


@pytest.mark.parametrize("arrangement", ["unipolar-5", "unipolar-6", "bipolar-4"])
@pytest.mark.parametrize("seed", range(4))
def test_every_form_predicts_what_the_network_of_its_fault_reads(arrangement, seed):
    rng = Random(seed)
    wires = tuple("12345"[:5] + "6")[: {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4}[arrangement]]
    _, head = rng.choice(heads_of(arrangement, wires, ()))
    windings = [rng.uniform(40, 80) for _ in head.windings]
    x = rng.uniform(2, 100)
    size = Size(False, ((0.0, 1.0, 1.0),))
    ends = [winding[1] for winding in head.windings]
    p, q = rng.sample(ends, 2)
    struck = rng.choice(wires)
    faults = [
        ({"contact_ohm": {struck: x}}, lambda build: build.form("add", contact=struck, size=size)),
        ({"bridges": [(p, q, x)]}, lambda build: _bridge_form(build, head, p, q, size)),
        ({}, lambda build: build.form("plain")),
    ]
    for network, make in faults:
        reads = _network_of(head, windings, arrangement=arrangement, **network)
        pairs = [(a, b) if rng.random() < 0.5 else (b, a) for a, b in reads]
        case = a_case(
            [(a, b, _finite(reads.get((a, b), reads.get((b, a))))) for a, b in pairs],
            arrangement=arrangement,
            common=(),
        )
        form = make(_Builder(case, head))
        assert form is not None
        w = _matched(case, head, form, windings)
        predicted = form.predicted(np.array([w]), x)[0]
        assert predicted == approx([case.readings[k].ohm for k in form.read], rel=1e-9)


def _bridge_form(build, head, p, q, size):
    hub_of = {end: hub for hub, end in head.windings}
    if head.commons and hub_of[p] == hub_of[q]:
        i, j = ([end for _, end in head.windings].index(wire) for wire in (p, q))
        return build.bridged_star(i, j, size)
    return build.bridged_groups(p, q, size)


def _finite(ohm):
    return None if ohm == float("inf") else ohm


def _matched(case, head, form, windings):
    """Windings in the form's own order, found by the readings that hold them."""
    columns = {}
    for j in range(len(head.windings)):
        column = []
        for k in form.read:
            reading = case.readings[k]
            path = head.path(reading.wire_a, reading.wire_b)
            if path is None:
                near = next((p for p in _ends(head) if head.path(reading.wire_a, p) is not None), None)
                assert near is not None
            column.append(path)
        columns[j] = column
    found = []
    used = set()
    for place in range(len(form.partner)):
        rows = [row[place] for row in form.paths]
        for j in range(len(head.windings)):
            if j in used:
                continue
            mine = [1.0 if path is not None and j in path else 0.0 for path in columns[j]]
            known = [(a, b) for a, b, path in zip(rows, mine, columns[j], strict=True) if path is not None]
            if all(a == b for a, b in known):
                used.add(j)
                found.append(windings[j])
                break
    return found


def _ends(head):
    return [wire for winding in head.windings for wire in winding]


def test_untouched_windings_leave_the_priors_as_they_were():
    found = posterior(a_case([("C", "A", 61.0)], sound_prior=0.7), LAWS)

    untouched = [found.places["open-winding", (end,)] for end in ("untouched 0", "untouched 1", "untouched 2")]
    assert untouched == approx([found.causes["sound"] * 0.3 * 0.2 / 4 / 0.7] * 3, rel=1e-6)
    assert found.places.get(("open-winding", ("A",)), 0.0) == 0.0


def test_without_readings_the_posterior_is_the_prior():
    found = posterior(a_case([], sound_prior=0.7), LAWS)

    assert found.causes["sound"] == approx(0.7)
    assert found.causes["bridged"] == approx(0.03)
    assert sum(found.causes.values()) == approx(1.0)


def test_explanations_of_a_head_sum_to_one_before_a_reading():
    for arrangement in ("unipolar-5", "unipolar-6", "bipolar-4", "single-2"):
        case = a_case([], arrangement=arrangement, common=())

        assert sum(exp(found.log_prior) for found in explanations(case, LAWS)) == approx(1.0)


def test_a_wider_spread_of_one_reading_never_makes_it_certain():
    evidence = Evidence(a_case([("C", "A", 61.0)]), LAWS)
    form = _Builder(evidence.case, heads_of("unipolar-5", ("C", "A", "B", "D", "E"), ("C",))[0][1]).form("plain")

    assert 0.0 < exp(evidence.log_evidence(form)) < 1.0
