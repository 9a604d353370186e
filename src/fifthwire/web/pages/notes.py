"""Notes on anything: keep one, strike one out."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse

from fifthwire.web.asking import Asked
from fifthwire.web.posted import PostedForm
from fifthwire.workflow import notes

router = APIRouter(prefix="/notes")


@router.post("")
def add_note(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep a note, and back to what it is about."""
    tags = tuple(tag.strip() for tag in form.text("tags").split(",") if tag.strip())
    notes.add_note(
        asking.register,
        asking.who,
        about_kind=form.text("about_kind"),
        about_id=form.text("about_id"),
        text=form.text("text"),
        tags=tags,
    )
    return asking.go(form.back(), done="note-added")


@router.post("/{note_id}/strike")
def strike_note(asking: Asked, note_id: str, form: PostedForm) -> RedirectResponse:
    """Strike a note out."""
    notes.void_note(asking.register, asking.who, note_id)
    return asking.go(form.back(), done="note-voided")
