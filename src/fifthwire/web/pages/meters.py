"""Meters by serial number."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.web.asking import Asked
from fifthwire.web.measures import METER_KEYS, as_written, typed_meter
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.workflow import meters
from fifthwire.workflow.notes import list_notes

router = APIRouter(prefix="/meters")


@router.get("")
def list_of_meters(asking: Asked) -> HTMLResponse:
    """Every meter."""
    found = meters.list_meters(asking.register, asking.who, page=asking.page_number())
    return asking.page("meters/list.html", meters=found)


@router.get("/new")
def new_meter(asking: Asked) -> HTMLResponse:
    """The form of a new meter."""
    return asking.page("meters/form.html", kept=None, given=dict.fromkeys(METER_KEYS, ""), notes=())


@router.post("/new")
def add_meter(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep a new meter."""
    meters.add_meter(
        asking.register, asking.who, serial=form.text("serial"), meter=_table(form), name=form.given("name")
    )
    return asking.go("/meters", done="meter-added")


@router.get("/{meter_id}")
def meter(asking: Asked, meter_id: str) -> HTMLResponse:
    """One meter, in its form."""
    kept = meters.meter(asking.register, asking.who, meter_id)
    notes = list_notes(asking.register, asking.who, about_kind="meter", about_id=meter_id)
    return asking.page("meters/form.html", kept=kept, given=typed_meter(kept.meter), notes=notes)


@router.post("/{meter_id}")
def change_meter(asking: Asked, meter_id: str, form: PostedForm) -> RedirectResponse:
    """Keep a change of a meter."""
    meters.change_meter(
        asking.register,
        asking.who,
        meter_id,
        version=form.version(),
        serial=form.text("serial"),
        meter=_table(form),
        name=form.given("name"),
    )
    return asking.go("/meters", done="meter-changed")


def _table(form: Posted) -> dict[str, object]:
    """The keys of a visit file's meter, as people write them."""
    return {key: as_written(form.text(key)) for key in METER_KEYS if form.text(key)}
