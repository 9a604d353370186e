"""The readings of a valve sorted into heads and windings, with the band they should lie in and what was done."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from fifthwire.diagnosis.drift.head_drift import DayReading, HeadDrift, head_drift
from fifthwire.model.kept.places import HeadInstance, WindingPoint
from fifthwire.model.kept.whole import WorkPoint
from fifthwire.model.record import record
from fifthwire.model.visit import Spec
from fifthwire.model.words import word

SHAPES: Final = ("ring", "square", "triangle", "diamond", "cross", "plus")
"""Windings are told apart by these, not by colour; the seventh begins again."""


@record(kw_only=False)
class Spot:
    """One winding on one day, at the spec's temperature."""

    day: date
    visit_id: str
    ohm: float | None
    u_ohm: float | None
    is_open: bool


@record
class WindingSeries:
    """One winding of one head over the years."""

    name: str
    shape: str
    spots: tuple[Spot, ...]


@record
class HeadSeries:
    """One head over the years."""

    head: HeadInstance | None
    """None for readings that no head is known for."""
    windings: tuple[WindingSeries, ...]
    drift: HeadDrift

    @property
    def days(self) -> tuple[date, ...]:
        """On which it was read."""
        return tuple(sorted({spot.day for winding in self.windings for spot in winding.spots}))


@record(kw_only=False)
class Event:
    """What was done on a day, in a word."""

    day: date
    word: str


@record
class ValveHistory:
    """All heads of a valve, oldest first."""

    heads: tuple[HeadSeries, ...]
    band_ohm: tuple[float, float] | None
    """Where a good winding lies at the spec's temperature; None without a spec."""
    at_c: float
    """The spec's temperature. [°C]"""
    events: tuple[Event, ...]

    @property
    def is_empty(self) -> bool:
        """Whether nothing was ever read."""
        return not any(winding.spots for head in self.heads for winding in head.windings)


def valve_history(
    points: Sequence[WindingPoint], heads: Sequence[HeadInstance], work: Sequence[WorkPoint], spec: Spec | None
) -> ValveHistory:
    """Sort what was read of a valve.

    Parameters
    ----------
    points : sequence of WindingPoint
        Every winding of every visit.
    heads : sequence of HeadInstance
        That were on the valve.
    work : sequence of WorkPoint
        What was done to it.
    spec : Spec or None
        What its head should measure.
    """
    known = {head.id: head for head in heads}
    by_head: dict[str | None, list[WindingPoint]] = {}
    for point in sorted(points, key=lambda one: (one.date, one.visit_id)):
        by_head.setdefault(point.head_id, []).append(point)
    series = [_head(known.get(head_id or ""), of) for head_id, of in by_head.items()]
    return ValveHistory(
        heads=tuple(sorted(series, key=lambda of: of.days)),
        band_ohm=_band(spec),
        at_c=20.0 if spec is None or spec.at_c is None else spec.at_c,
        events=tuple(Event(one.date, word(one.work.done)) for one in work if not one.work.is_void),
    )


def _head(head: HeadInstance | None, points: Sequence[WindingPoint]) -> HeadSeries:
    finite = {point.visit_id for point in points if point.ohm_at_spec is not None}
    names = sorted({"-".join(point.wires) for point in points})
    windings = []
    for at, name in enumerate(names):
        spots = [
            Spot(
                point.date,
                point.visit_id,
                point.ohm_at_spec,
                point.u_ohm,
                # where other windings of that day have a value, this one has none because it is open
                point.ohm_at_spec is None and point.visit_id in finite,
            )
            for point in points
            if "-".join(point.wires) == name
        ]
        windings.append(WindingSeries(name=name, shape=SHAPES[at % len(SHAPES)], spots=tuple(spots)))
    return HeadSeries(head=head, windings=tuple(windings), drift=head_drift(_day_readings(windings)))


def _day_readings(windings: Sequence[WindingSeries]) -> list[DayReading]:
    return [
        DayReading(float(spot.day.toordinal()), winding.name, spot.ohm, spot.u_ohm)
        for winding in windings
        for spot in winding.spots
        if spot.ohm is not None and spot.ohm > 0.0
    ]


def _band(spec: Spec | None) -> tuple[float, float] | None:
    if spec is None or spec.resistance_ohm is None or spec.tolerance is None:
        return None
    middle = spec.resistance_ohm
    half = spec.tolerance.ohm if spec.tolerance.ohm is not None else middle * (spec.tolerance.frac or 0.0)
    return middle - half, middle + half
