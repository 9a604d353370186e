"""Histories of one valve to draw and to test: springs of readings, a head replaced, a winding that drifts or opens."""

import random
from datetime import date

from fifthwire.assessment.history.series import ValveHistory, valve_history
from fifthwire.model.followup import Work
from fifthwire.model.kept.places import HeadInstance, WindingPoint
from fifthwire.model.kept.whole import WorkPoint
from fifthwire.model.visit import Spec, Tolerance

WIRES = (("5", "1"), ("5", "2"), ("5", "3"), ("5", "4"))
SPEC = Spec(winding="unipolar-5", resistance_ohm=205.0, tolerance=Tolerance(frac=0.1), at_c=20.0)
SPRINGS = tuple(date(year, 4, 3 + year % 7) for year in range(2021, 2027))


def some_points(
    head: str,
    days: tuple[date, ...],
    *,
    rises: dict[str, float] | None = None,
    open_on: dict[date, str] | None = None,
    seed: int = 1,
    wires: tuple[tuple[str, str], ...] = WIRES,
    ohm: float = 205.0,
) -> list[WindingPoint]:
    rng = random.Random(seed)
    apart = {of: rng.gauss(0.0, 0.004) for of in wires}
    points = []
    for day in days:
        shared = rng.gauss(0.0, 0.008)
        for of in wires:
            years = (day - days[0]).days / 365.25
            value = ohm * (1 + apart[of] + shared + (rises or {}).get(of[1], 0.0) * years + rng.gauss(0.0, 0.0008))
            is_open = (open_on or {}).get(day) == of[1]
            points.append(
                WindingPoint(
                    date=day,
                    visit_id=f"T-{day}",
                    head_id=head,
                    wires=of,
                    ohm_at_spec=None if is_open else round(value, 3),
                    u_ohm=None if is_open else round(0.009 * value, 3),
                    verdict="faulty" if is_open else "sound",
                )
            )
    return points


def a_drifting_valve() -> ValveHistory:
    """Winding 3 of the second head rises; the first head lost winding 2."""
    first = some_points("H1", SPRINGS[:2], open_on={SPRINGS[1]: "2"}, seed=3)
    second = some_points("H2", SPRINGS[2:], rises={"3": 0.015}, seed=4)
    heads = [
        HeadInstance(id="H1", valve_id="V", since=date(2014, 6, 1), until=date(2022, 5, 2), is_present=False),
        HeadInstance(id="H2", valve_id="V", since=date(2022, 5, 2)),
    ]
    work = [
        WorkPoint(date=date(2022, 5, 2), visit_id="T-w", work=Work(valve="V", done="replaced-head")),
        WorkPoint(date=SPRINGS[4], visit_id="T-x", work=Work(valve="V", done="cleaned")),
    ]
    return valve_history([*first, *second], heads, work, SPEC)


def a_steady_valve() -> ValveHistory:
    head = HeadInstance(id="H1", valve_id="V", since=date(2019, 3, 1))
    return valve_history(some_points("H1", SPRINGS, seed=8), [head], [], SPEC)
