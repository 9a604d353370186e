"""A valve in its pipe: symbol, mark, what it is called and its state in a word, all of it one link."""

from collections.abc import Callable, Sequence
from html import escape
from typing import Final

from fifthwire.assessment.drawing import lettering, shortened
from fifthwire.assessment.marks import MARKS
from fifthwire.assessment.printable import printable
from fifthwire.assessment.stave.symbols import use
from fifthwire.model.kept.places import ValvePlace, ValveRow
from fifthwire.model.record import record
from fifthwire.model.words import word

LINE: Final = 12.0
"""Of the lettering under a valve.  [px]"""
_ROOM: Final = 8
"""Letters that fit beside a pipe."""
_NARROWEST_LANE: Final = 46.0
"""Motor at the left, mark at the right.  [px]"""
_LABEL_LETTER, _WORD_LETTER = 7.2, 6.6
"""Width of a letter at most, on the average of a word, in the widest of the system's faces.  [px]"""
_WORDS: Final = {mark.key: mark.word for mark in MARKS}


@record
class Pen:
    """What every part of one drawing is drawn with."""

    prefix: str
    """Of the ids of its symbols."""
    link: Callable[[ValvePlace], str] | None
    """Address of a valve's page; None on paper."""


@record(kw_only=False)
class Area:
    """What can be touched."""

    x: float
    y: float
    width: float
    height: float


def mark_key(row: ValveRow) -> str:
    """The mark of a valve; one that no visit has judged is not checked."""
    return row.now.mark if row.now is not None else "not-checked"


def is_urgent(row: ValveRow) -> bool:
    """Whether something is to be done at once."""
    return row.now is not None and row.now.urgency == "now"


def state_words(row: ValveRow) -> str:
    """The state as a word, with "now" beside it where it is urgent."""
    return _WORDS[mark_key(row)] + (", now" if is_urgent(row) else "")


def said_of(row: ValveRow, room: str = "") -> str:
    """The valve in words, for who cannot see where it stands.

    Parameters
    ----------
    row : ValveRow
        The valve.
    room : str
        That its unit serves.
    """
    cause = row.now.cause if row.now is not None else None
    why = f", {word(cause)}" if cause not in (None, "sound", "other") and mark_key(row) != "good" else ""
    place = ", ".join(part for part in (row.valve.unit, room) if part)
    return f"{row.valve.label}: {state_words(row)}{why}. {place}."


def short_label(row: ValveRow) -> str:
    """The label without the name of the unit, which stands at the unit."""
    rest = row.valve.label
    if rest.startswith(row.valve.unit) and len(rest) > len(row.valve.unit) + 1:
        rest = rest[len(row.valve.unit) :].lstrip("-_/ .:")
    return shortened(rest, _ROOM + 1)


def lane_lines(row: ValveRow) -> tuple[str, ...]:
    """What stands beside a pipe under a valve: its label, then its state, a word a line."""
    return (short_label(row), *state_words(row).replace(",", "").split())


def lane_width(row: ValveRow | None) -> float:
    """From a pipe to the next one at its right, so that nothing between them touches. [px]"""
    if row is None:
        return _NARROWEST_LANE
    label, *words = lane_lines(row)
    widest = max(_LABEL_LETTER * len(label), *[_WORD_LETTER * len(text) for text in words])
    return max(_NARROWEST_LANE, 12.0 + widest)


def state_ink(row: ValveRow) -> str:
    """A fault stands out, the rest is quiet."""
    return "d-label" if mark_key(row) in ("bad", "probable") or is_urgent(row) else "d-word"


def valve_in_lane(pen: Pen, row: ValveRow, x: float, y: float) -> str:
    """A valve in a falling pipe, its lettering at the right of the pipe.

    Parameters
    ----------
    pen : Pen
        To draw with.
    row : ValveRow
        The valve.
    x, y : float
        Its middle.
    """
    lines = lane_lines(row)
    texts = [lettering(x + 5, y + 22, lines[0], "d-label")]
    texts += [lettering(x + 5, y + 22 + LINE * (k + 1), text, state_ink(row)) for k, text in enumerate(lines[1:])]
    return linked(pen, row, x, y, texts, Area(x - 23, y - 12, 48, 25 + LINE * len(lines)))


def linked(pen: Pen, row: ValveRow, x: float, y: float, texts: Sequence[str], area: Area, room: str = "") -> str:
    """The symbol and mark of a valve with its lettering, as one link where there is somewhere to go.

    Parameters
    ----------
    pen : Pen
        To draw with.
    row : ValveRow
        The valve.
    x, y : float
        Its middle.
    texts : sequence of str
        Lettering, drawn.
    area : Area
        What can be touched.
    room : str
        That its unit serves.
    """
    symbol = "solenoid" if row.valve.kind == "solenoid" else "eev"
    drawn = use(pen.prefix, symbol, x, y) + use(pen.prefix, f"mark-{mark_key(row)}", x, y) + " ".join(texts)
    if pen.link is None:
        return f"<g>{drawn}</g>"
    hit = (
        f'<rect class="d-hit" x="{area.x:.0f}" y="{area.y:.0f}" width="{area.width:.0f}" '
        f'height="{area.height:.0f}" rx="3"/>'
    )
    said = escape(printable(said_of(row, room)))
    return f'<a href="{escape(pen.link(row.valve))}" aria-label="{said}">{hit}{drawn}</a>'
