"""Single values of a file, each by the kind that its field's note gives: words, numbers, quantities, dates, times."""

from datetime import UTC, date, datetime
from typing import Any

from fifthwire.model.errors import InputError
from fifthwire.model.fields import FieldNote, Kind
from fifthwire.model.nearest import nearest
from fifthwire.model.units import finite, parse_quantity
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.places import shortened

ABSOLUTE_ZERO_C = -273.15
"""Lowest temperature there is.  [°C]  By definition of the kelvin."""


def shown(written: Any) -> str:
    """A value of a file as a message names it."""
    if isinstance(written, bool):
        return "true" if written else "false"
    if written is None:
        return "null"
    if isinstance(written, str):
        return f'"{shortened(written, 40)}"'
    if isinstance(written, dict | list):
        return "a table" if isinstance(written, dict) else "an array"
    return shortened(str(written), 40) if not isinstance(written, int) or abs(written) < 10**40 else "a number"


def read_text(written: Any, note: FieldNote, context: Context) -> str:
    """Free text; empty only where it may be left out."""
    if not isinstance(written, str):
        quoted = f'write "{written}"' if isinstance(written, int | float | date) else "write it in quotes"
        raise InputError(f"{shown(written)} is no text", quoted)
    if note.required and not written.strip():
        raise InputError("it is empty", f"write {note.help}" + (f", such as {note.example}" if note.example else ""))
    return written


def read_choice(written: Any, note: FieldNote, context: Context) -> str:
    """One of the note's words."""
    return one_of(written, note.choices)


def one_of(written: Any, words: tuple[str, ...]) -> str:
    """One of a few words, or an error that names the nearest."""
    if isinstance(written, str) and written in words:
        return written
    near = nearest(written, words) if isinstance(written, str) else None
    offered = f'did you mean "{near}"? ' if near else ""
    raise InputError(f"{shown(written)} is not known here", f"{offered}known are {', '.join(words)}")


def read_flag(written: Any, note: FieldNote, context: Context) -> bool:
    """True or false."""
    if isinstance(written, bool):
        return written
    raise InputError(f"{shown(written)} is neither true nor false", "write true or false, without quotes")


def read_integer(written: Any, note: FieldNote, context: Context) -> int:
    """A whole number."""
    whole = isinstance(written, int) or (isinstance(written, float) and written.is_integer())
    if not whole or isinstance(written, bool):
        raise InputError(f"{shown(written)} is no whole number", "write digits only, without quotes")
    within(finite(written), note, shown(written))
    return int(written)


def read_quantity(written: Any, note: FieldNote, context: Context) -> float:
    """A bare number in the note's unit, or a string with a unit."""
    value = parse_quantity(written, note.unit, air_kpa_abs=context.air_kpa_abs)
    within(value, note, shown(written))
    return value


def within(value: float, note: FieldNote, written: str) -> None:
    """An error where the value lies outside what is possible."""
    low = ABSOLUTE_ZERO_C if note.low is None and note.unit == "degC" else note.low
    unit = f" {note.unit}".rstrip() if note.unit != "frac" else ""
    check = "check the number and its unit"
    if low is not None and value < low:
        raise InputError(f"{written} is below {low:g}{unit}, which cannot be", check)
    if note.above is not None and value <= note.above:
        raise InputError(f"{written} is not above {note.above:g}{unit}, which cannot be", check)
    if note.high is not None and value > note.high:
        raise InputError(f"{written} is above {note.high:g}{unit}, which cannot be", check)


def read_day(written: Any, note: FieldNote, context: Context) -> date:
    """A date."""
    return to_day(written)


def to_day(written: Any) -> date:
    """A TOML date, or a string YYYY-MM-DD."""
    if isinstance(written, datetime):
        raise InputError(f"{shown(written)} is a time, where a date is asked for", f"write {written.date()}")
    if isinstance(written, date):
        return written
    if isinstance(written, str) and len(written) == 10 and written[4] == written[7] == "-":
        try:
            return date.fromisoformat(written)
        except ValueError as err:
            raise InputError(f"{shown(written)} is no day of the calendar", "write YYYY-MM-DD") from err
    raise InputError(f"{shown(written)} is no date", 'write YYYY-MM-DD; in JSON "YYYY-MM-DD"')


def read_moment(written: Any, note: FieldNote, context: Context) -> datetime:
    """A date and time in UTC; without an offset it is of the visit's time zone."""
    try:
        moment = datetime.fromisoformat(written) if isinstance(written, str) and len(written) > 10 else written
        if not isinstance(moment, datetime):
            raise InputError(f"{shown(written)} is no date and time", "write 2026-05-12T10:30:00+01:00")
        if moment.tzinfo is None:
            moment = _placed(moment, context)
        return moment.astimezone(UTC)
    except (ValueError, OverflowError) as err:
        if isinstance(err, InputError):
            raise
        raise InputError(f"{shown(written)} is no date and time", "write 2026-05-12T10:30:00+01:00") from err


def _placed(moment: datetime, context: Context) -> datetime:
    if context.zone is None:
        hint = f'write {moment.isoformat()}+01:00, or add time_zone = "Europe/London" to [visit]'
        raise InputError(f"{moment.isoformat()} does not say its offset from UTC", hint)
    return moment.replace(tzinfo=context.zone)


SCALARS = {
    Kind.TEXT: read_text,
    Kind.CHOICE: read_choice,
    Kind.FLAG: read_flag,
    Kind.INTEGER: read_integer,
    Kind.NUMBER: read_quantity,
    Kind.QUANTITY: read_quantity,
    Kind.DAY: read_day,
    Kind.MOMENT: read_moment,
}
"""The reader of each kind that is one value."""
