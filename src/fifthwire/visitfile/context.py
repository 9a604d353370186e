"""What reading one file needs to know: its problems so far, its version, the air and the clock of its place."""

from datetime import tzinfo

from fifthwire.model.fields import FieldNote, describe
from fifthwire.model.units import STANDARD_AIR_KPA_ABS
from fifthwire.visitfile.problems import Problems


class Context:
    """Of one reading.

    Parameters
    ----------
    problems : Problems
        Where everything wrong or doubtful goes.
    """

    __slots__ = ("_notes", "air_kpa_abs", "keeps_unknown", "minor", "problems", "zone")

    def __init__(self, problems: Problems) -> None:
        self.problems = problems
        self.minor = 0
        self.keeps_unknown = False
        self.air_kpa_abs = STANDARD_AIR_KPA_ABS
        self.zone: tzinfo | None = None
        self._notes: dict[type, dict[str, FieldNote]] = {}

    def notes(self, record: type) -> dict[str, FieldNote]:
        """The notes of a record that the version of this file knows, by key."""
        known = self._notes.get(record)
        if known is None:
            known = {note.key: note for note in describe(record) if minor_of(note.since) <= self.minor}
            self._notes[record] = known
        return known


def minor_of(version: str) -> int:
    """The minor of a version such as 1.2."""
    return int(version.partition(".")[2] or 0)
