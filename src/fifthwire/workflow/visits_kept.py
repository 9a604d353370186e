"""Kept visits: list them, show one whole, begin one, add to it, strike out of it, take it out as a file."""

from contextlib import suppress
from dataclasses import replace

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import PhotographKept, VisitKept, VisitWhole
from fifthwire.model.visit import Visit
from fifthwire.register import issues, judgements, photographs, visits
from fifthwire.register.entries import assemble, list_order
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile import template, visit_to_json
from fifthwire.workflow.judging import judge_visit
from fifthwire.workflow.manual_specs import differing_specs, take_manual_spec
from fifthwire.workflow.permission import require
from fifthwire.workflow.signing import issue_report, sign_off
from fifthwire.workflow.visit_adding import add_entry, allowed_visit, void_entry
from fifthwire.workflow.visit_import import import_visit_file, preview_visit_file
from fifthwire.workflow.visit_start import new_visit
from fifthwire.workflow.visit_zip import packed

__all__ = [
    "add_entry",
    "import_visit_file",
    "issue_report",
    "judge_visit",
    "list_visits",
    "new_visit",
    "preview_visit_file",
    "sign_off",
    "take_manual_spec",
    "visit_file",
    "visit_of",
    "void_entry",
]


def list_visits(
    register: Register, who: Person, *, site_id: str | None = None, system_id: str | None = None, page: int = 1
) -> Page[VisitKept]:
    """The visits at the person's sites, the latest first.

    Raises
    ------
    NotFound
        If the site is none of the person's.
    """
    require(who, "read", site_id=site_id)
    with register.reading() as keep:
        return visits.list_visits(keep, site_id=site_id, system_id=system_id, site_ids=who.site_ids, page=page)


def visit_of(register: Register, who: Person, visit_id: str) -> VisitWhole:
    """A visit with every entry, judgement, issue and photograph.

    Raises
    ------
    NotFound
        If there is no such visit at the person's sites.
    """
    with register.reading() as keep:
        kept = allowed_visit(keep, who, visit_id, "read")
        drafts = visits.drafts_of(keep, visit_id)
        put_together = assemble(drafts, name="the visit")
        return VisitWhole(
            kept=kept,
            visit=put_together.visit,
            entries=visits.marked(drafts),
            judgements=judgements.judgements_of(keep, visit_id),
            issues=issues.issues_of(keep, visit_id),
            photographs=_photographs(keep, visit_id, put_together.visit),
            valve_ids=visits.valve_ids_of(keep, visit_id),
            doubts=tuple(one.words for one in put_together.doubts),
            specs=differing_specs(keep, put_together.visit),
        )


def _photographs(keep: Keep, visit_id: str, visit: Visit) -> tuple[PhotographKept, ...]:
    """Those that hang on the visit, and those that its file names and the register has."""
    hung = {one.sha256: one for one in photographs.photographs_about(keep, "visit", [visit_id])}
    for named in visit.photographs:
        if named.sha256 not in hung and not named.is_void:
            with suppress(NotFound):  # a file may come without its pictures
                hung[named.sha256] = photographs.photograph(keep, named.sha256)
    return tuple(hung.values())


def visit_file(register: Register, who: Person, visit_id: str, syntax: str) -> bytes:
    """A visit as a file, which any register takes in again.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id : str
        The visit.
    syntax : str
        toml | json | zip: the visit file with its pictures

    Raises
    ------
    InputError
        If the syntax is none of these.
    NotFound
        If there is no such visit at the person's sites.
    """
    if syntax not in ("toml", "json", "zip"):
        raise InputError(f"{syntax} is no form of a visit file.", "Ask for toml, json or zip.")
    with register.reading() as keep:
        allowed_visit(keep, who, visit_id, "read")
        visit = assemble(sorted(visits.drafts_of(keep, visit_id), key=list_order), name="the visit").visit
        named = replace(visit, header=replace(visit.header, id=visits.identity_kept(keep, visit_id)))
        pictures = _pictures(keep, visit_id) if syntax == "zip" else {}
    if syntax == "json":
        return visit_to_json(named).encode("utf-8")
    text = template(named).encode("utf-8")
    return packed(text, pictures) if syntax == "zip" else text


def _pictures(keep: Keep, visit_id: str) -> dict[str, tuple[str, bytes]]:
    """Media type and bytes of every picture that hangs on a visit; one that it only names may be of another site."""
    return {
        one.sha256: (one.media_type, photographs.picture_bytes(keep, one.sha256, thumbnail=False))
        for one in photographs.photographs_about(keep, "visit", [visit_id])
    }
