"""Import of a visit file, looked at before anything is written."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.errors import InputError
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.held import HeldFiles
from fifthwire.web.labels import MATCH_WORDS
from fifthwire.web.posted import Posted, PostedFile, PostedForm
from fifthwire.workflow import visits_kept

ANSWER = "answer:"
"""What the names of the fields begin with that answer a preview's questions."""

router = APIRouter(prefix="/import")


@router.get("")
def start(asking: Asked) -> HTMLResponse:
    """What can be imported."""
    return asking.page("imports/start.html")


@router.post("/visit")
def look_at_visit(asking: Asked, form: PostedForm) -> HTMLResponse:
    """What importing a visit file would do."""
    file = sent_file(form)
    preview = visits_kept.preview_visit_file(asking.register, asking.who, file.content, file.name)
    held = held_files(asking).hold(file, asking.who.id)
    return asking.page("imports/visit.html", preview=preview, held=held, match_words=MATCH_WORDS)


@router.post("/visit/keep")
def keep_visit(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Import the visit file that was looked at."""
    held = form.text("held")
    file = held_files(asking).held(held, asking.who.id)
    answers = {name.removeprefix(ANSWER): form.text(name) for name in form.texts if name.startswith(ANSWER)}
    done = visits_kept.import_visit_file(asking.register, asking.who, file.content, file.name, answers=answers)
    held_files(asking).forget(held)
    is_same = not (done.n_added or done.n_struck)
    return asking.go(f"/visits/{done.kept.id}", done="visit-same" if is_same else "visit-imported")


def sent_file(form: Posted) -> PostedFile:
    """The file that came with a form.

    Raises
    ------
    InputError
        If there is none, or an empty one.
    """
    file = form.file("file")
    if file is None or not file.content:
        raise InputError("No file came with the form, or an empty one. Nothing was kept.", "Choose the file again.")
    return file


def held_files(asking: Asking) -> HeldFiles:
    """The files of previews that are open."""
    held: HeldFiles = asking.request.app.state.held
    return held
