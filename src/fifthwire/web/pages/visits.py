"""Visits: the list, one visit's verdicts, what was written down, its report; assess it and sign it off."""

from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from fifthwire.model.choices import REASONS_FOR_VISIT
from fifthwire.model.errors import NotFound
from fifthwire.model.kept.visits import Judgement, VisitWhole
from fifthwire.model.words import word
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.entries_shown import entry_groups
from fifthwire.web.judged import judged_rows, plain_lines, system_judged
from fifthwire.web.posted import PostedForm
from fifthwire.workflow import manuals, places, visits_kept
from fifthwire.workflow.draft_report import draft_report
from fifthwire.workflow.manual_specs import take_manual_spec
from fifthwire.workflow.notes import list_notes

MEDIA_TYPES = {
    "toml": "application/toml",
    "json": "application/json",
    "zip": "application/zip",
    "pdf": "application/pdf",
    "html": "text/html; charset=utf-8",
}

router = APIRouter(prefix="/visits")


@router.get("")
def visits(asking: Asked) -> HTMLResponse:
    """Every visit, newest first."""
    found = visits_kept.list_visits(
        asking.register, asking.who, site_id=asking.query("site") or None, page=asking.page_number()
    )
    return asking.page("visits/list.html", visits=found, sites=places.every_site(asking.register, asking.who))


@router.get("/new")
def new_visit_form(asking: Asked) -> HTMLResponse:
    """Of which system, when and why; the site is asked first where the address does not say."""
    register, who = asking.register, asking.who
    system_id, site_id = asking.query("system"), asking.query("site")
    if system_id:
        site_id = places.system(register, who, system_id).site_id
    sites = places.every_site(register, who)
    zone = next((site.time_zone for site in sites if site.id == site_id), "UTC")
    systems = places.systems_of(register, who, site_id) if site_id else None
    return asking.page(
        "visits/new.html",
        sites=[(site.id, site.name) for site in sites],
        systems=() if not sites else systems and [(one.id, one.name) for one in systems],
        reasons=[(reason, word(reason)) for reason in REASONS_FOR_VISIT],
        today=datetime.now(UTC).astimezone(ZoneInfo(zone)).date().isoformat(),
    )


