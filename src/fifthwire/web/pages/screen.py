"""How a person's own screen shows the pages: light, dark, bright sun; SI or US units. And the demo register's door."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.people import UNIT_SYSTEMS
from fifthwire.web.asking import DEMO_COOKIE, SCHEME_COOKIE, SCHEMES, UNITS_COOKIE, Asked
from fifthwire.web.labels import _
from fifthwire.web.posted import PostedForm
from fifthwire.web.work import Progress

KEPT_S = 400 * 24 * 3600
"""A choice of screen is kept for as long as browsers keep anything.  [s]"""

MAKING_DEMO = _("Making the demo register")

router = APIRouter()


@router.get("/more")
def more(asking: Asked) -> HTMLResponse:
    """Every place of the register, and the choices of this screen."""
    return asking.page("more.html")


@router.post("/screen")
def set_screen(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Choose scheme and units on this device."""
    answer = asking.go("/more", done="screen-set")
    for cookie, field, choices in (
        (SCHEME_COOKIE, "scheme", SCHEMES),
        (UNITS_COOKIE, "units", UNIT_SYSTEMS),
    ):
        if form.text(field) in choices:
            answer.set_cookie(
                cookie,
                form.text(field),
                max_age=KEPT_S,
                httponly=True,
                samesite="lax",
                secure=asking.settings.is_secure,
            )
    return answer


@router.post("/demo/open")
def open_demo(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Open the demo register; the first time it is made, which takes some seconds and shows its progress."""
    registers, work = asking.request.app.state.registers, asking.request.app.state.work
    if not registers.offers_demo:
        raise NotFound("There is no demo register here.", "Start the program alone, on a machine of your own.")

    def make(progress: Progress) -> str:
        registers.open_demo(progress)
        return "/?done=demo-open"

    answer = asking.go("/", done="demo-open")
    if not registers.has_demo:
        answer = asking.go(f"/progress/{work.begin(asking.who.id, MAKING_DEMO, make)}")
    answer.set_cookie(DEMO_COOKIE, "open", httponly=True, samesite="lax", secure=asking.settings.is_secure)
    return answer


@router.post("/demo/close")
def close_demo(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Back to one's own register."""
    answer = asking.go("/", done="demo-closed")
    answer.delete_cookie(DEMO_COOKIE)
    return answer
