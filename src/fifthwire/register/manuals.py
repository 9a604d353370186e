"""What heads should measure, revision by revision, and meters by serial number."""

from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlalchemy import Row, and_, select, update

from fifthwire.model.errors import Conflict, InputError, NotFound
from fifthwire.model.kept.manuals import MeterKept, SpecRevision
from fifthwire.model.kept.page import Page
from fifthwire.model.visit import Meter, Spec
from fifthwire.register.places import LOOK
from fifthwire.register.rows import change, one_page, paged, put, record_of, require_new, values_of
from fifthwire.register.search import SearchText, let_find
from fifthwire.register.store import Keep
from fifthwire.register.tables.manuals import METERS, SPEC_REVISIONS, SPECS
from fifthwire.visitfile.parts import part_from_table
from fifthwire.visitfile.writing import table_of

_LATEST = and_(SPECS.c.id == SPEC_REVISIONS.c.spec_id, SPECS.c.revision == SPEC_REVISIONS.c.revision)


def add_spec(keep: Keep, revision: SpecRevision) -> SpecRevision:
    """Keep the first revision of what a kind of head should measure.

    Raises
    ------
    InputError
        If the name is taken.
    """
    message, hint = f"{revision.name} stands in the manuals already.", "Add a revision to it, or give another name."
    require_new(keep, SPECS, message, hint, name=revision.name)
    put(keep, SPECS, [{"id": revision.spec_id, "name": revision.name, "revision": revision.revision}])
    return _put_revision(keep, revision)


def revise_spec(keep: Keep, revision: SpecRevision) -> SpecRevision:
    """Keep a further revision; its number is one more than that of the revision that was read.

    Raises
    ------
    NotFound
        If there is no such spec.
    Conflict
        If somebody has revised it since; both are in the error.
    InputError
        If its name is another spec's.
    """
    message, hint = f"Another page of the manuals is named {revision.name}.", "Give another name."
    require_new(keep, SPECS, message, hint, other_than=revision.spec_id, name=revision.name)
    theirs = spec(keep, revision.spec_id)
    done = keep.connection.execute(
        update(SPECS)
        .where(SPECS.c.id == revision.spec_id, SPECS.c.revision == revision.revision - 1)
        .values(name=revision.name, revision=revision.revision)
    )
    if done.rowcount != 1:
        raise Conflict(
            f"Somebody else has revised {theirs.name} since you opened it.",
            "Yours was not written. Both are shown: take what is right from each and save again.",
            theirs=theirs,
            yours=revision,
        )
    return _put_revision(keep, revision)


def _put_revision(keep: Keep, revision: SpecRevision) -> SpecRevision:
    put(keep, SPEC_REVISIONS, [values_of(revision, SPEC_REVISIONS, spec=table_of(revision.spec))])
    body = " ".join(part for part in (revision.title, revision.page, revision.spec.source) if part)
    found = SearchText(
        kind="spec", about_id=revision.spec_id, title=revision.name, place=revision.title or "", body=body
    )
    let_find(keep, [found])
    return revision


def check_spec(keep: Keep, revision_id: str, checked_by: str, checked_at_utc: datetime) -> SpecRevision:
    """Write down that a second person has compared a revision with the page.

    Raises
    ------
    NotFound
        If there is no such revision.
    InputError
        If it was the same person who entered it, or it was checked before.
    """
    row = keep.connection.execute(select(SPEC_REVISIONS).where(SPEC_REVISIONS.c.id == revision_id)).first()
    if row is None:
        raise NotFound(f"No revision has the id {revision_id}.", LOOK)
    revision = _spec_of(row)
    if revision.by == checked_by:
        raise InputError(f"{checked_by} entered it.", "Let another person compare it with the page.")
    if revision.checked_by is not None:
        raise InputError(f"{revision.checked_by} has checked it already.", "Nothing is left to do.")
    when = {"checked_by": checked_by, "checked_at_utc": checked_at_utc}
    keep.connection.execute(update(SPEC_REVISIONS).where(SPEC_REVISIONS.c.id == revision_id).values(when))
    return replace(revision, checked_by=checked_by, checked_at_utc=checked_at_utc)


