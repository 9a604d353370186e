"""Sign in, sign out, and make an account or a new password with a link."""

from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from fifthwire.model.errors import FifthwireError, NotAllowed, TooOften
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.errors import http_status
from fifthwire.web.guard.entrance import cookie_name, set_cookie, visitor_cookie_name
from fifthwire.web.guard.origins import address_of, local_path
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.workflow import people, sessions
from fifthwire.workflow.register_place import Register

SYSTEMS: Final = {
    "Android": "Android", "iPhone": "iOS", "iPad": "iOS", "Windows": "Windows", "Mac OS": "macOS", "CrOS": "ChromeOS",
    "Linux": "Linux",
}  # fmt: skip
"""Part of what browsers say of themselves, and the system it stands for; the first that fits.  Common practice."""

router = APIRouter()


@router.get("/sign-in")
def sign_in_form(asking: Asked) -> Response:
    """The form; one who is signed in, or alone, goes on."""
    onward = local_path(asking.query("next"))
    if not asking.settings.is_shared or asking.request.state.who is not None:
        return RedirectResponse(onward, status_code=303)
    return _sign_in_page(asking, onward)


@router.post("/sign-in")
def sign_in(asking: Asked, form: PostedForm) -> Response:
    """Sign this browser in, then on to what was wanted."""
    onward = local_path(form.text("next"))
    if not asking.settings.is_shared:
        return RedirectResponse(onward, status_code=303)
    try:
        entered = sessions.sign_in(
            own_register(asking),
            form.text("name"),
            form.texts.get("password", [""])[0],
            address=address_of(asking.request),
            device=device_of(asking.request),
        )
    except NotAllowed as refused:
        page = _sign_in_page(asking, onward, refused=refused, name=form.text("name"), status=http_status(refused))
        if isinstance(refused, TooOften):
            page.headers["Retry-After"] = str(refused.wait_s)
        return page
    answer = RedirectResponse(onward, status_code=303)
    let_in(asking, answer, entered)
    return answer


@router.post("/sign-out")
def sign_out(asking: Asked) -> RedirectResponse:
    """Sign this browser out."""
    answer = RedirectResponse("/sign-in" if asking.settings.is_shared else "/", status_code=303)
    known: sessions.Known | None = asking.request.state.known
    if known is not None:
        sessions.sign_out(own_register(asking), known)
        answer.delete_cookie(cookie_name(asking.settings), path="/", secure=asking.settings.is_secure, httponly=True)
        answer.headers["Clear-Site-Data"] = '"cache"'
    return answer


@router.get("/join/{secret}")
def join_form(asking: Asked, secret: str) -> Response:
    """What a link is for: a new account, or a new password."""
    invitation = people.invitation_of(own_register(asking), secret)
    return asking.page("guard/join.html", invitation=invitation, refused=None, sign_in="", name=invitation.for_whom)


@router.post("/join/{secret}")
def join(asking: Asked, form: PostedForm, secret: str) -> Response:
    """Use a link up, then sign in with what was made."""
    register = own_register(asking)
    invitation = people.invitation_of(register, secret)
    sign_in, name = form.text("sign_in"), form.text("name")
    try:
        password = _same_twice(form)
        account = people.join(register, secret, sign_in=sign_in, name=name, password=password)
    except FifthwireError as refused:
        values = {"invitation": invitation, "refused": refused, "sign_in": sign_in, "name": name}
        return asking.page("guard/join.html", status=http_status(refused), **values)
    entered = sessions.sign_in(
        register,
        account.sign_in,
        password,
        address=address_of(asking.request),
        device=device_of(asking.request),
    )
    answer = RedirectResponse("/?done=joined", status_code=303)
    let_in(asking, answer, entered)
    return answer


def own_register(asking: Asking) -> Register:
    """The register that people sign in to, whatever else is looked at."""
    held: Register = asking.request.app.state.registers.of(is_demo=False)
    return held


def device_of(request: Request) -> str:
    """What the browser says of the machine that it runs on, in a few words: for its owner to know it by.

    Examples
    --------
    >>> from starlette.requests import Request
    >>> device_of(Request({"type": "http", "headers": [(b"user-agent", b"Mozilla/5.0 (Linux; Android 15)")]}))
    'a browser on Android'
    """
    said = request.headers.get("user-agent", "")
    system = next((name for mark, name in SYSTEMS.items() if mark in said), None)
    return f"a browser on {system}" if system else "a browser"


def let_in(asking: Asking, answer: Response, entered: sessions.Entered) -> None:
    """Give the browser its new secret and take the visitor's."""
    settings = asking.settings
    lasts_s = round(sessions.BROWSER_LASTS.total_seconds())
    set_cookie(answer, cookie_name(settings), entered.secret, settings, lasts_s=lasts_s)
    answer.delete_cookie(visitor_cookie_name(settings), path="/", secure=settings.is_secure, httponly=True)


def _same_twice(form: Posted) -> str:
    """A new password, typed the same twice.

    Raises
    ------
    NotAllowed
        If not.
    """
    first, second = (form.texts.get(name, [""])[0] for name in ("password", "again"))
    if first != second:
        raise NotAllowed("The two passwords are not the same. Nothing was kept.", hint="Type both again.")
    return first


def _sign_in_page(
    asking: Asking, onward: str, *, refused: NotAllowed | None = None, name: str = "", status: int = 200
) -> HTMLResponse:
    has_accounts = people.has_accounts(own_register(asking))
    return asking.page(
        "guard/sign_in.html", status=status, onward=onward, refused=refused, name=name, has_accounts=has_accounts
    )
