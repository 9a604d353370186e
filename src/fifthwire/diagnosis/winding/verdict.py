"""From probabilities to a verdict: `faulty` and `sound` each need 0.95, and `sound` every winding read."""

from fifthwire.diagnosis.winding.arrangements import LAYOUTS
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.model.assessment import CauseProbability

SURE = 0.95
"""Probability at which a verdict is given. Our choice; replacing a head costs money."""


def unread_places(head: Head, leading: Hypothesis | None) -> list[int]:
    """Wires of the leading arrangement whose winding has no finite reading."""
    if leading is None:
        return []
    layout, member = LAYOUTS[leading.arrangement], leading.klass.members[0]
    read = {wire for reading in head.gram.readings for wire in (reading.wire_a, reading.wire_b)}
    return [member[end] for end in layout.ends if member[end] not in read]


def verdict_of(head: Head, causes: tuple[CauseProbability, ...], leading: Hypothesis | None, unread: list[int]) -> str:
    """sound, faulty or undecided.

    With no finite reading at all nothing is proved but that nothing connects: plug or probes. An open is proved only
    when the same wire is open from a second wire, or, where there is no second wire, when the pair is open again.
    """
    if not head.gram.readings:
        return "undecided"
    sound = sum([row.probability for row in causes if row.cause == "sound"])
    doubtful = sum([row.probability for row in causes if row.cause in ("bad-reading", "other")])
    if sound >= SURE:
        return "undecided" if unread else "sound"
    if 1.0 - sound - doubtful >= SURE and not _rests_on_one_open(head, causes, leading):
        return "faulty"
    return "undecided"


def _rests_on_one_open(head: Head, causes: tuple[CauseProbability, ...], leading: Hypothesis | None) -> bool:
    if leading is None or not LAYOUTS[leading.arrangement].commons:
        return False
    if not causes[0].cause.startswith("open-"):
        return False
    return len({frozenset(pair) for pair in head.opens}) < 2
