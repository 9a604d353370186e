"""Lists of valves, photographs, exports and the schemas of the file formats, for other programs."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query
from fastapi.responses import Response, StreamingResponse

from fifthwire.model.kept.lists import ImportedList, ListPreview
from fifthwire.model.kept.visits import PhotographKept
from fifthwire.visitfile import schema
from fifthwire.web.api.fields import RawFile, Text, Words, gives_file, takes_file
from fifthwire.web.asking import Asked
from fifthwire.web.pages.valve_lists import LIST_TYPES
from fifthwire.web.pages.visits import download
from fifthwire.workflow import lists, photographs

PICTURES = ("image/jpeg", "image/png", "image/webp")
FileName = Annotated[Text, Query(description="of the file, with its ending")]
SiteId = Annotated[Text, Query()]

router = APIRouter(tags=["files"])


@router.get("/valve-lists/template.{suffix}", response_class=Response, responses=gives_file(*LIST_TYPES.values()))
def valve_list_template(asking: Asked, suffix: Literal["csv", "xlsx"]) -> Response:
    """An empty list of valves to fill in."""
    return download(lists.valve_list_template(f".{suffix}"), f"valves.{suffix}", LIST_TYPES[suffix])


@router.post("/valve-lists/preview", openapi_extra=takes_file(*LIST_TYPES.values()))
def preview_valve_list(asking: Asked, content: RawFile, name: FileName, site_id: SiteId) -> ListPreview:
    """What importing a list would do, each problem by row and column; nothing is written."""
    return lists.preview_valve_list(asking.register, asking.who, content, name, site_id=site_id)


@router.post("/valve-lists", status_code=201, openapi_extra=takes_file(*LIST_TYPES.values()))
def import_valve_list(asking: Asked, content: RawFile, name: FileName, site_id: SiteId) -> ImportedList:
    """Import a building's list of valves."""
    return lists.import_valve_list(asking.register, asking.who, content, name, site_id=site_id)


@router.post("/photographs", status_code=201, openapi_extra=takes_file(*PICTURES))
def add_photograph(asking: Asked, content: RawFile, about_kind: Words = None, about_id: Words = None) -> PhotographKept:
    """Keep a photograph, without the place where it was taken."""
    return photographs.add_photograph(
        asking.register, asking.who, content, about_kind=about_kind or None, about_id=about_id or None
    )


@router.get("/photographs/{sha256}", response_class=Response, responses=gives_file(*PICTURES))
def get_photograph(asking: Asked, sha256: str, thumbnail: bool = False) -> Response:
    """A photograph, or its thumbnail."""
    shown = photographs.photograph(asking.register, asking.who, sha256, thumbnail=thumbnail)
    return Response(shown.content, media_type=shown.media_type)


@router.get("/export", response_class=StreamingResponse, responses=gives_file("application/zip"))
def export(asking: Asked, what: Literal["csv", "visits", "zip"] = "zip", site_id: Words = None) -> StreamingResponse:
    """Everything that is kept: tables, visit files, or both with the photographs."""
    content = lists.export_register(asking.register, asking.who, what, site_id=site_id or None)
    return StreamingResponse(content, media_type="application/zip")


@router.get("/schemas/visit.json")
def visit_schema() -> dict[str, Any]:
    """The JSON Schema of a visit file."""
    return schema()
