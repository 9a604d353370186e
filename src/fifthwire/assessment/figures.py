"""Numbers, temperatures and dates as people read them: as many digits as the uncertainty bears, in their units.

The unit follows a thin space that no line ends at. `±` is always followed by one standard uncertainty; every page that
uses it says so.
"""

import re
from collections.abc import Sequence
from datetime import date
from math import floor, isfinite, log10
from typing import Final

THIN_SPACE: Final = "\u202f"
FIGURE_SPACE: Final = "\u2007"
"""As wide as a digit: numbers of different length are padded with it to stand on their decimal point."""
NO_BREAK_SPACE: Final = "\u00a0"
"""Keeps a figure with its unit or its name; in the typewriter face a thin space is as wide as any other."""
NO_BREAK_HYPHEN: Final = "\u2011"
MINUS: Final = "\u2212"

_MONTHS: Final = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
]
_MOST_DECIMALS: Final = 4


def decimals_borne(u: float | None) -> int:
    """How many decimals a value with this standard uncertainty deserves.

    The uncertainty keeps one digit, two where the first is a 1, so that rounding never changes it by half.

    Examples
    --------
    >>> [decimals_borne(u) for u in (0.41, 0.16, 0.96, 3.0, 25.0)]
    [1, 2, 1, 0, 0]
    """
    if u is None or not isfinite(u) or u <= 0.0:
        return 1
    kept = 1 - floor(log10(u)) if f"{u:.1e}".startswith("1") else -floor(log10(u))
    return min(max(kept, 0), _MOST_DECIMALS)


def number(value: float, decimals: int = 1) -> str:
    """A number with a true minus sign.

    Examples
    --------
    >>> number(-3.14159, 2)
    '−3.14'
    """
    shown = f"{value:.{decimals}f}"
    is_zero = not shown.strip("-0.")
    return shown.lstrip("-") if is_zero else shown.replace("-", MINUS)


def plain(value: float) -> str:
    """A number as it was written down: no more digits than it has.

    Examples
    --------
    >>> plain(64.0), plain(10.5)
    ('64', '10.5')
    """
    return number(value, 0) if value == round(value) else f"{value:.{_MOST_DECIMALS + 2}g}".replace("-", MINUS)


def with_unit(text: str, unit: str) -> str:
    """A figure and its unit, a thin space between."""
    return f"{text}{THIN_SPACE}{unit}"


def ohms(value: float | None, u: float | None = None, decimals: int | None = None) -> str:
    """A resistance with its standard uncertainty.

    Examples
    --------
    >>> ohms(62.1, 0.41), ohms(None), ohms(64.9)
    ('62.1 ± 0.4\u202fΩ', 'open', '64.9\u202fΩ')
    """
    if value is None:
        return "open"
    places = decimals_borne(u) if decimals is None else decimals
    spread = "" if u is None else f" ± {number(u, places)}"
    return with_unit(number(value, places) + spread, "Ω")


def temperature(value_c: float, units: str = "si", decimals: int = 0) -> str:
    """A point on the scale people use.

    Examples
    --------
    >>> temperature(20.0), temperature(20.0, "us"), temperature(-15.0)
    ('20\u202f°C', '68\u202f°F', '−15\u202f°C')
    """
    if units == "us":
        return with_unit(number(value_c * 1.8 + 32.0, decimals), "°F")
    return with_unit(number(value_c, decimals), "°C")


def difference(value_k: float, units: str = "si", decimals: int = 0) -> str:
    """A difference of temperatures.

    Examples
    --------
    >>> difference(5.0), difference(5.0, "us")
    ('5\u202fK', '9\u202f°F')
    """
    if units == "us":
        return with_unit(number(value_k * 1.8, decimals), "°F")
    return with_unit(number(value_k, decimals), "K")


_POINTS: Final = re.compile(r"([-−]?\d+(?:\.\d+)?)( to )?([-−]?\d+(?:\.\d+)?)?(\s?)°C")
_DIFFERENCE: Final = re.compile(r"([-−]?\d+(?:\.\d+)?)(\s)K\b")


_ISO_DAY: Final = re.compile(r"\b(\d{4})-(\d\d)-(\d\d)\b")


def in_units(text: str, units: str) -> str:
    """A sentence with its temperatures on the scale people use and its dates without room for doubt.

    Sentences of `model.reasons` are written in °C and K; their figures are turned, with as many decimals.

    Examples
    --------
    >>> in_units("anything from -15 to 75 °C", "us"), in_units("off by 3.0 K", "us")
    ('anything from 5 to 167 °F', 'off by 5.4 °F')
    """
    text = _ISO_DAY.sub(_named_day, text)
    if units != "us":
        return text
    turned = _POINTS.sub(lambda of: f"{_turned(of[1], 32.0)}{of[2] or ''}{_turned(of[3], 32.0)}{of[4]}°F", text)
    return _DIFFERENCE.sub(lambda of: f"{_turned(of[1], 0.0)}{of[2]}°F", turned)


def _named_day(iso: re.Match[str]) -> str:
    """A date as people read it; what only looks like one stays."""
    try:
        return day(date(int(iso[1]), int(iso[2]), int(iso[3])))
    except ValueError:
        return iso[0]


def _turned(shown: str | None, offset: float) -> str:
    if shown is None:
        return ""
    return number(float(shown.replace(MINUS, "-")) * 1.8 + offset, len(shown.partition(".")[2]))


def percent(fraction: float) -> str:
    """A share in percent.

    Examples
    --------
    >>> percent(0.1), percent(0.009)
    ('10\u202f%', '0.9\u202f%')
    """
    return with_unit(f"{fraction * 100.0:.4g}", "%")


def day(on: date) -> str:
    """A date without room for doubt.

    Examples
    --------
    >>> day(date(2026, 5, 12))
    '12 May 2026'
    """
    return f"{on.day} {_MONTHS[on.month - 1]} {on.year}"


def on_the_point(texts: Sequence[str]) -> tuple[str, ...]:
    """Numbers padded so that they stand on their decimal point in tabular figures; words stay as they are.

    Examples
    --------
    >>> [text.replace(FIGURE_SPACE, "_") for text in on_the_point(["64.9", "130", "open"])]
    ['_64.9', '130__', 'open']
    """
    numbers = [text for text in texts if text[:1].isdigit() or text[:1] == MINUS]
    before = max((len(text.partition(".")[0]) for text in numbers), default=0)
    after = max((len(text) - len(text.partition(".")[0]) for text in numbers), default=0)
    return tuple(_padded(text, before, after) if text in numbers else text for text in texts)


def _padded(text: str, before: int, after: int) -> str:
    whole = text.partition(".")[0]
    return FIGURE_SPACE * (before - len(whole)) + text + FIGURE_SPACE * (after - (len(text) - len(whole)))


def listed(names: Sequence[str], most: int = 4) -> str:
    """Names in a sentence; beyond `most` the rest is counted.

    Examples
    --------
    >>> listed(["A", "B"]), listed(["A", "B", "C", "D"], most=2)
    ('A and B', 'A, B and 2 more')
    """
    if len(names) > most:
        names = [*names[:most], f"{len(names) - most} more"]
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def counted(n: int, one: str, many: str = "") -> str:
    """A count with its noun.

    Examples
    --------
    >>> counted(1, "valve"), counted(3, "valve")
    ('1 valve', '3 valves')
    """
    return f"{n} {one if n == 1 else many or one + 's'}"
