"""What the opens say, before any number is looked at.

An arrangement dies if a finite reading joins wires that it keeps apart, unless a bridge joins them. Opens between
wires that it says are joined must all be explained by one open winding, one open common or one false open.
"""

from dataclasses import dataclass

from fifthwire.diagnosis.winding.arrangements import Layout
from fifthwire.diagnosis.winding.head import Head


@dataclass(frozen=True, slots=True)
class Pattern:
    """Readings of a head sorted by what one arrangement says of them."""

    joined: tuple[int, ...]
    """Finite readings, by number, of wires that are joined in a sound head."""
    spanning: tuple[int, ...]
    """Finite readings between groups."""
    joined_opens: tuple[tuple[int, int], ...]
    spanning_opens: int
    finite_wires: frozenset[int]
    """Wires with a finite reading among the joined."""

    def explains_opens(self, wire: int) -> bool:
        """Whether a break at one wire explains every open between joined wires."""
        return wire not in self.finite_wires and all(wire in pair for pair in self.joined_opens)


def pattern_of(head: Head, layout: Layout, member: tuple[int, ...]) -> Pattern | None:
    """Sort the readings by the arrangement's groups; None where finite and open readings cannot both be.

    A finite reading between groups needs a bridge, and then everything reads finite.
    """
    group = dict(zip(member, layout.group_of, strict=True))
    joined: list[int] = []
    spanning: list[int] = []
    finite_wires: set[int] = set()
    for index, reading in enumerate(head.gram.readings):
        if group[reading.wire_a] == group[reading.wire_b]:
            joined.append(index)
            finite_wires.add(reading.wire_a)
            finite_wires.add(reading.wire_b)
        elif head.opens:
            return None
        else:
            spanning.append(index)
    joined_opens = tuple(pair for pair in head.opens if group[pair[0]] == group[pair[1]])
    return Pattern(
        tuple(joined),
        tuple(spanning),
        joined_opens,
        len(head.opens) - len(joined_opens),
        frozenset(finite_wires),
    )
