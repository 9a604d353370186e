"""Manuals and meters for other programs."""

from typing import Annotated

from fastapi import APIRouter, Body

from fifthwire.model.kept.manuals import MeterKept, SpecRevision
from fifthwire.model.kept.page import Page
from fifthwire.web.api.fields import PageNumber, Table, Text, Version
from fifthwire.web.asking import Asked
from fifthwire.workflow import manuals, meters

router = APIRouter(tags=["manuals and meters"])


@router.get("/specs")
def list_specs(asking: Asked, page: PageNumber = 1) -> Page[SpecRevision]:
    """The latest revision of what each kind of head should measure."""
    return manuals.list_specs(asking.register, asking.who, page=page)


@router.post("/specs", status_code=201)
def add_spec(
    asking: Asked,
    name: Annotated[Text, Body()],
    spec: Annotated[Table, Body(description="the keys of a visit file's spec")],
    title: Annotated[Text | None, Body()] = None,
    page: Annotated[Text | None, Body()] = None,
    photograph_sha256: Annotated[Text | None, Body()] = None,
) -> SpecRevision:
    """Enter what a kind of head should measure."""
    return manuals.add_spec(
        asking.register,
        asking.who,
        name=name,
        spec=spec,
        title=title,
        page=page,
        photograph_sha256=photograph_sha256,
    )


@router.get("/specs/{spec_id}")
def get_spec(asking: Asked, spec_id: str) -> tuple[SpecRevision, ...]:
    """Every revision, newest first."""
    return manuals.revisions(asking.register, asking.who, spec_id)


@router.post("/specs/{spec_id}/revisions", status_code=201)
def revise_spec(
    asking: Asked,
    spec_id: str,
    revision: Version,
    name: Annotated[Text, Body()],
    spec: Annotated[Table, Body(description="the keys of a visit file's spec")],
    title: Annotated[Text | None, Body()] = None,
    page: Annotated[Text | None, Body()] = None,
    photograph_sha256: Annotated[Text | None, Body()] = None,
) -> SpecRevision:
    """Enter a further revision in place of the one that was read; that one is kept."""
    return manuals.revise_spec(
        asking.register,
        asking.who,
        spec_id,
        revision=revision,
        name=name,
        spec=spec,
        title=title,
        page=page,
        photograph_sha256=photograph_sha256,
    )


@router.post("/specs/revisions/{revision_id}/check")
def check_spec(asking: Asked, revision_id: str) -> SpecRevision:
    """Confirm as a second person that a revision is what the page says."""
    return manuals.check_spec(asking.register, asking.who, revision_id)


@router.get("/meters")
def list_meters(asking: Asked, page: PageNumber = 1) -> Page[MeterKept]:
    """Meters by serial number."""
    return meters.list_meters(asking.register, asking.who, page=page)


@router.post("/meters", status_code=201)
def add_meter(
    asking: Asked,
    serial: Annotated[Text, Body()],
    meter: Annotated[Table, Body(description="the keys of a visit file's meter")],
    name: Annotated[Text | None, Body()] = None,
) -> MeterKept:
    """Keep a new meter."""
    return meters.add_meter(asking.register, asking.who, serial=serial, meter=meter, name=name)


@router.get("/meters/{meter_id}")
def get_meter(asking: Asked, meter_id: str) -> MeterKept:
    """One meter."""
    return meters.meter(asking.register, asking.who, meter_id)


@router.put("/meters/{meter_id}")
def change_meter(
    asking: Asked,
    meter_id: str,
    version: Version,
    serial: Annotated[Text, Body()],
    meter: Annotated[Table, Body(description="the keys of a visit file's meter")],
    name: Annotated[Text | None, Body()] = None,
) -> MeterKept:
    """Change a meter that was read in this version."""
    return meters.change_meter(
        asking.register, asking.who, meter_id, version=version, serial=serial, meter=meter, name=name
    )
