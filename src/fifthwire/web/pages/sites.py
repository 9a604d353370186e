"""Sites: the list, one site with its systems and what is open there, the form."""

from zoneinfo import available_timezones

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.kept.places import Site
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.web.typed import altitude_shown, typed_quantity
from fifthwire.workflow import places
from fifthwire.workflow.notes import list_notes
from fifthwire.workflow.todo import list_actions
from fifthwire.workflow.visits_kept import list_visits

router = APIRouter(prefix="/sites")


@router.get("")
def sites(asking: Asked) -> HTMLResponse:
    """Every site that the person looks after."""
    return asking.page(
        "sites/list.html", sites=places.list_sites(asking.register, asking.who, page=asking.page_number())
    )


@router.get("/new")
def new_site(asking: Asked) -> HTMLResponse:
    """The form of a new site."""
    return _form(asking, None)


@router.post("/new")
def add_site(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Keep a new site."""
    kept = places.add_site(
        asking.register,
        asking.who,
        name=form.text("name"),
        time_zone=form.text("time_zone"),
        altitude_m=_altitude_m(form),
        address=form.given("address"),
    )
    return asking.go(f"/sites/{kept.id}", done="site-added")


@router.get("/{site_id}")
def site(asking: Asked, site_id: str) -> HTMLResponse:
    """One site."""
    register, who = asking.register, asking.who
    return asking.page(
        "sites/site.html",
        site=places.site(register, who, site_id),
        systems=places.list_systems(register, who, site_id=site_id, page=asking.page_number()),
        actions=list_actions(register, who, site_id=site_id, state="open"),
        visits=list_visits(register, who, site_id=site_id),
        notes=list_notes(register, who, about_kind="site", about_id=site_id),
    )


@router.get("/{site_id}/change")
def change_form(asking: Asked, site_id: str) -> HTMLResponse:
    """The form of a site."""
    return _form(asking, places.site(asking.register, asking.who, site_id))


@router.post("/{site_id}/change")
def change_site(asking: Asked, site_id: str, form: PostedForm) -> RedirectResponse:
    """Keep a change of a site."""
    places.change_site(
        asking.register,
        asking.who,
        site_id,
        version=form.version(),
        name=form.text("name"),
        time_zone=form.text("time_zone"),
        altitude_m=_altitude_m(form),
        address=form.given("address"),
    )
    return asking.go(f"/sites/{site_id}", done="site-changed")


def _form(asking: Asking, site: Site | None) -> HTMLResponse:
    altitude = altitude_shown(site.altitude_m if site else None, asking.units)
    zones = sorted(zone for zone in available_timezones() if "/" in zone and not zone.startswith(("Etc", "System")))
    return asking.page("sites/form.html", site=site, altitude=altitude, zones=zones, zone="")


def _altitude_m(form: Posted) -> float | None:
    return typed_quantity(form.text("altitude"), "m", "Altitude")
