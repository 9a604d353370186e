"""What heads should measure: entered once out of the manual, revised beside the old, checked by a second person."""

from collections.abc import Mapping
from typing import Any

from fifthwire.model.errors import InputError
from fifthwire.model.kept.manuals import SpecRevision
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.visit import Spec
from fifthwire.register import audit, manuals, photographs
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile.parts import spec_from_table
from fifthwire.workflow import place_fields as field
from fifthwire.workflow.permission import require

SHA256_DIGITS = 64


def list_specs(register: Register, who: Person, *, page: int = 1) -> Page[SpecRevision]:
    """The latest revision of everything the manuals say, by name."""
    require(who, "read")
    with register.reading() as keep:
        return manuals.list_specs(keep, page=page)


def spec(register: Register, who: Person, spec_id: str) -> SpecRevision:
    """The latest revision of a spec.

    Raises
    ------
    NotFound
        If there is none of that id.
    """
    require(who, "read")
    with register.reading() as keep:
        return manuals.spec(keep, spec_id)


def spec_named(register: Register, who: Person, name: str) -> SpecRevision | None:
    """The latest revision of the spec of that name, if there is one."""
    require(who, "read")
    with register.reading() as keep:
        return manuals.spec_named(keep, name)


def revisions(register: Register, who: Person, spec_id: str) -> tuple[SpecRevision, ...]:
    """Every revision of a spec, newest first.

    Raises
    ------
    NotFound
        If there is no spec of that id.
    """
    require(who, "read")
    with register.reading() as keep:
        manuals.spec(keep, spec_id)
        return manuals.revisions(keep, spec_id)


def add_spec(
    register: Register,
    who: Person,
    *,
    name: str,
    spec: Spec | Mapping[str, Any],
    title: str | None = None,
    page: str | None = None,
    photograph_sha256: str | None = None,
) -> SpecRevision:
    """Enter what a kind of head should measure.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        A lead or owner.
    name : str
        As visits name it; each has its own.
    spec : Spec or mapping
        What the manual says; a mapping has the keys of a visit file's spec, with units as people write them.
    title, page : str, optional
        Of the manual.
    photograph_sha256 : str, optional
        Of a kept photograph of that page.

    Raises
    ------
    VisitFileError
        If the spec cannot be, with every problem and its key.
    InputError
        If the name is taken.
    NotFound
        If there is no such photograph.
    """
    require(who, "change")
    with register.adding() as keep:
        made = _revision(keep, who, new_id(keep.now_utc), 1, name, spec, title, page, photograph_sha256)
        audit.write_down(keep, who, "manual-changed", made.name)
        return manuals.add_spec(keep, made)


def revise_spec(
    register: Register,
    who: Person,
    spec_id: str,
    *,
    revision: int,
    name: str,
    spec: Spec | Mapping[str, Any],
    title: str | None = None,
    page: str | None = None,
    photograph_sha256: str | None = None,
) -> SpecRevision:
    """Enter a further revision in place of the one that was read; that one is kept.

    Parameters
    ----------
    register, who, name, spec, title, page, photograph_sha256
        As for `add_spec`.
    spec_id : str
        Of the spec.
    revision : int
        Number of the revision that was read.

    Raises
    ------
    NotFound
        If there is no such spec.
    Conflict
        If somebody has revised it since; the error holds both.
    VisitFileError
        If the spec cannot be.
    InputError
        If another spec has the name.
    """
    require(who, "change")
    with register.adding() as keep:
        made = _revision(keep, who, spec_id, revision + 1, name, spec, title, page, photograph_sha256)
        revised = manuals.revise_spec(keep, made)
        audit.write_down(keep, who, "manual-changed", revised.name, f"revision {revised.revision}")
        return revised


def check_spec(register: Register, who: Person, revision_id: str) -> SpecRevision:
    """Confirm as a second person that a revision is what the page says.

    Raises
    ------
    NotFound
        If there is no such revision.
    InputError
        If this person entered it, or it was checked before.
    """
    require(who, "add")
    with register.adding() as keep:
        checked = manuals.check_spec(keep, revision_id, who.name, keep.now_utc)
        audit.write_down(keep, who, "manual-checked", checked.name, f"revision {checked.revision}")
        return checked


def _revision(
    keep: Keep,
    who: Person,
    spec_id: str,
    number: int,
    name: str,
    spec: Spec | Mapping[str, Any],
    title: str | None,
    page: str | None,
    photograph_sha256: str | None,
) -> SpecRevision:
    sha256 = photograph_sha256 or None
    if sha256 is not None and (len(sha256) != SHA256_DIGITS or not set(sha256) <= set("0123456789abcdef")):
        raise InputError("The photograph's number is none.", "Add the photograph first, then name it.")
    if sha256 is not None:
        photographs.photograph(keep, sha256)
    return SpecRevision(
        id=new_id(keep.now_utc),
        spec_id=spec_id,
        name=field.name(name, "a page of the manuals"),
        revision=number,
        spec=spec if isinstance(spec, Spec) else spec_from_table(spec),
        title=field.text(title, "The title"),
        page=field.text(page, "The page"),
        photograph_sha256=sha256,
        by=who.name,
        at_utc=keep.now_utc,
    )
