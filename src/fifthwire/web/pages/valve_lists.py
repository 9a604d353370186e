"""Import of a building's list of valves: each problem by row and column before anything is written."""

from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from fifthwire.web.asking import Asked
from fifthwire.web.labels import _
from fifthwire.web.pages.importing import held_files, sent_file
from fifthwire.web.pages.visits import download
from fifthwire.web.posted import PostedForm
from fifthwire.web.work import Progress
from fifthwire.workflow import lists, places

LIST_TYPES = {
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

KEPT_COUNTS = ("n_new", "n_changed", "n_same", "n_new_systems", "n_new_units")
"""Of `ImportedList`, as the page that follows an import shows them."""
KEEPING = _("Keeping the list of valves")

router = APIRouter(prefix="/import")


@router.get("/template.{suffix}")
def template(asking: Asked, suffix: str) -> Response:
    """An empty list of valves to fill in."""
    content = lists.valve_list_template(f".{suffix}")
    return download(content, f"valves.{suffix}", LIST_TYPES[suffix])


@router.get("/valves")
def choose_list(asking: Asked) -> HTMLResponse:
    """Which list, of which site."""
    sites = [(site.id, site.name) for site in places.every_site(asking.register, asking.who)]
    return asking.page("imports/valves.html", sites=sites)


@router.post("/valves")
def look_at_list(asking: Asked, form: PostedForm) -> HTMLResponse:
    """What importing a list would do, and each problem in it by row and column."""
    file = sent_file(form)
    site = places.site(asking.register, asking.who, form.text("site"))
    preview = lists.preview_valve_list(asking.register, asking.who, file.content, file.name, site_id=site.id)
    held = "" if preview.problems else held_files(asking).hold(file, asking.who.id)
    status = 422 if preview.problems else 200
    return asking.page("imports/valves_preview.html", status=status, preview=preview, site=site, held=held)


@router.post("/valves/keep")
def keep_list(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Import the list that was looked at; a long one takes some seconds, and its progress is shown."""
    register, who, held, site_id = asking.register, asking.who, form.text("held"), form.text("site")
    file = held_files(asking).held(held, who.id)
    files = held_files(asking)

    def keep(progress: Progress) -> str:
        kept = lists.import_valve_list(register, who, file.content, file.name, site_id=site_id, progress=progress)
        files.forget(held)
        counts = {name: getattr(kept, name) for name in KEPT_COUNTS}
        return f"/import/valves/kept?{urlencode({'site': kept.site_id, **counts})}"

    name = asking.request.app.state.work.begin(who.id, KEEPING, keep)
    return asking.go(f"/progress/{name}")


@router.get("/valves/kept")
def list_kept(asking: Asked) -> HTMLResponse:
    """What the import of a list did."""
    site = places.site(asking.register, asking.who, asking.query("site"))
    counts = {name: int(asking.query(name)) if asking.query(name).isdecimal() else 0 for name in KEPT_COUNTS}
    return asking.page("imports/valves_kept.html", site=site, kept=counts)
