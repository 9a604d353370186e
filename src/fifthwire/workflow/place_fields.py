"""What a person may write of a place: names, zones, choices and sizes, checked before the register sees them."""

from collections.abc import Iterable
from typing import Final
from zoneinfo import ZoneInfo, available_timezones

from fifthwire.model.errors import InputError
from fifthwire.model.nearest import nearest

LONGEST_NAME: Final = 200
"""Characters of a name.  Our choice: longer ones are pasted by mistake."""
LONGEST_TEXT: Final = 10_000
"""Characters of a note or an address.  Our choice."""
HIGHEST_M: Final = 9000.0
LOWEST_M: Final = -500.0
"""Altitudes that a building can have.  [m]  As the visit file's `altitude` allows."""
LARGEST_KW: Final = 1000.0
"""Capacity that no single unit reaches.  [kW]  Our choice."""
YEARS: Final = (1900, 2100)
"""As the visit file's `installed` allows."""


def name(written: str, what: str) -> str:
    """A name without spaces around it.

    Parameters
    ----------
    written : str
        As it was typed.
    what : str
        What is named, for the message: "a site".

    Raises
    ------
    InputError
        If it is empty, too long or holds signs that do not print.
    """
    bare = " ".join(written.split())
    if not bare:
        raise InputError(f"The name of {what} is empty.", "Write what people call it.")
    if len(bare) > LONGEST_NAME:
        raise InputError(f"The name of {what} has {len(bare)} characters.", f"Keep it under {LONGEST_NAME}.")
    if not bare.isprintable():
        raise InputError(f"The name of {what} holds signs that do not print.", "Type it anew.")
    return bare


def text(written: str | None, what: str) -> str | None:
    """Free text, or nothing where it is empty.

    Raises
    ------
    InputError
        If it is too long, or holds a sign that no database keeps.
    """
    bare = (written or "").strip()
    if len(bare) > LONGEST_TEXT:
        raise InputError(f"{what} has {len(bare)} characters.", f"Keep it under {LONGEST_TEXT}.")
    if "\0" in bare:
        raise InputError(f"{what} holds signs that do not print.", "Type it anew.")
    return bare or None


def zone(written: str) -> str:
    """An IANA time zone.

    Raises
    ------
    InputError
        If none has that name; the nearest one is offered.
    """
    bare = written.strip()
    try:
        ZoneInfo(bare)
    except (KeyError, ValueError, OSError) as err:
        near = nearest(bare, available_timezones())
        hint = f"Did you mean {near}?" if near else "Write Area/City, as in Europe/London."
        raise InputError(f"{bare or 'Nothing'} is no time zone known here.", hint) from err
    return bare


def one_of(written: str | None, words: Iterable[str], what: str) -> str:
    """One of a few words.

    Raises
    ------
    InputError
        If it is none of them; the nearest one is offered.
    """
    known = tuple(words)
    if written in known:
        return str(written)
    near = nearest(written or "", known)
    offered = f"Did you mean {near}? " if near else ""
    raise InputError(f"{written or 'Nothing'} is not {what}.", f"{offered}Known are {', '.join(known)}.")


def maybe_one_of(written: str | None, words: Iterable[str], what: str) -> str | None:
    """One of a few words, or nothing where it is empty.

    Raises
    ------
    InputError
        If it is none of them.
    """
    return one_of(written, words, what) if written else None


def within(value: float | None, low: float, high: float, what: str, unit: str) -> float | None:
    """A number in its limits, or nothing.

    Raises
    ------
    InputError
        If it lies outside, or is no number at all.
    """
    if value is None:
        return None
    if not low <= value <= high:
        raise InputError(f"{what} of {value:g} {unit} cannot be.", f"It lies between {low:g} and {high:g} {unit}.")
    return value


def whole_within(value: int | None, low: int, high: int, what: str) -> int | None:
    """A whole number in its limits, or nothing.

    Raises
    ------
    InputError
        If it lies outside.
    """
    if value is not None and not low <= value <= high:
        raise InputError(f"{what} {value} cannot be.", f"It lies between {low} and {high}.")
    return value