def spec(keep: Keep, spec_id: str) -> SpecRevision:
    """The latest revision of a spec.

    Raises
    ------
    NotFound
        If there is none.
    """
    query = select(SPEC_REVISIONS).join(SPECS, _LATEST).where(SPECS.c.id == spec_id)
    row = keep.connection.execute(query).first()
    if row is None:
        raise NotFound(f"No page of the manuals has the id {spec_id}.", LOOK)
    return _spec_of(row)


def spec_named(keep: Keep, name: str) -> SpecRevision | None:
    """The latest revision of a spec by its name."""
    row = keep.connection.execute(select(SPEC_REVISIONS).join(SPECS, _LATEST).where(SPECS.c.name == name)).first()
    return None if row is None else _spec_of(row)


def specs_named(keep: Keep) -> dict[str, SpecRevision]:
    """The latest revision of every spec, by its name."""
    rows = keep.connection.execute(select(SPEC_REVISIONS).join(SPECS, _LATEST))
    return {row.name: _spec_of(row) for row in rows}


def revisions(keep: Keep, spec_id: str) -> tuple[SpecRevision, ...]:
    """Every revision of a spec, newest first."""
    query = select(SPEC_REVISIONS).where(SPEC_REVISIONS.c.spec_id == spec_id)
    rows = keep.connection.execute(query.order_by(SPEC_REVISIONS.c.revision.desc()))
    return tuple(_spec_of(row) for row in rows)


def list_specs(keep: Keep, *, page: int = 1) -> Page[SpecRevision]:
    """The latest revision of every spec, by name."""
    query = select(SPEC_REVISIONS).join(SPECS, _LATEST).order_by(SPECS.c.name)
    rows, n_rows = one_page(keep, query, page)
    return paged((_spec_of(row) for row in rows), page, n_rows)


def _spec_of(row: Row[Any]) -> SpecRevision:
    return record_of(SpecRevision, row, spec=part_from_table(Spec, row.spec))


def add_meter(keep: Keep, meter: MeterKept) -> MeterKept:
    """Keep a new meter.

    Raises
    ------
    InputError
        If its serial number is taken.
    """
    message, hint = f"A meter with the serial number {meter.serial} is kept already.", "Change that one."
    require_new(keep, METERS, message, hint, serial=meter.serial)
    put(keep, METERS, [values_of(meter, METERS, meter=table_of(meter.meter))])
    let_find(keep, [_meter_text(meter)], are_new=True)
    return meter


def change_meter(keep: Keep, meter: MeterKept) -> MeterKept:
    """Change a meter; its `version` is the one that was read.

    Raises
    ------
    Conflict
        If somebody has changed it since.
    InputError
        If another meter has the serial number.
    """
    message = f"Another meter has the serial number {meter.serial}."
    require_new(keep, METERS, message, "Look at the number on its back.", other_than=meter.id, serial=meter.serial)
    changed: MeterKept = change(keep, METERS, meter, meter_or_none(keep, meter.id), meter=table_of(meter.meter))
    let_find(keep, [_meter_text(changed)])
    return changed


def meter_or_none(keep: Keep, meter_id: str) -> MeterKept | None:
    """A meter by its id."""
    row = keep.connection.execute(select(METERS).where(METERS.c.id == meter_id)).first()
    return None if row is None else _meter_of(row)


def meter(keep: Keep, meter_id: str) -> MeterKept:
    """A meter by its id.

    Raises
    ------
    NotFound
        If there is none.
    """
    found = meter_or_none(keep, meter_id)
    if found is None:
        raise NotFound(f"No meter has the id {meter_id}.", LOOK)
    return found


def meter_of_serial(keep: Keep, serial: str) -> MeterKept | None:
    """A meter by its serial number."""
    row = keep.connection.execute(select(METERS).where(METERS.c.serial == serial)).first()
    return None if row is None else _meter_of(row)


def list_meters(keep: Keep, *, page: int = 1) -> Page[MeterKept]:
    """Meters by serial number."""
    rows, n_rows = one_page(keep, select(METERS).order_by(METERS.c.serial), page)
    return paged((_meter_of(row) for row in rows), page, n_rows)


def _meter_of(row: Row[Any]) -> MeterKept:
    return record_of(MeterKept, row, meter=part_from_table(Meter, row.meter))


def _meter_text(of: MeterKept) -> SearchText:
    return SearchText(kind="meter", about_id=of.id, title=of.serial, body=of.name or "")
