r"""A winding that drifts away from the other windings of its head, or all of them together; a test with a stated level.

The logarithm of a reading is what the day adds to all (meter, temperature of the head, leads), plus what the winding
is, plus its drift, plus what touch and last digit add to each:

.. math:: \ln R_{vw} = d_v + a_w + b_w t_v + e_{vw}

Only the differences of the `b_w` can be known apart from the `d_v`: each winding is held against the mean of the
others. One that drifts is taken out before the others are held against each other, or it would seem that they drift
the other way; of two windings it cannot be told which of them drifts. The scatter is taken from the readings
themselves, never less than READING_SCATTER_FRAC, since readings rounded to the same digit agree better than they know.
That the windings drift together is tested with what each day's value is uncertain by, or with how the days scatter,
whichever says less. The probabilities are corrected for having asked of several lines (Bonferroni); what is called a
drift is rarer than LEVEL by chance and larger than LEAST_CHANGE_FRAC.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import exp, inf, log, sqrt
from typing import Final

from fifthwire.diagnosis.drift.least_squares import solved
from fifthwire.diagnosis.drift.students_law import two_sided_p
from fifthwire.model.record import record
from fifthwire.physics.conformity import normal_cdf

LEVEL: Final = 0.01
"""Of good heads at most this share is called drifting, all its windings taken together.  [1]  Our choice:
docs/decisions/0015-drift.md."""
LEAST_CHANGE_FRAC: Final = 0.01
"""A smaller change over the whole time is not called out, however sure.  [1]  Our choice: a tenth of the tolerance of
most manuals."""
READING_SCATTER_FRAC: Final = 0.0015
"""What touch and last digit add to one reading, at least, as a standard deviation.  [1]  Our choice: two tenths of an
ohm of 64 ohm, as a uniform error."""
FEWEST_DAYS: Final = 3
"""A straight line through two days tells nothing of its scatter.  [1]"""


@record(kw_only=False)
class DayReading:
    """One winding on one day."""

    day: float
    """Counted from any origin. [d]"""
    winding: str
    ohm: float
    """At the spec's temperature."""
    u_ohm: float | None = None
    """Of the day's value, what all windings share included."""


@record
class Drift:
    """How one winding changes, or all together."""

    winding: str | None
    """None: all together."""
    against: str | None = None
    """The other one where there are two: either may be the one that drifts."""
    per_year_frac: float
    u_per_year_frac: float
    change_frac: float
    """Over the whole time."""
    p: float
    """How often chance alone gives as much in one of the windings that were asked of."""

    @property
    def is_called(self) -> bool:
        """Whether it is called a drift."""
        return self.p < LEVEL and abs(self.change_frac) >= LEAST_CHANGE_FRAC


@record
class HeadDrift:
    """What the test makes of one head."""

    n_days: int
    years: float
    dof: int
    """Of the scatter between the windings. [1]"""
    drifts: tuple[Drift, ...]
    """Of each winding against the others, then of all together; empty where there are too few days."""

    @property
    def called(self) -> tuple[Drift, ...]:
        """Those that are called a drift."""
        return tuple(drift for drift in self.drifts if drift.is_called)


def head_drift(readings: Sequence[DayReading]) -> HeadDrift:
    """Test the windings of one head for drift.

    Parameters
    ----------
    readings : sequence of DayReading
        Of one head: another head begins another series. A winding that was open on a day has no reading of it.

    Returns
    -------
    HeadDrift
        Without drifts where fewer than FEWEST_DAYS days can be compared.

    Examples
    --------
    Winding 3 rises by a percent a year, the others stay:

    >>> days = [0.0, 365.0, 731.0, 1096.0, 1461.0]
    >>> values = {"1": 0.0, "2": 0.0, "3": 0.01, "4": 0.0}
    >>> of = [DayReading(day, w, 64.0 * (1 + rise * day / 365.25)) for day in days for w, rise in values.items()]
    >>> [(drift.winding, round(drift.change_frac, 3)) for drift in head_drift(of).called]
    [('3', 0.04)]
    """
    days = sorted({reading.day for reading in readings})
    years = (days[-1] - days[0]) / 365.25 if days else 0.0
    comparable = _comparable(readings)
    together = _together(readings, years)
    lines = len({reading.winding for reading in comparable}) + len(together)
    drifts, dof = _apart(comparable, years, lines)
    together = [replace(drift, p=min(drift.p * lines, 1.0)) for drift in together]
    return HeadDrift(n_days=len(days), years=years, dof=dof, drifts=(*drifts, *together))


def _comparable(readings: Sequence[DayReading]) -> list[DayReading]:
    """Readings of windings that were read often enough, on days with more than one of them."""
    seen: dict[str, set[float]] = {}
    for reading in readings:
        seen.setdefault(reading.winding, set()).add(reading.day)
    often = [reading for reading in readings if len(seen[reading.winding]) >= FEWEST_DAYS]
    on_day: dict[float, set[str]] = {}
    for reading in often:
        on_day.setdefault(reading.day, set()).add(reading.winding)
    return [reading for reading in often if len(on_day[reading.day]) > 1]


