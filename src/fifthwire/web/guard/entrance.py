"""The entrance: every request passes it before any page, and every answer on its way out."""

import re
import secrets
from typing import Final
from urllib.parse import urlencode

from fastapi import HTTPException, Request, Response
from fastapi.responses import JSONResponse, RedirectResponse
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from fifthwire.model.errors import FifthwireError
from fifthwire.web.errors import error_answer, http_status
from fifthwire.web.guard.form_key import HEADER, NOT_OURS, SAFE_METHODS, fits
from fifthwire.web.guard.headers import add_headers
from fifthwire.web.guard.origins import comes_from_us, is_served
from fifthwire.web.settings import Settings
from fifthwire.workflow.sessions import Known, known_by

OPEN_PATHS: Final = ("/sign-in", "/join/", "/static/", "/trust")
"""What one who is not signed in may open, and nothing else."""
MOST_BODY: Final = 60_000_000
"""Bytes of a request: a large file with its form.  Our choice."""
MOST_BODY_OF_STRANGERS: Final = 100_000
"""Bytes of a request of one who is not signed in: a form.  Our choice."""
MOST_THROWN_AWAY: Final = 4_000_000_000
"""Bytes of a refused request that are read to the end, so that the browser shows why.  Our choice."""
BEFORE_A_NAME: Final = 4_000
"""Bytes in which the name of a form's file stands, behind the fields before it.  Our choice."""
_SIGN_IN: Final = ("You are not signed in, or not any longer. Nothing was changed.", "Sign in, then do it again.")
_TOO_LARGE: Final = ("What was sent is too large. Nothing of it was kept.", "Send a smaller file, or several.")


class Entrance:
    """Asks who comes, from where and with how much, and refuses before a page is asked.

    Parameters
    ----------
    app : ASGIApp
        What is behind it.
    """

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        request = Request(scope)
        answering = _answering(send, request)
        refused: Response | None
        try:
            await run_in_threadpool(_recognise, request)
            refused = _refusal(request) or await _refusal_by_size(request, receive)
        except FifthwireError as error:  # the register cannot be reached
            request.state.who = None
            refused = error_answer(request, http_status(error), error.message, error.hint)
        if refused is not None:
            await refused(scope, receive, answering)
        else:
            await self._app(scope, _limited(receive, _most_body(request)), answering)


def cookie_name(settings: Settings) -> str:
    """Of the cookie that holds the secret; over TLS browsers let no other host of the domain set it."""
    return "__Host-fifthwire" if settings.is_secure else "fifthwire"


def visitor_cookie_name(settings: Settings) -> str:
    """Of the cookie of one who is not signed in: it ties the sign-in form to the browser that asked for it."""
    return f"{cookie_name(settings)}-visitor"


def set_cookie(answer: Response, name: str, value: str, settings: Settings, *, lasts_s: int | None = None) -> None:
    """A cookie that no script reads and no other site's form brings along."""
    answer.set_cookie(name, value, max_age=lasts_s, path="/", httponly=True, samesite="lax", secure=settings.is_secure)


def _recognise(request: Request) -> None:
    """Find out who asks: `state.who`, `state.known`, `state.form_key`, `state.is_program`."""
    state, app = request.state, request.app
    settings: Settings = app.state.settings
    state.who, state.known, state.is_program, state.new_visitor = app.state.alone, None, False, None
    if not settings.is_shared:
        state.form_key = app.state.form_keys.alone()
        return
    state.who, state.form_key = None, ""
    if request.url.path.startswith("/static/"):
        return
    scheme, _, key = request.headers.get("authorization", "").partition(" ")
    if scheme.lower() == "bearer" and request.url.path.startswith("/api/"):
        state.known, state.is_program = _known(request, key.strip(), "program"), True
    secret = request.cookies.get(cookie_name(settings), "")
    if secret and not state.is_program:
        state.known = _known(request, secret, "browser")
    if state.known is not None:
        state.who = state.known.person
        state.form_key = app.state.form_keys.of(secret)
    else:
        _greet_visitor(request, settings)


def _known(request: Request, secret: str, kind: str) -> Known | None:
    return known_by(request.app.state.registers.of(is_demo=False), secret, kind=kind)


def _greet_visitor(request: Request, settings: Settings) -> None:
    secret = request.cookies.get(visitor_cookie_name(settings), "")
    if len(secret) < 40:
        secret = request.state.new_visitor = secrets.token_urlsafe(32)
    request.state.form_key = request.app.state.form_keys.of(secret)


