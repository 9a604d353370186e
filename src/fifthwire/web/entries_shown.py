"""The entries of a visit as a person can take them in: in groups, the visit itself, then a group a valve; in words."""

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final

from markupsafe import Markup

from fifthwire.model.kept.entry_words import PLACES
from fifthwire.model.kept.visits import EntryKept
from fifthwire.model.record import record
from fifthwire.model.words import WORDS, word

MOST_OPEN: Final = 40
"""Entries that are shown without being asked for; more stand as their groups, to be opened one by one.  Our choice."""

_VALVE_ITSELF: Final = "the valve itself"
_LONG_DECIMALS: Final = re.compile(r"\b\d+\.\d{8,}\b")


@record
class EntryGroup:
    """Entries that belong together."""

    name: str
    entries: tuple[EntryKept, ...]
    n_struck: int
    is_open: bool
    """Whether its entries are shown."""


def entry_groups(entries: Sequence[EntryKept], opened: str = "") -> tuple[EntryGroup, ...]:
    """The entries of a visit in groups.

    Parameters
    ----------
    entries : sequence of EntryKept
        All of a visit.
    opened : str
        Name of the group that the person opened.
    """
    named: dict[str, list[EntryKept]] = {}
    for entry in entries:
        named.setdefault(_group_of(entry.path), []).append(entry)
    return tuple(
        EntryGroup(
            name=name,
            entries=tuple(some),
            n_struck=sum(entry.is_void for entry in some),
            is_open=len(entries) <= MOST_OPEN or name == opened,
        )
        for name, some in named.items()
    )


def _group_of(path: str) -> str:
    first, _, rest = path.partition("/")
    if first == "valves" and rest:
        return rest.partition("/")[0].replace("%2F", "/").replace("%25", "%")
    return PLACES.get(first, first)


def entry_place(path: str) -> str:
    """Where an entry stands, without the valve that its group is of.

    Examples
    --------
    >>> entry_place("valves/OU1.main/readings"), entry_place("visit"), entry_place("specs/outdoor-clip")
    ('reading', 'visit', 'outdoor-clip')
    """
    first, _, rest = path.partition("/")
    if first == "valves":
        return PLACES.get(rest.partition("/")[2], _VALVE_ITSELF)
    return rest.replace("%2F", "/").replace("%25", "%") if rest else PLACES.get(first, first)


def entry_text(body: Mapping[str, Any]) -> Markup:
    """The keys of an entry with their values, as a person reads them; tables inside it on lines of their own."""
    plain_keys = {key: value for key, value in body.items() if not _is_table(value)}
    lines = [_keys_and_values(plain_keys)] if plain_keys else []
    for key, value in body.items():
        if _is_table(value):
            lines += [_line(f"{word(key)} {name}", one) for name, one in _tables_of(value)]
    return Markup("").join(lines)


def _is_table(value: Any) -> bool:
    return isinstance(value, Mapping) and any(isinstance(one, Mapping) for one in value.values())


def _tables_of(value: Mapping[str, Any]) -> list[tuple[str, Mapping[str, Any]]]:
    return [(name, one if isinstance(one, Mapping) else {name: one}) for name, one in value.items()]


def _line(name: str, body: Mapping[str, Any]) -> Markup:
    return Markup("<div><b>{}</b> {}</div>").format(name, _keys_and_values(body))


def _keys_and_values(body: Mapping[str, Any]) -> Markup:
    shown = [
        Markup('<span class="unit">{}</span> <span class="figure">{}</span>').format(word(key), entry_value(value))
        for key, value in body.items()
    ]
    return Markup("; ").join(shown)


def entry_value(value: Any) -> str:
    """A value of an entry as a person reads it: lists joined, tables as key and value, yes and no, words for keys.

    Examples
    --------
    >>> entry_value(["5", "1", 64.9]), entry_value(True), entry_value("clip-on"), entry_value("0.8999999999 %")
    ('5, 1, 64.9', 'yes', 'coil', '0.9 %')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return ", ".join(f"{word(key)} {entry_value(one)}" for key, one in value.items())
    if isinstance(value, list | tuple):
        parts = [
            " ".join(map(entry_value, one)) if isinstance(one, list | tuple) else entry_value(one) for one in value
        ]
        return ", ".join(parts)
    if isinstance(value, float):
        return f"{value:.7g}"
    text = str(value)
    return word(text) if text in WORDS else _LONG_DECIMALS.sub(lambda of: f"{float(of[0]):.6g}", text)
