"""Valves: the list by mark, one valve as it is now and its notes, the form."""

from collections.abc import Iterator

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.diagnosis.faults.care import cautions_of_action
from fifthwire.model.cautions import CAUTIONS
from fifthwire.model.choices import ROLES
from fifthwire.model.kept.manuals import SpecRevision
from fifthwire.model.kept.places import VALVE_MARKS, SystemPlace, ValvePlace
from fifthwire.model.words import word
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.labels import ACCESS_WORDS, FOUND_HOW_WORDS
from fifthwire.web.pages.valve_history import drift_called
from fifthwire.web.posted import PostedForm
from fifthwire.workflow import places, valves
from fifthwire.workflow.manuals import list_specs
from fifthwire.workflow.next_steps import next_step

router = APIRouter(prefix="/valves")


@router.get("")
def list_of_valves(asking: Asked) -> HTMLResponse:
    """The person's valves, by site, mark and words."""
    mark = asking.query("mark")
    found = valves.list_valves(
        asking.register,
        asking.who,
        site_id=asking.query("site") or None,
        mark=mark if mark in VALVE_MARKS else None,
        text=asking.query("text") or None,
        page=asking.page_number(),
    )
    sites = places.every_site(asking.register, asking.who)
    return asking.page("valves/list.html", valves=found, sites=sites, marks=VALVE_MARKS)


@router.get("/new")
def new_valve(asking: Asked) -> HTMLResponse:
    """The form of a new valve of a system."""
    return _form(asking, places.system(asking.register, asking.who, asking.query("system")), None)


@router.post("/new")
def add_valve(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep a new valve."""
    kept = valves.add_valve(
        asking.register,
        asking.who,
        unit_id=form.text("unit"),
        role=form.text("role"),
        label=form.given("label"),
        number=form.whole("number", "Number"),
        kind=form.text("kind") or "eev",
        head=form.given("head"),
        access=form.given("access"),
        spec_id=form.given("spec"),
    )
    return asking.go(f"/valves/{kept.id}", done="valve-added")


@router.get("/{valve_id}")
def valve_now(asking: Asked, valve_id: str) -> HTMLResponse:
    """What is wrong with a valve, how sure, why, what next."""
    whole = valves.valve_whole(asking.register, asking.who, valve_id)
    return asking.page(
        "valves/now.html",
        whole=whole,
        tab=asking.text("Now"),
        access_words=ACCESS_WORDS,
        found_how=FOUND_HOW_WORDS,
        cautions_of=caution_sentences,
        step=next_step(asking.register, asking.who, valve_id),
        photograph_of=("valve", valve_id),
        photograph_zone=whole.site.time_zone,
        drift=drift_called(whole),
    )


@router.post("/{valve_id}/head")
def fit_head(asking: Asked, valve_id: str, form: PostedForm) -> RedirectResponse:
    """Write down that another head was fitted; trends break there."""
    since = form.day("since", "The day")
    valves.fit_head(asking.register, asking.who, valve_id, since=since, part_label=form.given("part_label"))
    return asking.go(f"/valves/{valve_id}", done="head-fitted")


@router.get("/{valve_id}/notes")
def notes_of_valve(asking: Asked, valve_id: str) -> HTMLResponse:
    """The notes on a valve."""
    whole = valves.valve_whole(asking.register, asking.who, valve_id)
    return asking.page("valves/notes.html", whole=whole, tab=asking.text("Notes"), access_words=ACCESS_WORDS)


@router.get("/{valve_id}/change")
def change_form(asking: Asked, valve_id: str) -> HTMLResponse:
    """The form of a valve."""
    valve = valves.valve(asking.register, asking.who, valve_id)
    return _form(asking, places.system(asking.register, asking.who, valve.system_id), valve)


@router.post("/{valve_id}/change")
def change_valve(asking: Asked, valve_id: str, form: PostedForm) -> RedirectResponse:
    """Keep a change of a valve."""
    valves.change_valve(
        asking.register,
        asking.who,
        valve_id,
        version=form.version(),
        unit_id=form.text("unit"),
        role=form.text("role"),
        label=form.text("label"),
        number=form.whole("number", "Number"),
        kind=form.text("kind") or "eev",
        head=form.given("head"),
        access=form.given("access"),
        spec_id=form.given("spec"),
    )
    return asking.go(f"/valves/{valve_id}", done="valve-changed")


def caution_sentences(action: str, valve: ValvePlace | None) -> tuple[str, ...]:
    """The usual cautions of an action at a valve, in the order of the work."""
    return tuple(CAUTIONS[code] for code in cautions_of_action(action, valve.head if valve else None))


def _form(asking: Asking, system: SystemPlace, valve: ValvePlace | None) -> HTMLResponse:
    register, who = asking.register, asking.who
    return asking.page(
        "valves/form.html",
        system=system,
        site=places.site(register, who, system.site_id),
        valve=valve,
        units_of_system=[(unit.id, unit.name) for unit in valves.list_units(register, who, system.id)],
        roles=[(role, word(role)) for role in ROLES],
        accesses=[(key, asking.text(label)) for key, label in ACCESS_WORDS.items()],
        specs=[(one.spec_id, one.name) for one in _every_spec(asking)],
    )


def _every_spec(asking: Asking) -> Iterator[SpecRevision]:
    """All of the manuals, to choose one from."""
    page = n_pages = 1
    while page <= n_pages:
        found = list_specs(asking.register, asking.who, page=page)
        yield from found.rows
        page, n_pages = page + 1, found.n_pages
