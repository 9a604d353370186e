"""The table behind the chart: a row a visit, a column a winding; and the same for a chart that a browser draws."""

from datetime import UTC, date, datetime
from typing import Any

from fifthwire.assessment.figures import day, ohms
from fifthwire.assessment.history.series import HeadSeries, Spot, ValveHistory
from fifthwire.model import history_words as words
from fifthwire.model.record import record


@record
class HistoryRow:
    """One visit's values."""

    day: date
    visit_id: str
    cells: tuple[str, ...]
    """A winding each, with its standard uncertainty; empty where it was not read."""


def history_rows(head: HeadSeries) -> tuple[HistoryRow, ...]:
    """The visits at which a head was read, newest first.

    Parameters
    ----------
    head : HeadSeries
        One head.
    """
    visits = sorted({(spot.day, spot.visit_id) for winding in head.windings for spot in winding.spots}, reverse=True)
    spots = [{spot.visit_id: spot for spot in winding.spots} for winding in head.windings]
    return tuple(
        HistoryRow(day=on, visit_id=visit_id, cells=tuple(_cell(of.get(visit_id)) for of in spots))
        for on, visit_id in visits
    )


def _cell(spot: Spot | None) -> str:
    if spot is None:
        return ""
    if spot.is_open:
        return words.OPEN
    return words.NO_VALUE if spot.ohm is None else ohms(spot.ohm, spot.u_ohm)


def chart_data(history: ValveHistory) -> dict[str, Any]:
    """What a chart in a browser is drawn from: a series a winding of each head, on one axis of time.

    Parameters
    ----------
    history : ValveHistory
        With at least one reading.

    Returns
    -------
    dict
        Plain values; times in seconds since 1970, resistances in ohm, null where there is none.
    """
    days = sorted({on for head in history.heads for on in head.days})
    series = []
    for number, head in enumerate(history.heads, start=1):
        for winding in head.windings:
            by_day = {spot.day: spot for spot in winding.spots}
            found = [by_day.get(on) for on in days]
            series.append(
                {
                    "label": winding.name,
                    "head": number,
                    "shape": winding.shape,
                    "ohm": [None if spot is None else spot.ohm for spot in found],
                    "u_ohm": [None if spot is None else spot.u_ohm for spot in found],
                    "shown": ["" if spot is None else _cell(spot) for spot in found],
                }
            )
    return {
        "at": [_seconds(on) for on in days],
        "days": [day(on) for on in days],
        "unit": "Ω",
        "band_ohm": history.band_ohm,
        "series": series,
        "events": [{"at": _seconds(event.day), "word": event.word} for event in history.events],
        "heads": [_seconds(head.days[0]) for head in history.heads[1:]],
    }


def _seconds(on: date) -> int:
    return int(datetime(on.year, on.month, on.day, 12, tzinfo=UTC).timestamp())
