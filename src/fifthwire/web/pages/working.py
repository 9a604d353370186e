"""The progress of work that takes longer than a page may."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from fifthwire.web.asking import Asked
from fifthwire.web.errors import error_answer, http_status

router = APIRouter(prefix="/progress")


@router.get("/{name}")
def progress(asking: Asked, name: str) -> Response:
    """How far it is; once it has ended, on to the result, or why there is none."""
    work = asking.request.app.state.work.of(name, asking.who.id)
    if work.error is not None:
        return error_answer(asking.request, http_status(work.error), work.error.message, work.error.hint)
    if work.went_to is None:
        return asking.page("working.html", work=work, here=f"/progress/{name}")
    if asking.request.headers.get("hx-request"):
        return HTMLResponse("", headers={"HX-Redirect": work.went_to})
    return RedirectResponse(work.went_to, status_code=303)