def _apart(readings: Sequence[DayReading], years: float, lines: int) -> tuple[list[Drift], int]:
    """Each winding against the others; the one that stands out most is taken out, and the rest is tested again."""
    drifts, dof = _against_the_others(readings, years)
    first_dof, found = dof, []
    while drifts:
        drifts = [replace(drift, p=min(drift.p * lines, 1.0)) for drift in drifts]
        worst = min(drifts, key=lambda drift: drift.p)
        if not worst.is_called or len(drifts) < 3:
            break
        found.append(worst)
        readings = _comparable([reading for reading in readings if reading.winding != worst.winding])
        drifts, dof = _against_the_others(readings, years)
    return [*found, *drifts], first_dof


def _against_the_others(readings: Sequence[DayReading], years: float) -> tuple[list[Drift], int]:
    """By least squares over days, windings and slopes; of two windings one line says all."""
    days = sorted({reading.day for reading in readings})
    windings = list(dict.fromkeys(reading.winding for reading in readings))
    n, k = len(windings), len(days)
    dof = len(readings) - k - 2 * (n - 1)
    if n < 2 or k < FEWEST_DAYS or dof < 1:
        return [], max(dof, 0)
    rows = [_row(reading, days, windings, sum(days) / k) for reading in readings]
    fitted = solved(rows, [log(reading.ohm) for reading in readings])
    if fitted is None:
        return [], 0
    scatter = max(sqrt(fitted.squares / dof), READING_SCATTER_FRAC)
    slopes = [0.0, *fitted.values[k + n - 1 :]]
    drifts = []
    for at, winding in enumerate(windings if n > 2 else windings[:1]):
        contrast = [(1.0 if one == at else -1.0 / (n - 1)) for one in range(n)]
        per_year = sum(weight * slope for weight, slope in zip(contrast, slopes, strict=True))
        u = scatter * sqrt(fitted.variance([0.0] * (k + n - 1) + contrast[1:]))
        drift = _drift(winding, per_year, u, years, two_sided_p(per_year / u, dof))
        drifts.append(drift if n > 2 else replace(drift, against=windings[1]))
    return drifts, dof


def _row(reading: DayReading, days: Sequence[float], windings: Sequence[str], middle: float) -> list[float]:
    """What each unknown has to do with a reading: the days, then every winding but the first, then their slopes."""
    row = [1.0 if day == reading.day else 0.0 for day in days]
    is_of = [1.0 if winding == reading.winding else 0.0 for winding in windings[1:]]
    return [*row, *is_of, *[one * (reading.day - middle) / 365.25 for one in is_of]]


def _together(readings: Sequence[DayReading], years: float) -> list[Drift]:
    """All windings as one: a straight line through the days, each with its own uncertainty."""
    by_day: dict[float, list[DayReading]] = {}
    for reading in readings:
        by_day.setdefault(reading.day, []).append(reading)
    whole = set.intersection(*({of.winding for of in ofs} for ofs in by_day.values())) if by_day else set()
    points = [(day, [of for of in ofs if of.winding in whole]) for day, ofs in sorted(by_day.items())]
    if len(points) < FEWEST_DAYS or not whole or any(of.u_ohm is None or of.u_ohm <= 0.0 for of in readings):
        return []
    x = [day / 365.25 for day, _ in points]
    y = [sum(log(of.ohm) for of in ofs) / len(ofs) for _, ofs in points]
    weights = [len(ofs) ** 2 / sum((of.u_ohm or inf) / of.ohm for of in ofs) ** 2 for _, ofs in points]
    total = sum(weights)
    x_mean = sum(w * one for w, one in zip(weights, x, strict=True)) / total
    y_mean = sum(w * one for w, one in zip(weights, y, strict=True)) / total
    spread = sum(w * (one - x_mean) ** 2 for w, one in zip(weights, x, strict=True))
    per_year = sum(w * (a - x_mean) * (b - y_mean) for w, a, b in zip(weights, x, y, strict=True)) / spread
    squares = sum(w * (b - y_mean - per_year * (a - x_mean)) ** 2 for w, a, b in zip(weights, x, y, strict=True))
    dof = len(points) - 2
    u = 1.0 / sqrt(spread)
    p = 2.0 * normal_cdf(-abs(per_year) / u)
    if squares > dof:  # the days scatter by more than they say
        u *= sqrt(squares / dof)
        p = max(p, two_sided_p(per_year / u, dof))
    return [_drift(None, per_year, u, years, p)]


def _drift(winding: str | None, per_year: float, u: float, years: float, p: float) -> Drift:
    return Drift(
        winding=winding,
        per_year_frac=per_year,
        u_per_year_frac=u,
        change_frac=exp(per_year * years) - 1.0,
        p=p,
    )
