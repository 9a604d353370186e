"""Units of a system: their form."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.assessment.figures import plain
from fifthwire.model.kept.places import UnitPlace
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.labels import UNIT_WORDS
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.web.typed import typed_quantity
from fifthwire.workflow import places, valves
from fifthwire.workflow.notes import list_notes

router = APIRouter(prefix="/units")


@router.get("/new")
def new_unit(asking: Asked) -> HTMLResponse:
    """The form of a new unit of a system."""
    return _form(asking, asking.query("system"), None)


@router.post("/new")
def add_unit(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep a new unit."""
    kept = valves.add_unit(
        asking.register,
        asking.who,
        system_id=form.text("system"),
        name=form.text("name"),
        kind=form.text("kind"),
        position=form.whole("position", "Place along the pipes"),
        branch_unit=form.given("branch_unit"),
        room=form.given("room"),
        capacity_kw=_capacity_kw(form),
    )
    return asking.go(f"/systems/{kept.system_id}/valves", done="unit-added")


@router.get("/{unit_id}/change")
def change_form(asking: Asked, unit_id: str) -> HTMLResponse:
    """The form of a unit."""
    unit = valves.unit(asking.register, asking.who, unit_id)
    return _form(asking, unit.system_id, unit)


@router.post("/{unit_id}/change")
def change_unit(asking: Asked, unit_id: str, form: PostedForm) -> RedirectResponse:
    """Keep a change of a unit."""
    position = form.whole("position", "Place along the pipes")
    before = valves.unit(asking.register, asking.who, unit_id)
    kept = valves.change_unit(
        asking.register,
        asking.who,
        unit_id,
        version=form.version(),
        name=form.text("name"),
        kind=form.text("kind"),
        position=before.position if position is None else position,
        branch_unit=form.given("branch_unit"),
        room=form.given("room"),
        capacity_kw=_capacity_kw(form),
    )
    return asking.go(f"/systems/{kept.system_id}/valves", done="unit-changed")


def _form(asking: Asking, system_id: str, unit: UnitPlace | None) -> HTMLResponse:
    system = places.system(asking.register, asking.who, system_id)
    site = places.site(asking.register, asking.who, system.site_id)
    known = unit is not None and unit.capacity_kw is not None
    return asking.page(
        "units/form.html",
        system=system,
        site=site,
        unit=unit,
        notes=list_notes(asking.register, asking.who, about_kind="unit", about_id=unit.id) if unit else (),
        kinds=[(key, asking.text(word)) for key, word in UNIT_WORDS.items()],
        capacity=f"{plain(unit.capacity_kw)} kW" if known and unit and unit.capacity_kw is not None else "",
    )


def _capacity_kw(form: Posted) -> float | None:
    return typed_quantity(form.text("capacity"), "kW", "Capacity")
