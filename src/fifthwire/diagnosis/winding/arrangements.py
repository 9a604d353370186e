"""Every way in which the wires of a head can be joined inside it.

An arrangement is a tuple of wires by position:

    unipolar-5   (common, end 1, end 2, end 3, end 4)         ends 1, 2 on one bobbin, ends 3, 4 on the other
    unipolar-6   (common, end 1, end 2, common, end 3, end 4) a group is a bobbin
    bipolar-4    (wire, wire, wire, wire)                     two windings, each a bobbin
    single-2     (wire, wire)

Arrangements that are images of one another under an exchange of untouched wires are kept as one class with all its
members: they predict the same readings.
"""

from functools import cache
from itertools import combinations
from typing import Final

from fifthwire.model.record import record


@record(kw_only=False)
class Layout:
    """Which positions of an arrangement are what."""

    ends: tuple[int, ...]
    """The free end of each winding; one of its two wires where there is no common."""
    commons: tuple[int, ...]
    """Common wires."""
    common_of: tuple[int, ...]
    """The wire at the other end of each winding."""
    group_of: tuple[int, ...]
    """Group of each position: wires of different groups are not joined in a sound head."""
    one_bobbin: bool
    """Whether windings share bobbins two by two."""


LAYOUTS: Final = {
    "unipolar-5": Layout((1, 2, 3, 4), (0,), (0, 0, 0, 0), (0, 0, 0, 0, 0), True),
    "unipolar-6": Layout((1, 2, 4, 5), (0, 3), (0, 0, 3, 3), (0, 0, 0, 1, 1, 1), True),
    "bipolar-4": Layout((0, 2), (), (1, 3), (0, 0, 1, 1), False),
    "single-2": Layout((0,), (), (1,), (0, 0), False),
}


@record(kw_only=False)
class ArrangementClass:
    """Arrangements that predict the same readings, by exchange of untouched wires."""

    members: tuple[tuple[int, ...], ...]
    share: float
    """Of all arrangements."""


@cache
def arrangement_classes(name: str, n_seen: int, commons: tuple[int, ...]) -> tuple[ArrangementClass, ...]:
    """All arrangements with the stated commons among theirs, in classes; shares sum to 1."""
    layout = LAYOUTS[name]
    fitting = [
        member
        for member in _all_arrangements(name)
        if all(any(member[position] == wire for position in layout.commons) for wire in commons)
    ]
    classes: dict[tuple[object, ...], list[tuple[int, ...]]] = {}
    for member in fitting:
        classes.setdefault(_canonical(name, member, n_seen, commons), []).append(member)
    return tuple([ArrangementClass(tuple(members), len(members) / len(fitting)) for members in classes.values()])


def _canonical(name: str, member: tuple[int, ...], n_seen: int, commons: tuple[int, ...]) -> tuple[object, ...]:
    """What distinguishes an arrangement when untouched wires all look alike."""
    faces = [wire if wire < n_seen or wire in commons else 99 for wire in member]
    if name == "unipolar-5":
        return (faces[0], *sorted([tuple(sorted(faces[1:3])), tuple(sorted(faces[3:5]))]))
    if name == "unipolar-6":
        return tuple(sorted([(faces[0], *sorted(faces[1:3])), (faces[3], *sorted(faces[4:6]))]))
    if name == "bipolar-4":
        return tuple(sorted([tuple(sorted(faces[0:2])), tuple(sorted(faces[2:4]))]))
    return ()


def _all_arrangements(name: str) -> list[tuple[int, ...]]:
    if name == "unipolar-5":
        return [(hub, *pairing) for hub in range(5) for pairing in _pairings([w for w in range(5) if w != hub])]
    if name == "bipolar-4":
        return list(_pairings([0, 1, 2, 3]))
    if name == "single-2":
        return [(0, 1)]
    found = []
    for first in combinations(range(1, 6), 2):
        left = (0, *first)
        right = [wire for wire in range(6) if wire not in left]
        found += [(a, *[w for w in left if w != a], b, *[w for w in right if w != b]) for a in left for b in right]
    return found


def _pairings(four: list[int]) -> list[tuple[int, ...]]:
    a, b, c, d = four
    return [(a, b, c, d), (a, c, b, d), (a, d, b, c)]
