"""Errors of Fifthwire: raised only for what cannot be; a doubtful reading is a doubt, not an error.

FifthwireError
├── InputError (ValueError)       what was given cannot be used
│   └── VisitFileError            a file, with every problem and its place
├── RangeError (ValueError)       outside where a law holds
├── NoSolution (ArithmeticError)  no state fits
└── RegisterError                 the register cannot do what was asked of it
    ├── NotFound (LookupError)    it does not hold that
    ├── Conflict                  somebody else has changed it since
    └── NotAllowed                this person may not do that
        └── TooOften              not so soon after the last tries
"""

from dataclasses import dataclass
from typing import Any


class FifthwireError(Exception):
    """Anything Fifthwire raises on purpose.

    Parameters
    ----------
    message : str
        The value and what is wrong with it.
    hint : str
        What the technician does next; empty where the message says it all.
    """

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


class InputError(FifthwireError, ValueError):
    """What was given cannot be used."""


class RangeError(FifthwireError, ValueError):
    """A value outside the range where the law asked for holds."""


class NoSolution(FifthwireError, ArithmeticError):  # noqa: N818 - the name the house uses everywhere
    """No state fits what was given."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a file, and where."""

    place: str
    """TOML: `valves[3].readings[2][0]`; JSON: a pointer, `/valves/3/readings/2/0`. Empty: the file as a whole."""
    message: str
    """The value and what is wrong."""
    hint: str = ""
    """What to write instead."""
    line: int | None = None
    """1 for the first line; None where the place has no line."""


class VisitFileError(InputError):
    """A file that cannot be used: every problem at once, or the one syntax error.

    Parameters
    ----------
    name : str
        The file, as the person named it.
    problems : tuple[Problem, ...]
        In the order of the file; never empty.
    """

    def __init__(self, name: str, problems: tuple[Problem, ...]) -> None:
        super().__init__(f"{name}: {len(problems)} problem{'s' if len(problems) != 1 else ''}")
        self.name = name
        self.problems = problems


class RegisterError(FifthwireError):
    """The register cannot do what was asked: the message says what happened, the hint what was kept and what to do."""


class NotFound(RegisterError, LookupError):  # noqa: N818 - the name the house uses everywhere
    """The register does not hold what was asked for, or not for this person."""


class Conflict(RegisterError):  # noqa: N818 - the name the house uses everywhere
    """Somebody else has changed it since it was read: both versions are shown, neither is lost.

    Parameters
    ----------
    message, hint : str
        As for every error.
    theirs : Any
        The record as it now stands in the register.
    yours : Any
        What was to be written.
    """

    def __init__(self, message: str, hint: str = "", *, theirs: Any = None, yours: Any = None) -> None:
        super().__init__(message, hint)
        self.theirs = theirs
        self.yours = yours


class NotAllowed(RegisterError):  # noqa: N818 - the name the house uses everywhere
    """This person's role or sites do not include what was asked."""


class TooOften(NotAllowed):
    """Too many tries in a short time; what was tried was not even looked at.

    Parameters
    ----------
    message, hint : str
        As for every error.
    wait_s : int
        When to try again.  [s]
    """

    def __init__(self, message: str, hint: str = "", *, wait_s: int) -> None:
        super().__init__(message, hint)
        self.wait_s = wait_s
