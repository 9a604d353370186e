"""What is said of a register as a whole: whether it is sound, and what a move carried over."""

from collections.abc import Mapping
from dataclasses import field

from fifthwire.model.record import record


@record
class RegisterCheck:
    """A register looked through from end to end."""

    where: str
    engine: str
    """sqlite | postgresql; empty where it could not be opened."""
    version: str
    """Of its tables."""
    problems: tuple[str, ...] = ()
    """What is wrong, in words; empty where it is whole."""
    n_rows: Mapping[str, int] = field(default_factory=dict)
    """Rows of each table."""
    sha256: str = ""
    """Of everything in it, whatever the engine and the order."""

    @property
    def is_whole(self) -> bool:
        """Whether nothing is wrong."""
        return not self.problems


@record
class MoveReport:
    """A register carried over into another place, and read again there."""

    from_where: str
    to_where: str
    n_rows: Mapping[str, int]
    """Rows of each table: the same in both."""
    sha256: str
    """Of everything: the same in both."""

    @property
    def n_all(self) -> int:
        """Rows of all tables together."""
        return sum(self.n_rows.values())
