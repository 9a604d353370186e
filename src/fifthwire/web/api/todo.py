"""What is to do and what was found, notes and the search, for other programs."""

from datetime import date
from typing import Annotated, Literal

from fastapi import APIRouter, Body, Query

from fifthwire.model.kept.notes import Hit, Note
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.todo import Action
from fifthwire.web.api.fields import PageNumber, Text, Words
from fifthwire.web.asking import Asked
from fifthwire.workflow import notes, todo
from fifthwire.workflow.search import search

router = APIRouter(tags=["to do"])


@router.get("/actions")
def list_actions(
    asking: Asked,
    site_id: Words = None,
    system_id: Words = None,
    urgency: Annotated[Literal["now", "planned", "none"] | None, Query()] = None,
    state: Annotated[Literal["open", "closed"] | None, Query(description="left out: both")] = None,
    page: PageNumber = 1,
) -> Page[Action]:
    """What is to do, the urgent and then the oldest first."""
    return todo.list_actions(
        asking.register,
        asking.who,
        site_id=site_id or None,
        system_id=system_id or None,
        urgency=urgency,
        state=state,
        page=page,
    )


@router.get("/actions/{action_id}")
def get_action(asking: Asked, action_id: str) -> Action:
    """An action with what was found."""
    return todo.action(asking.register, asking.who, action_id)


@router.post("/actions/{action_id}/findings", status_code=201)
def add_finding(
    asking: Asked,
    action_id: str,
    cause: Annotated[Text, Body(description="a cause of a valve, or nothing-wrong")],
    seen_by: Annotated[Text, Body()],
    how: Annotated[Literal["seen", "measured", "felt", "proved-by-repair"], Body()],
    day: Annotated[date, Body()],
    proof_kind: Annotated[Text | None, Body()] = None,
    proof_result: Annotated[Text | None, Body()] = None,
    photograph_sha256: Annotated[Text | None, Body()] = None,
    note: Annotated[Text | None, Body()] = None,
) -> Action:
    """Say what was found, which closes the action; a finding that stands there already stays beside it."""
    found = todo.new_finding(
        cause=cause,
        seen_by=seen_by,
        how=how,
        day=day,
        proof_kind=proof_kind,
        proof_result=proof_result,
        photograph_sha256=photograph_sha256,
        note=note,
    )
    return todo.add_finding(asking.register, asking.who, action_id, found)


@router.get("/notes")
def list_notes(
    asking: Asked, about_kind: Annotated[Text, Query()], about_id: Annotated[Text, Query()]
) -> tuple[Note, ...]:
    """The notes on one thing, newest first."""
    return notes.list_notes(asking.register, asking.who, about_kind=about_kind, about_id=about_id)


@router.post("/notes", status_code=201)
def add_note(
    asking: Asked,
    about_kind: Annotated[Text, Body()],
    about_id: Annotated[Text, Body()],
    text: Annotated[Text, Body()],
    tags: Annotated[list[Text], Body()] = [],  # noqa: B006 - read only
) -> Note:
    """Keep a note."""
    return notes.add_note(asking.register, asking.who, about_kind=about_kind, about_id=about_id, text=text, tags=tags)


@router.delete("/notes/{note_id}", status_code=204)
def void_note(asking: Asked, note_id: str) -> None:
    """Strike a note out; it stays readable."""
    notes.void_note(asking.register, asking.who, note_id)


@router.get("/search")
def find(asking: Asked, text: Annotated[Text, Query()], page: PageNumber = 1) -> Page[Hit]:
    """What holds a word that starts with each of the words asked for."""
    return search(asking.register, asking.who, text, page)