@router.post("/new")
def start_visit(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Start a visit, to be filled in."""
    kept = visits_kept.new_visit(
        asking.register,
        asking.who,
        form.text("system"),
        form.day("date", "The day"),
        technician=form.given("technician"),
        reason=form.text("reason") or "planned",
    )
    return asking.go(f"/visits/{kept.id}/fill", done="visit-started")


@router.get("/{visit_id}")
def verdicts(asking: Asked, visit_id: str) -> HTMLResponse:
    """What was made of a visit: the latest judgement, or the one the address names."""
    whole = visits_kept.visit_of(asking.register, asking.who, visit_id)
    judgement = _judgement(whole, asking.query("judgement"))
    rows = judged_rows(judgement, whole) if judgement else ()
    three = plain_lines(judgement, whole) if judgement else ()
    return _page(
        asking,
        "verdicts",
        "Verdicts",
        whole,
        judged=rows,
        three=three,
        judgement=judgement,
        **_beside(asking, whole, judgement),
    )


@router.get("/{visit_id}/entries")
def entries(asking: Asked, visit_id: str) -> HTMLResponse:
    """Everything that was written down, the struck entries too."""
    whole = visits_kept.visit_of(asking.register, asking.who, visit_id)
    strike_now = asking.query("strike")
    groups = entry_groups(whole.entries, asking.query("group"))
    return _page(asking, "entries", "Written down", whole, groups=groups, strike=strike_now)


@router.get("/{visit_id}/report")
def report(asking: Asked, visit_id: str) -> HTMLResponse:
    """The issues of the report, and the form that signs the next one."""
    whole = visits_kept.visit_of(asking.register, asking.who, visit_id)
    return _page(asking, "report", "Report", whole)


@router.post("/{visit_id}/assess")
def assess(asking: Asked, visit_id: str, form: PostedForm) -> RedirectResponse:
    """Judge a visit as it stands now."""
    visits_kept.judge_visit(asking.register, asking.who, visit_id)
    return asking.go(f"/visits/{visit_id}", done="visit-judged")


@router.post("/{visit_id}/sign")
def sign(asking: Asked, visit_id: str, form: PostedForm) -> RedirectResponse:
    """Freeze the next issue of the report."""
    visits_kept.sign_off(asking.register, asking.who, visit_id, why=form.text("why"))
    return asking.go(f"/visits/{visit_id}/report", done="signed-off")


@router.post("/{visit_id}/take")
def take_spec(asking: Asked, visit_id: str, form: PostedForm) -> RedirectResponse:
    """Take over what the manuals say by now, as an addition; the visit is then assessed again when told."""
    take_manual_spec(asking.register, asking.who, visit_id, form.text("name"))
    return asking.go(f"/visits/{visit_id}", done="spec-taken")


@router.post("/{visit_id}/strike")
def strike(asking: Asked, visit_id: str, form: PostedForm) -> RedirectResponse:
    """Strike an entry out."""
    visits_kept.void_entry(asking.register, asking.who, visit_id, form.text("entry"), why=form.needed("why", "Why"))
    return asking.go(f"/visits/{visit_id}/entries", done="entry-voided")


@router.get("/{visit_id}/file.{syntax}")
def visit_file(asking: Asked, visit_id: str, syntax: str) -> Response:
    """A visit as a file."""
    if syntax not in ("toml", "json", "zip"):
        raise NotFound(f"A visit is no {syntax} file.", "Ask for TOML, JSON, or ZIP with its pictures.")
    content = visits_kept.visit_file(asking.register, asking.who, visit_id, syntax)
    return download(content, f"{visit_id}.visit.{syntax}", MEDIA_TYPES[syntax])


@router.get("/{visit_id}/draft.{suffix}")
def draft(asking: Asked, visit_id: str, suffix: str) -> Response:
    """The report as it stands, to be read before it is signed."""
    if suffix not in ("pdf", "html"):
        raise NotFound(f"A report is no {suffix} file.", "Ask for PDF or HTML.")
    content = draft_report(asking.register, asking.who, visit_id, f".{suffix}", units=asking.units)
    return download(content, f"{visit_id}-not-signed.{suffix}", MEDIA_TYPES[suffix])


@router.get("/{visit_id}/issues/{number}.{suffix}")
def issue(asking: Asked, visit_id: str, number: int, suffix: str) -> Response:
    """A signed issue of the report, as it was frozen."""
    if suffix not in ("pdf", "html"):
        raise NotFound(f"A report is no {suffix} file.", "Ask for PDF or HTML.")
    content = visits_kept.issue_report(asking.register, asking.who, visit_id, number, f".{suffix}")
    return download(content, f"{visit_id}-issue-{number}.{suffix}", MEDIA_TYPES[suffix])


def download(content: bytes, name: str, media_type: str) -> Response:
    """A file to keep: never shown inside our own pages, whatever is in it."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "X-Content-Type-Options": "nosniff"}
    return Response(content, media_type=media_type, headers=headers)


def _beside(asking: Asking, whole: VisitWhole, judgement: Judgement | None) -> dict[str, Any]:
    """What stands beside the verdicts: the system, what heads were compared with, notes."""
    register, who, id_ = asking.register, asking.who, whole.kept.id
    return {
        "system": system_judged(judgement) if judgement else None,
        "specs": [(name, spec, manuals.spec_named(register, who, name)) for name, spec in whole.visit.specs.items()],
        "differing": {one.name for one in whole.specs},
        "notes": list_notes(register, who, about_kind="visit", about_id=id_),
        "photograph_of": ("visit", id_),
    }


def _judgement(whole: VisitWhole, named: str) -> Judgement | None:
    if not named:
        return whole.judgements[0] if whole.judgements else None
    found = next((one for one in whole.judgements if one.id == named), None)
    if found is None:
        raise NotFound("This visit has no such judgement.", "Choose one from its list.")
    return found


def _page(asking: Asking, name: str, tab: str, whole: VisitWhole, **values: Any) -> HTMLResponse:
    zone = places.site(asking.register, asking.who, whole.kept.site_id).time_zone
    given = {"whole": whole, "tab": asking.text(tab), "zone": zone, "photograph_zone": zone, **values}
    return asking.page(f"visits/{name}.html", **given)
