"""Photographs, as they are kept: each picture once, known by its content, with what it is about."""

from collections.abc import Sequence

from sqlalchemy import insert, select

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.visits import PhotographKept
from fifthwire.register.ids import derived_id
from fifthwire.register.rows import record_of, values_of
from fifthwire.register.store import Keep
from fifthwire.register.tables.manuals import SPEC_REVISIONS
from fifthwire.register.tables.photographs import PHOTOGRAPH_LINKS, PHOTOGRAPHS, PICTURES
from fifthwire.register.tables.todo import FINDINGS

NOT_KEPT = "There is no such photograph."
NOT_KEPT_HINT = "Look for it at what it is about."


def add_picture(keep: Keep, kept: PhotographKept, content: bytes, thumbnail: bytes) -> PhotographKept:
    """Keep a picture; one that is there already stays as it was first added."""
    before = keep.connection.execute(select(PHOTOGRAPHS).where(PHOTOGRAPHS.c.sha256 == kept.sha256)).first()
    if before is not None:
        return record_of(PhotographKept, before)
    keep.connection.execute(insert(PHOTOGRAPHS).values(values_of(kept, PHOTOGRAPHS)))
    keep.connection.execute(insert(PICTURES).values(sha256=kept.sha256, content=content, thumbnail=thumbnail))
    return kept


def link_picture(keep: Keep, sha256: str, about_kind: str, about_id: str, by: str) -> None:
    """Say what a picture is about; saying it twice changes nothing."""
    id_ = derived_id("photograph", sha256, about_kind, about_id)
    if keep.connection.execute(select(PHOTOGRAPH_LINKS.c.id).where(PHOTOGRAPH_LINKS.c.id == id_)).first() is None:
        keep.connection.execute(
            insert(PHOTOGRAPH_LINKS).values(
                id=id_, sha256=sha256, about_kind=about_kind, about_id=about_id, by=by, at_utc=keep.now_utc
            )
        )


def is_kept(keep: Keep, sha256: str) -> bool:
    """Whether this very picture is kept."""
    return (
        keep.connection.execute(select(PHOTOGRAPHS.c.sha256).where(PHOTOGRAPHS.c.sha256 == sha256)).first() is not None
    )


def photograph(keep: Keep, sha256: str) -> PhotographKept:
    """What is known of a picture.

    Raises
    ------
    NotFound
        If it is not kept.
    """
    row = keep.connection.execute(select(PHOTOGRAPHS).where(PHOTOGRAPHS.c.sha256 == sha256)).first()
    if row is None:
        raise NotFound(NOT_KEPT, NOT_KEPT_HINT)
    return record_of(PhotographKept, row)


def picture_bytes(keep: Keep, sha256: str, *, thumbnail: bool) -> bytes:
    """The picture itself, or its small copy."""
    column = PICTURES.c.thumbnail if thumbnail else PICTURES.c.content
    return bytes(keep.connection.execute(select(column).where(PICTURES.c.sha256 == sha256)).scalar_one())


def photographs_about(keep: Keep, about_kind: str, about_ids: Sequence[str]) -> tuple[PhotographKept, ...]:
    """The photographs of some things of one kind, the newest first."""
    found = (
        select(PHOTOGRAPHS)
        .where(
            PHOTOGRAPHS.c.sha256.in_(
                select(PHOTOGRAPH_LINKS.c.sha256).where(
                    PHOTOGRAPH_LINKS.c.about_kind == about_kind, PHOTOGRAPH_LINKS.c.about_id.in_(about_ids)
                )
            )
        )
        .order_by(PHOTOGRAPHS.c.at_utc.desc(), PHOTOGRAPHS.c.sha256)
    )
    return tuple(record_of(PhotographKept, row) for row in keep.connection.execute(found))


def about_what(keep: Keep, sha256: str) -> tuple[tuple[str, str], ...]:
    """Kind and id of everything that a picture is about."""
    links = PHOTOGRAPH_LINKS.c
    found = select(links.about_kind, links.about_id).where(links.sha256 == sha256).order_by(links.id)
    return tuple((row.about_kind, row.about_id) for row in keep.connection.execute(found))


def is_of_a_manual(keep: Keep, sha256: str) -> bool:
    """Whether it is the picture of a manual's page, which everybody may see."""
    found = select(SPEC_REVISIONS.c.id).where(SPEC_REVISIONS.c.photograph_sha256 == sha256).limit(1)
    return keep.connection.execute(found).first() is not None


def actions_shown_in(keep: Keep, sha256: str) -> tuple[str, ...]:
    """Ids of the actions of which it shows what was found."""
    found = select(FINDINGS.c.action_id).where(FINDINGS.c.photograph_sha256 == sha256).distinct()
    return tuple(keep.connection.execute(found).scalars())
