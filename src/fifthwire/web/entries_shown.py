"""The entries of a visit in groups that a person can take in: the visit itself, then a group a valve."""

from collections.abc import Sequence

from fifthwire.model.kept.entry_words import PLACES
from fifthwire.model.kept.visits import EntryKept
from fifthwire.model.record import record

MOST_OPEN = 40
"""Entries that are shown without being asked for; more stand folded, a group a line.  Our choice."""


@record
class EntryGroup:
    """Entries that belong together."""

    name: str
    entries: tuple[EntryKept, ...]
    n_struck: int
    is_open: bool
    """Unfolded when the page opens."""


def entry_groups(entries: Sequence[EntryKept], strike: str = "") -> tuple[EntryGroup, ...]:
    """The entries of a visit in groups.

    Parameters
    ----------
    entries : sequence of EntryKept
        All of a visit.
    strike : str
        Id of the entry that is about to be struck out: its group stands open.
    """
    named: dict[str, list[EntryKept]] = {}
    for entry in entries:
        named.setdefault(_group_of(entry.path), []).append(entry)
    return tuple(
        EntryGroup(
            name=name,
            entries=tuple(some),
            n_struck=sum(entry.is_void for entry in some),
            is_open=len(entries) <= MOST_OPEN or any(entry.id == strike for entry in some),
        )
        for name, some in named.items()
    )


def _group_of(path: str) -> str:
    first, _, rest = path.partition("/")
    if first == "valves" and rest:
        return rest.partition("/")[0].replace("%2F", "/").replace("%25", "%")
    return PLACES.get(first, first)