def _refusal(request: Request) -> Response | None:
    """Why this request goes no further; None where it does."""
    settings: Settings = request.app.state.settings
    if not is_served(request.headers.get("host", ""), settings):
        return error_answer(request, 421, "This name is not one of this register. Nothing was shown.", "Check it.")
    if "\0" in request.url.path or "%00" in request.url.query:
        return error_answer(request, 400, "The address holds characters that nothing is named with.", "Open a list.")
    if request.method not in SAFE_METHODS and not _is_wanted(request):
        return error_answer(request, 403, NOT_OURS, "Open the page again, then send it from there.")
    if request.state.who is None and not request.url.path.startswith(OPEN_PATHS):
        return _to_sign_in(request)
    return None


async def _refusal_by_size(request: Request, receive: Receive) -> Response | None:
    """Refuse what says that it is too large, by the name of its file; None where it is not.

    A browser shows an answer only when it has sent everything: what one of our people sends is read to its end and
    thrown away, what a stranger sends is not.
    """
    declared = _declared(request)
    if declared <= _most_body(request):
        return None
    name = ""
    if request.state.who is not None and declared <= MOST_THROWN_AWAY:
        name = await _throw_away(receive)
    size = f"{name} has {declared / 1e6:.0f} MB. " if name else ""
    return error_answer(request, 413, f"{size}{_TOO_LARGE[0]}", _TOO_LARGE[1])


async def _throw_away(receive: Receive) -> str:
    """Read what is sent without keeping it; the name of its first file, as far as it can be shown."""
    start, is_more = b"", True
    while is_more:
        message = await receive()
        start = start if len(start) > BEFORE_A_NAME else start + message.get("body", b"")[:BEFORE_A_NAME]
        is_more = message["type"] == "http.request" and message.get("more_body", False)
    found = re.search(rb'filename="([^"\r\n]{1,200})"', start)
    name = found[1].decode("utf-8", "replace") if found else ""
    return "".join(letter if letter.isprintable() else "?" for letter in name)


def _is_wanted(request: Request) -> bool:
    """Whether a request that changes something was meant by the one in whose name it comes."""
    ours = comes_from_us(request)
    if ours is False:
        return False
    if not request.url.path.startswith("/api/") or request.state.is_program:
        return True  # pages: the form's own key is looked at next; programs: they bring no cookie
    if request.state.known is not None:
        return fits(request, request.headers.get(HEADER))
    return True


def _to_sign_in(request: Request) -> Response:
    if request.url.path.startswith("/api/"):
        told = {"message": _SIGN_IN[0], "hint": "Send the header Authorization: Bearer and a key.", "problems": []}
        return JSONResponse(told, status_code=401, headers={"WWW-Authenticate": "Bearer"})
    if request.method not in SAFE_METHODS:
        return error_answer(request, 401, *_SIGN_IN)
    path = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    to = "/sign-in" if path == "/" else f"/sign-in?{urlencode({'next': path})}"
    if "hx-request" in request.headers:
        return Response(status_code=401, headers={"HX-Redirect": to})
    return RedirectResponse(to, status_code=303)


def _most_body(request: Request) -> int:
    return MOST_BODY if request.state.who is not None else MOST_BODY_OF_STRANGERS


def _declared(request: Request) -> int:
    length = request.headers.get("content-length", "0")
    return int(length) if length.isascii() and length.isdigit() and len(length) < 20 else 0


def _limited(receive: Receive, most: int) -> Receive:
    """The body, as long as it is no larger than it may be, whatever its header said."""
    received = 0

    async def limited() -> Message:
        nonlocal received
        message = await receive()
        received += len(message.get("body", b""))
        if received > most:
            raise HTTPException(status_code=413)
        return message

    return limited


def _answering(send: Send, request: Request) -> Send:
    """Send an answer with what every answer tells the browser."""

    async def answering(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            settings: Settings = request.app.state.settings
            add_headers(headers, settings)
            if getattr(request.state, "new_visitor", None) and request.url.path.startswith(("/sign-in", "/join/")):
                told = Response()
                set_cookie(told, visitor_cookie_name(settings), request.state.new_visitor, settings)
                headers.append("set-cookie", told.headers["set-cookie"])
        await send(message)

    return answering
