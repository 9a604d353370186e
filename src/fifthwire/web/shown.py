"""How figures, days and marks are shown: the filters of the templates."""

import re
from collections.abc import Sequence
from datetime import date, datetime
from itertools import groupby
from operator import attrgetter
from typing import Any, Final
from zoneinfo import ZoneInfo

from markupsafe import Markup

from fifthwire.assessment.drawing_marks import SIZE, mark_strokes
from fifthwire.assessment.figures import (
    NO_BREAK_SPACE,
    THIN_SPACE,
    day,
    difference,
    in_units,
    number,
    ohms,
    plain,
    temperature,
    with_unit,
)
from fifthwire.assessment.marks import MARKS, Mark
from fifthwire.model.kept.people import UnitSystem
from fifthwire.model.units import convert
from fifthwire.model.words import head_word, how_sure, word

_BEFORE_UNIT: Final = re.compile(r"(?<=\d) (?=(?:Ω|kΩ|MΩ|°C|°F|K|V|mm|kPa|psi|Hz|%)(?!\w))")
NOTHING: Final = "–"
"""Where nothing is known."""
_MARKS: Final[dict[str, Mark]] = {mark.key: mark for mark in MARKS}


def filters() -> dict[str, Any]:
    """What templates may call, by name."""
    return {
        "day": shown_day,
        "moment": shown_moment,
        "word": word,
        "head_word": head_word,
        "how_sure": how_sure,
        "mark": mark_picture,
        "mark_word": mark_word,
        "mark_meaning": mark_meaning,
        "ohms": ohms,
        "quantity": quantity,
        "sentence": sentence,
        "altitude": altitude,
        "share": percent_of,
        "capital": capital,
        "difference": shown_difference,
        "groups": groups,
        "number": number,
        "plain": plain,
        "temperature": temperature,
        "iso": lambda value: value.isoformat(),
        "short_hash": lambda value: value[:12],
    }


def shown_day(on: date | None) -> Markup | str:
    """A day as people read it, and as machines do."""
    if on is None:
        return NOTHING
    return Markup('<time datetime="{}">{}</time>').format(on.isoformat(), day(on).replace(" ", "\u00a0"))


def shown_moment(at_utc: datetime | None, zone: str = "UTC") -> Markup | str:
    """A moment in a place's own time, with the zone's name."""
    if at_utc is None:
        return NOTHING
    local = at_utc.astimezone(ZoneInfo(zone))
    text = f"{day(local.date())}, {local:%H:%M} {local:%Z}"
    return Markup('<time datetime="{}">{}</time>').format(at_utc.isoformat(), text.replace(" ", "\u00a0"))


def mark_picture(key: str | None) -> Markup:
    """A mark as a drawing; its word stands beside it, so that it is hidden from a screen reader."""
    strokes = mark_strokes(key if key in _MARKS else "not-checked")
    return Markup(f'<svg class="mark" viewBox="0 0 {SIZE} {SIZE}" aria-hidden="true" focusable="false">{strokes}</svg>')


def mark_word(key: str | None) -> str:
    """The word of a mark."""
    return _MARKS[key if key in _MARKS else "not-checked"].word


def mark_meaning(key: str) -> str:
    """What a mark says, for the legend."""
    return _MARKS[key].meaning


def quantity(value: float | None, unit: str) -> Markup | str:
    """A figure with its unit in quiet ink after a thin space."""
    if value is None:
        return NOTHING
    return Markup('<span class="figure">{}</span><span class="unit">{}{}</span>').format(plain(value), THIN_SPACE, unit)


def altitude(altitude_m: float | None, units: UnitSystem) -> Markup | str:
    """A height above the sea."""
    return (
        quantity(round(convert(altitude_m, "m", "ft")), "ft")
        if altitude_m and units == "us"
        else quantity(altitude_m, "m")
    )


def shown_difference(value_k: float | None, units: UnitSystem) -> str:
    """A difference of temperatures, to a tenth."""
    return NOTHING if value_k is None else difference(value_k, units, 1)


def percent_of(probability: float) -> str:
    """A probability in whole percent, never rounded to none or all."""
    if 0.995 <= probability < 1.0:
        return with_unit("over 99", "%")
    if 0.0 < probability < 0.005:
        return with_unit("under 1", "%")
    return with_unit(f"{probability * 100.0:.0f}", "%")


def capital(text: str) -> str:
    """The first letter a capital, the rest as it is."""
    return text[:1].upper() + text[1:]


def sentence(text: str, units: str = "si") -> str:
    """A sentence of the program in the units of this person, no unit at the start of a line.

    Examples
    --------
    >>> sentence("They agree within 1.3 Ω at 20 °C.", "us")
    'They agree within 1.3\u202fΩ at 68\u202f°F.'
    """
    return _BEFORE_UNIT.sub(THIN_SPACE, in_units(text, units)).replace(" p. ", f" p.{NO_BREAK_SPACE}")


def groups(rows: Sequence[Any], name: str) -> list[tuple[str, list[Any]]]:
    """Rows that follow one another with the same value of an attribute, under that value."""
    return [(str(value), list(some)) for value, some in groupby(rows, key=attrgetter(name))]
