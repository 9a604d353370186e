"""What is to do over all sites, and what was found there: the truth that the program learns from next."""

from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.choices import PROOF_KINDS, PROOF_RESULTS, URGENCIES
from fifthwire.model.kept.todo import FOUND_CAUSES, FOUND_HOW, NOTHING_WRONG
from fifthwire.model.words import word
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.labels import FOUND_HOW_WORDS
from fifthwire.web.pages.valves import caution_sentences
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.workflow import places, todo
from fifthwire.workflow.notes import list_notes
from fifthwire.workflow.photographs import add_photograph

router = APIRouter(prefix="/todo")


@router.get("")
def actions(asking: Asked) -> HTMLResponse:
    """What is to do, urgent first."""
    urgency = asking.query("urgency")
    found = todo.list_actions(
        asking.register,
        asking.who,
        site_id=asking.query("site") or None,
        urgency=urgency if urgency in URGENCIES else None,
        state="closed" if asking.query("state") == "closed" else "open",
        page=asking.page_number(),
    )
    sites = places.every_site(asking.register, asking.who)
    return asking.page("todo/list.html", actions=found, sites=sites, urgencies=URGENCIES[:2])


@router.get("/{action_id}")
def finding_form(asking: Asked, action_id: str) -> HTMLResponse:
    """The form of what was found."""
    action = todo.action(asking.register, asking.who, action_id)
    hows = {key: asking.text(label) for key, label in FOUND_HOW_WORDS.items()}
    zone = ZoneInfo(places.site(asking.register, asking.who, action.site_id).time_zone)
    nothing_first = (NOTHING_WRONG, *(cause for cause in FOUND_CAUSES if cause != NOTHING_WRONG))
    return asking.page(
        "todo/found.html",
        action=action,
        notes=list_notes(asking.register, asking.who, about_kind="action", about_id=action_id),
        causes=[(cause, word(cause)) for cause in nothing_first],
        hows=[(key, hows[key]) for key in FOUND_HOW],
        hows_by_key=hows,
        proofs=[(key, word(key)) for key in PROOF_KINDS],
        proof_results=[(key, word(key)) for key in PROOF_RESULTS],
        today=datetime.now(UTC).astimezone(zone).date().isoformat(),
        cautions_of=caution_sentences,
    )


@router.post("/{action_id}")
def add_finding(asking: Asked, action_id: str, form: PostedForm) -> RedirectResponse:
    """Keep what was found."""
    found = todo.new_finding(
        cause=form.text("cause"),
        how=form.text("how"),
        seen_by=form.text("seen_by"),
        day=form.day("date", "The day"),
        proof_kind=form.given("proof_kind"),
        proof_result=form.given("proof_result"),
        note=form.given("note"),
    )
    found = replace(found, photograph_sha256=_photograph(asking, form, action_id))  # kept once all else is in order
    kept = todo.add_finding(asking.register, asking.who, action_id, found)
    return asking.go(f"/valves/{kept.valve_id}", done="finding-added")


def _photograph(asking: Asking, form: Posted, action_id: str) -> str | None:
    """Keep the photograph that came with a finding, as one of the valve."""
    file = form.file("photograph")
    if file is None:
        return None
    valve_id = todo.action(asking.register, asking.who, action_id).valve_id
    kept = add_photograph(
        asking.register, asking.who, file.content, name=file.name, about_kind="valve", about_id=valve_id
    )
    return kept.sha256
