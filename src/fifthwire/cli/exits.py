"""One table from error to exit code, and how an error is said."""

from typing import Final

from fifthwire.model.errors import (
    Conflict,
    FifthwireError,
    InputError,
    NoSolution,
    NotAllowed,
    NotFound,
    Problem,
    RangeError,
    RegisterError,
    TooOften,
    VisitFileError,
)

DONE: Final = 0
BUG: Final = 1
INPUT: Final = 2
NO_ANSWER: Final = 3
REGISTER: Final = 4
INTERRUPTED: Final = 130
"""128 + SIGINT, as shells expect of a program stopped by Ctrl-C."""

EXIT_CODES: Final[dict[type[BaseException], int]] = {
    FifthwireError: BUG,  # raised only through the classes below; bare, it is a mistake of ours
    InputError: INPUT,
    VisitFileError: INPUT,
    RangeError: INPUT,
    NoSolution: NO_ANSWER,
    RegisterError: REGISTER,
    NotFound: REGISTER,
    Conflict: REGISTER,
    NotAllowed: REGISTER,
    TooOften: REGISTER,
    OSError: INPUT,
    BrokenPipeError: DONE,  # whoever read the output has seen enough
    KeyboardInterrupt: INTERRUPTED,
}


def exit_code(error: BaseException) -> int:
    """The exit code of an error: that of its own class, else of the nearest class above it."""
    return next((EXIT_CODES[of] for of in type(error).__mro__ if of in EXIT_CODES), BUG)


def error_lines(error: FifthwireError) -> list[str]:
    """What is said of an error: one line a problem, `file:line: place: message (hint)`."""
    if isinstance(error, VisitFileError):
        return [_problem_line(error.name, problem) for problem in error.problems]
    return [_with_hint(error.message, error.hint)]


def _problem_line(name: str, problem: Problem) -> str:
    where = name if problem.line is None else f"{name}:{problem.line}"
    place = f"{problem.place}: " if problem.place else ""
    return f"{where}: {place}{_with_hint(problem.message, problem.hint)}"


def _with_hint(message: str, hint: str) -> str:
    return f"{message} ({hint.rstrip('.')})" if hint else message
