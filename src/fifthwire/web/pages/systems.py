"""Systems: the list, one system with its drawing, valves, visits and notes, the form."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.kept.places import Site, SystemPlace
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.labels import UNIT_WORDS
from fifthwire.web.posted import PostedForm
from fifthwire.workflow import places
from fifthwire.workflow.visits_kept import list_visits

router = APIRouter(prefix="/systems")


@router.get("")
def systems(asking: Asked) -> HTMLResponse:
    """Every system of the person's sites."""
    found = places.list_systems(asking.register, asking.who, page=asking.page_number())
    return asking.page("systems/list.html", systems=found)


@router.get("/new")
def new_system(asking: Asked) -> HTMLResponse:
    """The form of a new system of a site."""
    return _form(asking, places.site(asking.register, asking.who, asking.query("site")), None)


@router.post("/new")
def add_system(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep a new system."""
    kept = places.add_system(
        asking.register,
        asking.who,
        site_id=form.text("site"),
        name=form.text("name"),
        refrigerant=form.given("refrigerant"),
        installed=form.whole("installed", "Year of installation"),
        is_heat_recovery=form.is_set("is_heat_recovery"),
    )
    return asking.go(f"/systems/{kept.id}", done="system-added")


@router.get("/{system_id}/valves")
def valves_of_system(asking: Asked, system_id: str) -> HTMLResponse:
    """The valves of a system, and its units."""
    whole = places.system_whole(asking.register, asking.who, system_id)
    return asking.page("systems/valves.html", whole=whole, tab=asking.text("Valves"), unit_words=UNIT_WORDS)


@router.get("/{system_id}/visits")
def visits_of_system(asking: Asked, system_id: str) -> HTMLResponse:
    """The visits of a system."""
    whole = places.system_whole(asking.register, asking.who, system_id)
    visits = list_visits(asking.register, asking.who, system_id=system_id, page=asking.page_number())
    return asking.page("systems/visits.html", whole=whole, visits=visits, tab=asking.text("Visits"))


@router.get("/{system_id}/notes")
def notes_of_system(asking: Asked, system_id: str) -> HTMLResponse:
    """The notes on a system."""
    whole = places.system_whole(asking.register, asking.who, system_id)
    return asking.page("systems/notes.html", whole=whole, tab=asking.text("Notes"))


@router.get("/{system_id}/change")
def change_form(asking: Asked, system_id: str) -> HTMLResponse:
    """The form of a system."""
    system = places.system(asking.register, asking.who, system_id)
    return _form(asking, places.site(asking.register, asking.who, system.site_id), system)


@router.post("/{system_id}/change")
def change_system(asking: Asked, system_id: str, form: PostedForm) -> RedirectResponse:
    """Keep a change of a system."""
    places.change_system(
        asking.register,
        asking.who,
        system_id,
        version=form.version(),
        name=form.text("name"),
        refrigerant=form.given("refrigerant"),
        installed=form.whole("installed", "Year of installation"),
        is_heat_recovery=form.is_set("is_heat_recovery"),
    )
    return asking.go(f"/systems/{system_id}", done="system-changed")


def _form(asking: Asking, site: Site, system: SystemPlace | None) -> HTMLResponse:
    refrigerants = [(one, one) for one in REFRIGERANTS]
    return asking.page("systems/form.html", site=site, system=system, refrigerants=refrigerants)
