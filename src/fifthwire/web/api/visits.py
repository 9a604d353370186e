"""Visits for other programs: import, look at, add to, strike out, assess, sign off, take out."""

from datetime import date, datetime
from typing import Annotated, Literal

from fastapi import APIRouter, Body, Query
from fastapi.responses import Response

from fifthwire.model.kept.page import Page
from fifthwire.model.kept.visits import (
    EntryKept,
    ImportedVisit,
    Issue,
    Judgement,
    VisitKept,
    VisitPreview,
    VisitWhole,
)
from fifthwire.web.api.fields import PageNumber, RawFile, Table, Text, Whole, Words, gives_file, takes_file
from fifthwire.web.asking import Asked
from fifthwire.web.pages.visits import MEDIA_TYPES, download
from fifthwire.workflow import visits_kept
from fifthwire.workflow.draft_report import draft_report

VISIT_TYPES = ("application/toml", "application/json", "application/zip")
FileName = Annotated[Text, Query(description="of the file, NAME.visit.toml or NAME.visit.json")]

router = APIRouter(tags=["visits"])


@router.get("/visits")
def list_visits(asking: Asked, site_id: Words = None, system_id: Words = None, page: PageNumber = 1) -> Page[VisitKept]:
    """Visits, newest first."""
    return visits_kept.list_visits(
        asking.register, asking.who, site_id=site_id or None, system_id=system_id or None, page=page
    )


@router.post("/visits", status_code=201)
def new_visit(
    asking: Asked,
    system_id: Annotated[Text, Body()],
    day: Annotated[date, Body()],
    technician: Annotated[Text | None, Body()] = None,
    reason: Annotated[Text, Body()] = "planned",
) -> VisitKept:
    """Begin a visit."""
    return visits_kept.new_visit(asking.register, asking.who, system_id, day, technician=technician, reason=reason)


@router.post("/visit-files/preview", openapi_extra=takes_file(*VISIT_TYPES))
def preview_visit_file(asking: Asked, content: RawFile, name: FileName) -> VisitPreview:
    """What importing a visit file would do; nothing is written."""
    return visits_kept.preview_visit_file(asking.register, asking.who, content, name)


@router.post("/visit-files", status_code=201, openapi_extra=takes_file(*VISIT_TYPES))
def import_visit_file(
    asking: Asked,
    content: RawFile,
    name: FileName,
    answer: Annotated[list[Text], Query(description="KEY=VALUE: an answer to a question of the preview")] = [],  # noqa: B006 - read only
) -> ImportedVisit:
    """Import a visit file; the same file twice changes nothing."""
    answers = dict(one.partition("=")[::2] for one in answer)
    return visits_kept.import_visit_file(asking.register, asking.who, content, name, answers=answers)


@router.get("/visits/{visit_id}")
def get_visit(asking: Asked, visit_id: str) -> VisitWhole:
    """A visit with every entry, judgement and issue."""
    return visits_kept.visit_of(asking.register, asking.who, visit_id)


@router.post("/visits/{visit_id}/entries", status_code=201)
def add_entry(
    asking: Asked,
    visit_id: str,
    path: Annotated[Text, Body(description="where it stands, as in `valves/KEY/readings`")],
    body: Annotated[Table, Body(description="the keys of the table, as in a visit file")],
    entry: Annotated[Text | None, Body(description="its id; adding the same entry again changes nothing")] = None,
    expected_version: Annotated[Whole | None, Body(description="of the visit as it was read")] = None,
    at_utc: Annotated[datetime | None, Body()] = None,
    device: Annotated[Text | None, Body()] = None,
) -> EntryKept:
    """Add one table to a visit; 409 where somebody has said something else there since."""
    return visits_kept.add_entry(
        asking.register,
        asking.who,
        visit_id,
        path,
        body,
        entry=entry,
        expected_version=expected_version,
        at_utc=at_utc,
        device=device,
    )


@router.post("/visits/{visit_id}/voids", status_code=201)
def void_entry(asking: Asked, visit_id: str, entry: Annotated[Text, Body()], why: Annotated[Text, Body()]) -> EntryKept:
    """Strike an entry out; it stays readable."""
    return visits_kept.void_entry(asking.register, asking.who, visit_id, entry, why=why)


@router.post("/visits/{visit_id}/judgements", status_code=201)
def judge_visit(asking: Asked, visit_id: str) -> Judgement:
    """Judge a visit as it stands."""
    return visits_kept.judge_visit(asking.register, asking.who, visit_id)


@router.post("/visits/{visit_id}/issues", status_code=201)
def sign_off(asking: Asked, visit_id: str, why: Annotated[Text | None, Body(embed=True)] = None) -> Issue:
    """Freeze the next issue of the report."""
    return visits_kept.sign_off(asking.register, asking.who, visit_id, why=why)


@router.get("/visits/{visit_id}/file.{syntax}", response_class=Response, responses=gives_file(*VISIT_TYPES))
def visit_file(asking: Asked, visit_id: str, syntax: Literal["toml", "json", "zip"]) -> Response:
    """A visit as a file; as ZIP with its pictures."""
    content = visits_kept.visit_file(asking.register, asking.who, visit_id, syntax)
    return download(content, f"{visit_id}.visit.{syntax}", MEDIA_TYPES[syntax])


@router.get(
    "/visits/{visit_id}/draft.{suffix}", response_class=Response, responses=gives_file("application/pdf", "text/html")
)
def draft(asking: Asked, visit_id: str, suffix: Literal["pdf", "html"]) -> Response:
    """The report of a visit as it stands, to be read before it is signed."""
    content = draft_report(asking.register, asking.who, visit_id, f".{suffix}", units=asking.units)
    return download(content, f"{visit_id}-not-signed.{suffix}", MEDIA_TYPES[suffix])


@router.get(
    "/visits/{visit_id}/issues/{number}.{suffix}",
    response_class=Response,
    responses=gives_file("application/pdf", "text/html", "application/json"),
)
def issue_report(asking: Asked, visit_id: str, number: Whole, suffix: Literal["pdf", "html", "json"]) -> Response:
    """A signed issue of the report, or the visit that it was made from, as it was frozen."""
    content = visits_kept.issue_report(asking.register, asking.who, visit_id, number, f".{suffix}")
    return download(content, f"{visit_id}-issue-{number}.{suffix}", MEDIA_TYPES[suffix])
