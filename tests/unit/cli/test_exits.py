"""The table from error to exit code."""

import inspect

import pytest

from fifthwire.cli.exits import BUG, EXIT_CODES, INPUT, NO_ANSWER, REGISTER, error_lines, exit_code
from fifthwire.model import errors
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


def test_every_error_of_the_program_has_an_exit_code_of_its_own():
    raised = {of for _, of in inspect.getmembers(errors, inspect.isclass) if issubclass(of, BaseException)}

    assert raised <= EXIT_CODES.keys()


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (InputError("no"), INPUT),
        (VisitFileError("a", (Problem(place="", message="no"),)), INPUT),
        (RangeError("no"), INPUT),
        (NoSolution("no"), NO_ANSWER),
        (RegisterError("no"), REGISTER),
        (NotFound("no"), REGISTER),
        (Conflict("no", theirs=1, yours=2), REGISTER),
        (NotAllowed("no"), REGISTER),
        (TooOften("slowly", wait_s=60), REGISTER),
        (FifthwireError("no"), BUG),
        (ZeroDivisionError(), BUG),
        (KeyboardInterrupt(), 130),
    ],
)
def test_an_error_ends_with_its_code(error, code):
    assert exit_code(error) == code


def test_a_new_kind_of_input_error_is_an_input_error():
    class NewError(InputError):
        pass

    assert exit_code(NewError("no")) == INPUT


def test_every_problem_of_a_file_is_a_line_with_file_line_place_and_hint():
    problems = (
        Problem(place="valves[0].head", message='"clipon" is not a head', hint="Did you mean clip-on?", line=12),
        Problem(place="", message="is empty"),
    )

    lines = error_lines(VisitFileError("a.toml", problems))

    assert lines == ['a.toml:12: valves[0].head: "clipon" is not a head (Did you mean clip-on?)', "a.toml: is empty"]
