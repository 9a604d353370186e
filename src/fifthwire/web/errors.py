"""One table from error to HTTP status, and how an error is said: a page for people, JSON for programs.

What happened and what was kept is the error's message, what to do its hint.
"""

import logging
from collections.abc import Awaitable, Callable
from typing import Any, Final

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from starlette.exceptions import HTTPException

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
from fifthwire.web.asking import Asking
from fifthwire.web.guard.headers import add_headers

HTTP_STATUS: Final[dict[type[BaseException], int]] = {
    FifthwireError: 500,  # raised only through the classes below; bare, it is a mistake of ours
    InputError: 422,
    VisitFileError: 422,
    RangeError: 422,
    NoSolution: 422,
    RegisterError: 503,
    NotFound: 404,
    Conflict: 409,
    NotAllowed: 403,
    TooOften: 429,
}
_PLAIN: Final[dict[int, tuple[str, str]]] = {
    400: ("The request cannot be read. Nothing was changed.", "Go back and send the form again."),
    403: ("This is not allowed. Nothing was changed.", "Go back, or ask the register's owner."),
    404: ("There is no page at this address.", "Look for it in the list it belongs to, or search for it."),
    405: ("This address does not take what was sent. Nothing was changed.", "Go back and use the form."),
    413: ("What was sent is too large. Nothing of it was kept.", "Send a smaller file, or several."),
    429: ("Too many tries in a short time. Nothing was changed.", "Wait a minute, then try again."),
}
_FAULT: Final = (
    "This is a fault of the program, not of what you did. What was being changed was not kept; all else is as it was.",
    "Go back and try once more. If it happens again, tell whoever looks after the program what you did.",
)


_TOLD: Final[dict[str, Any]] = {
    "type": "object",
    "required": ["message", "hint", "problems"],
    "properties": {
        "message": {"type": "string", "description": "what happened, and what was kept"},
        "hint": {"type": "string", "description": "what to do"},
        "problems": {
            "type": "array",
            "items": {
                "type": "object",
                "properties": {
                    "place": {"type": "string"},
                    "line": {"type": ["integer", "null"]},
                    "message": {"type": "string"},
                    "hint": {"type": "string"},
                },
            },
        },
    },
}
_MEANING: Final = {
    400: "The request cannot be read.",
    401: "Nobody is signed in.",
    403: "This person may not.",
    404: "There is no such thing at this person's sites.",
    405: "This address does not take what was sent.",
    409: "Somebody has changed it since it was read.",
    413: "What was sent is too large.",
    422: "What was sent cannot be used.",
    429: "Too many requests in a short time.",
    503: "The register cannot do it now; nothing was changed.",
}
ERRORS_TOLD: Final[dict[int | str, dict[str, Any]]] = {
    status: {"description": meaning, "content": {"application/json": {"schema": _TOLD}}}
    for status, meaning in _MEANING.items()
}
"""What the OpenAPI says of every error."""


def http_status(error: BaseException) -> int:
    """The status of an error: that of its own class, else of the nearest class above it."""
    return next((HTTP_STATUS[of] for of in type(error).__mro__ if of in HTTP_STATUS), 500)


def answer_errors(app: FastAPI) -> None:
    """Let the app answer every error in words."""
    app.add_exception_handler(FifthwireError, _on(_program_error))
    app.add_exception_handler(HTTPException, _on(_http_error))
    app.add_exception_handler(RequestValidationError, _on(_wrong_request))
    app.add_exception_handler(Exception, _on(_fault))


def _on(answer: Callable[[Request, Any], Response]) -> Callable[[Request, Any], Awaitable[Response]]:
    async def handler(request: Request, error: Any) -> Response:
        return answer(request, error)

    return handler


def _program_error(request: Request, error: FifthwireError) -> Response:
    problems = error.problems if isinstance(error, VisitFileError) else ()
    return error_answer(request, http_status(error), error.message, error.hint, problems)


def _http_error(request: Request, error: HTTPException) -> Response:
    message, hint = _PLAIN.get(error.status_code, (str(error.detail), ""))
    answer = error_answer(request, error.status_code, message, hint)
    answer.headers.update(error.headers or {})
    return answer


def _wrong_request(request: Request, error: RequestValidationError) -> Response:
    problems = tuple(
        Problem(place="/".join(str(step) for step in one["loc"]), message=str(one["msg"])) for one in error.errors()
    )
    return error_answer(request, 422, "The request does not fit. Nothing was changed.", "", problems)


def _fault(request: Request, error: Exception) -> Response:
    logging.getLogger("fifthwire.web").error("fault at %s", request.url.path, exc_info=error)
    answer = error_answer(request, 500, *_FAULT)
    add_headers(answer.headers, request.app.state.settings)  # this one answer does not pass the entrance
    return answer


def error_answer(
    request: Request, status: int, message: str, hint: str, problems: tuple[Problem, ...] = ()
) -> Response:
    """An error as a page, or as JSON where a program asked.

    Parameters
    ----------
    request : Request
        What was asked.
    status : int
        The HTTP status.
    message, hint : str
        What happened and what was kept; what to do.
    problems : tuple[Problem, ...]
        Each thing that is wrong, with its place.
    """
    if request.url.path.startswith("/api/"):
        told = [{"place": one.place, "line": one.line, "message": one.message, "hint": one.hint} for one in problems]
        return JSONResponse({"message": message, "hint": hint, "problems": told}, status_code=status)
    return Asking(request).page("error.html", status=status, message=message, hint=hint, problems=problems)
