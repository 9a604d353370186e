"""Problems gathered while a file is read, so that all of them can be told at once."""

from collections.abc import Callable
from typing import Any, Final

from fifthwire.model.assessment import Reason
from fifthwire.model.errors import InputError, Problem, VisitFileError
from fifthwire.visitfile.places import Steps, place

Lines = Callable[[Steps], int | None]
"""Finds the line of a place."""
MOST_PROBLEMS: Final = 1000
"""Listed of one file; nobody reads further.  Our choice."""


class TooManyProblemsError(Exception):
    """Reading stops: a file this wrong is no visit, or is put right bit by bit."""


class Problems:
    """What is wrong and what is doubtful in one file.

    Parameters
    ----------
    name : str
        The file, as the person named it.
    syntax : str
        "toml" or "json": how places are written.
    """

    __slots__ = ("_found", "_places", "_settled", "_warned", "name", "syntax")

    def __init__(self, name: str, syntax: str) -> None:
        self.name = name
        self.syntax = syntax
        self._found: list[tuple[Steps, str, str]] = []
        self._places: set[Steps] = set()
        self._settled: frozenset[Steps] = frozenset()
        self._warned: list[Reason] = []

    def __len__(self) -> int:
        return len(self._found)

    def add(self, steps: Steps, message: str, hint: str = "") -> None:
        """Something that makes the file unusable.

        Raises
        ------
        TooManyProblemsError
            Once there are so many that nobody would read on.
        """
        if steps in self._settled:
            return
        self._found.append((steps, message, hint))
        self._places.add(steps)
        if len(self._found) >= MOST_PROBLEMS:
            raise TooManyProblemsError

    def add_error(self, steps: Steps, err: InputError) -> None:
        """The same, as it was raised."""
        self.add(steps, err.message, err.hint)

    def has(self, steps: Steps) -> bool:
        """Whether something was found wrong at exactly this place."""
        return steps in self._places

    def has_below(self, steps: Steps) -> bool:
        """Whether something was found wrong at this place or inside it."""
        return any(at[: len(steps)] == steps for at, _, _ in self._found)

    def settle(self) -> None:
        """What has a problem by now needs no second one: its value was found unusable as a whole."""
        self._settled = frozenset(self._places)

    def warn(self, steps: Steps, code: str, **values: Any) -> None:
        """Something doubtful, by its code in `model.reasons.WARNINGS`."""
        self._warned.append(Reason(code=code, values={"place": place(steps, self.syntax), **values}))

    @property
    def warnings(self) -> tuple[Reason, ...]:
        """Everything doubtful, in the order in which it was found."""
        return tuple(self._warned)

    def error(self, line_of: Lines) -> VisitFileError:
        """All problems as one error, in the order of the file."""
        listed = [
            Problem(place=place(steps, self.syntax), message=message, hint=hint, line=line_of(steps))
            for steps, message, hint in self._found
        ]
        listed.sort(key=lambda problem: problem.line or 0)
        if len(self._found) >= MOST_PROBLEMS:
            listed.append(Problem(place="", message="there may be more: reading stopped here"))
        return VisitFileError(self.name, tuple(dict.fromkeys(listed)))


def the_one_problem(
    name: str, message: str, hint: str = "", *, line: int | None = None, at: str = ""
) -> VisitFileError:
    """A file that cannot be read at all."""
    return VisitFileError(name, (Problem(place=at, message=message, hint=hint, line=line),))
