"""Student's law, the least squares and the line of all windings together, against SciPy and NumPy."""

import random
from math import log

import numpy as np
import pytest
from pytest import approx
from scipy import stats

from fifthwire.diagnosis.drift.head_drift import READING_SCATTER_FRAC, DayReading, head_drift
from fifthwire.diagnosis.drift.students_law import two_sided_p

WIRES = ("1", "2", "3", "4")


@pytest.mark.parametrize("dof", [1, 2, 3, 4, 5, 8, 9, 30, 101])
@pytest.mark.parametrize("t", [0.0, 0.3, -1.0, 2.5, 6.0, -9.0])
def test_students_law_is_scipys(t, dof):
    assert two_sided_p(t, dof) == approx(2.0 * stats.t.sf(abs(t), dof), rel=1e-6, abs=1e-13)


def a_head(rng: random.Random) -> list[DayReading]:
    days = sorted(rng.sample(range(2000), rng.randint(6, 9)))
    shared = {day: rng.gauss(0.0, 0.02) for day in days}
    return [
        DayReading(
            float(day), wire, 120.0 * (1.0 + shared[day] + rng.gauss(0.0, 0.002)), 2.0
        )  # too little to be called
        for day in days
        for wire in WIRES
        if rng.random() > 0.1
    ]


@pytest.mark.parametrize("seed", range(20))
def test_slopes_and_their_doubt_are_those_of_least_squares_with_a_dummy_a_day_and_a_winding(seed):
    """A winding's slope less the mean of the others', by NumPy's least squares over the full, redundant design."""
    head = a_head(random.Random(seed))
    days = sorted({one.day for one in head})
    design = np.array(
        [
            [*(float(one.day == day) for day in days), *(float(one.winding == wire) for wire in WIRES)]
            + [one.day / 365.25 if one.winding == wire else 0.0 for wire in WIRES]
            for one in head
        ]
    )
    values = np.array([log(one.ohm) for one in head])
    found, _, rank, _ = np.linalg.lstsq(design, values, rcond=None)
    dof = len(head) - rank
    squares = float(((values - design @ found) ** 2).sum())
    scatter = max((squares / dof) ** 0.5, READING_SCATTER_FRAC)
    covariance = scatter**2 * np.linalg.pinv(design.T @ design)

    tested = head_drift(head)
    alone = [drift for drift in tested.drifts if drift.winding is not None]
    assert tested.dof == dof and len(alone) == 4
    for drift in alone:
        at = WIRES.index(drift.winding or "")
        weights = np.zeros(design.shape[1])
        weights[len(days) + 4 :] = [1.0 if one == at else -1.0 / 3.0 for one in range(4)]
        slope, u = float(weights @ found), float(weights @ covariance @ weights) ** 0.5
        assert drift.per_year_frac == approx(slope, abs=1e-9)
        assert drift.u_per_year_frac == approx(u, rel=1e-6)
        assert drift.p == approx(min(1.0, len(tested.drifts) * 2.0 * stats.t.sf(abs(slope / u), dof)), rel=1e-5)


def test_the_line_of_all_windings_together_is_the_weighted_line():
    days, values, us = (0.0, 400.0, 700.0, 1200.0), (100.0, 103.0, 104.0, 109.0), (0.5, 2.0, 0.7, 1.0)
    head = [DayReading(d, w, v, u) for d, v, u in zip(days, values, us, strict=True) for w in WIRES]

    together = next(drift for drift in head_drift(head).drifts if drift.winding is None)

    x, y = np.array(days) / 365.25, np.log(values)
    weights = np.array(values) / np.array(us)
    (slope, _), covariance = np.polyfit(x, y, 1, w=weights, cov="unscaled")
    assert together.per_year_frac == approx(slope, rel=1e-9)
    chi2 = float((weights**2 * (y - np.polyval(np.polyfit(x, y, 1, w=weights), x)) ** 2).sum())
    assert chi2 < 2  # the days scatter no more than they say
    assert together.u_per_year_frac == approx(float(covariance[0, 0]) ** 0.5, rel=1e-9)
    z = abs(slope) / together.u_per_year_frac
    assert together.p == approx(min(1.0, 5 * 2.0 * stats.norm.sf(z)), rel=1e-6)
