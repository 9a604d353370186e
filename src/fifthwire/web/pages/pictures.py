"""Photographs: keep one of a thing, show it."""

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from fifthwire.model.errors import InputError
from fifthwire.web.asking import Asked
from fifthwire.web.posted import PostedForm
from fifthwire.workflow.photographs import add_photograph, photograph

KEPT_BY_THE_BROWSER = {"Cache-Control": "private, max-age=86400", "X-Content-Type-Options": "nosniff"}

router = APIRouter(prefix="/photographs")


@router.post("")
def add(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep a photograph, and back to what it shows."""
    file = form.file("photograph")
    if file is None:
        raise InputError("No photograph came with the form. Nothing was kept.", "Choose it again.")
    kind, id_ = form.given("about_kind"), form.given("about_id")
    add_photograph(asking.register, asking.who, file.content, name=file.name, about_kind=kind, about_id=id_)
    return asking.go(form.back(), done="photograph-added")


@router.get("/{sha256}")
def show(asking: Asked, sha256: str) -> Response:
    """A photograph, or its thumbnail."""
    kept = photograph(asking.register, asking.who, sha256, thumbnail=bool(asking.query("thumbnail")))
    return Response(kept.content, media_type=kept.media_type, headers=KEPT_BY_THE_BROWSER)
