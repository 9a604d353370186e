"""Manuals: what a kind of head should measure, every revision with who, when and whether a second person checked it."""

from collections.abc import Mapping

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.kept.manuals import SpecRevision
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.labels import WINDING_WORDS
from fifthwire.web.measures import SPEC_KEYS, as_written, typed_spec
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.workflow import manuals
from fifthwire.workflow.notes import list_notes
from fifthwire.workflow.photographs import add_photograph

router = APIRouter(prefix="/manuals")
EMPTY: Mapping[str, str] = dict.fromkeys(("name", "title", "page", *SPEC_KEYS), "")


@router.get("")
def specs(asking: Asked) -> HTMLResponse:
    """The latest revision of each."""
    found = manuals.list_specs(asking.register, asking.who, page=asking.page_number())
    return asking.page("manuals/list.html", specs=found, winding_words=WINDING_WORDS)


@router.get("/new")
def new_spec(asking: Asked) -> HTMLResponse:
    """The form of what a kind of head should measure."""
    return _form(asking, None, EMPTY)


@router.post("/new")
def add_spec(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep what a kind of head should measure."""
    kept = manuals.add_spec(
        asking.register,
        asking.who,
        name=form.text("name"),
        spec=_table(form),
        title=form.given("title"),
        page=form.given("page"),
        photograph_sha256=_photograph(asking, form),
    )
    return asking.go(f"/manuals/{kept.spec_id}", done="spec-added")


@router.get("/{spec_id}")
def spec(asking: Asked, spec_id: str) -> HTMLResponse:
    """Every revision, newest first."""
    return asking.page(
        "manuals/spec.html",
        revisions=manuals.revisions(asking.register, asking.who, spec_id),
        notes=list_notes(asking.register, asking.who, about_kind="spec", about_id=spec_id),
        winding_words=WINDING_WORDS,
    )


@router.get("/{spec_id}/revise")
def revise_form(asking: Asked, spec_id: str) -> HTMLResponse:
    """The form of the next revision, filled with the latest."""
    latest = manuals.spec(asking.register, asking.who, spec_id)
    given = {"name": latest.name, "title": latest.title or latest.spec.source or "", "page": latest.page or ""}
    return _form(asking, latest, {**EMPTY, **typed_spec(latest.spec), **given})


@router.post("/{spec_id}/revise")
def revise_spec(asking: Asked, spec_id: str, form: PostedForm) -> RedirectResponse:
    """Keep the next revision; the earlier ones stay."""
    before = manuals.spec(asking.register, asking.who, spec_id)
    manuals.revise_spec(
        asking.register,
        asking.who,
        spec_id,
        revision=form.whole("revision", "The revision") or 0,
        name=form.text("name"),
        spec=_table(form),
        title=form.given("title"),
        page=form.given("page"),
        photograph_sha256=_photograph(asking, form) or before.photograph_sha256,
    )
    return asking.go(f"/manuals/{spec_id}", done="spec-revised")


@router.post("/{spec_id}/check")
def check_spec(asking: Asked, spec_id: str, form: PostedForm) -> RedirectResponse:
    """Mark a revision as compared with the page by a second person."""
    manuals.check_spec(asking.register, asking.who, form.text("revision"))
    return asking.go(f"/manuals/{spec_id}", done="spec-checked")


def _form(asking: Asking, latest: SpecRevision | None, given: Mapping[str, str]) -> HTMLResponse:
    windings = [(key, asking.text(label)) for key, label in WINDING_WORDS.items()]
    return asking.page("manuals/form.html", latest=latest, given=given, windings=windings)


def _table(form: Posted) -> dict[str, object]:
    """The keys of a visit file's spec, as people write them."""
    return {key: as_written(form.text(key)) for key in SPEC_KEYS if form.text(key)}


def _photograph(asking: Asking, form: Posted) -> str | None:
    file = form.file("photograph")
    if file is None:
        return None
    return add_photograph(asking.register, asking.who, file.content, name=file.name).sha256
