"""Photographs: of a place, a visit, a manual's page, of what was found. Where they were taken is not kept."""

from typing import Final

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import PhotographKept
from fifthwire.model.record import record
from fifthwire.register import manuals, note_subjects
from fifthwire.register import photographs as kept
from fifthwire.register.audit import write_down
from fifthwire.register.photographs import NOT_KEPT, NOT_KEPT_HINT
from fifthwire.register.store import Keep, Register
from fifthwire.workflow.permission import NOT_YOURS, NOT_YOURS_HINT, Deed, require, sees_site
from fifthwire.workflow.pictures import picture_of
from fifthwire.workflow.uploads import LARGEST_UPLOAD_BYTES

ABOUT_SITES: Final = ("site", "system", "unit", "valve", "visit", "action")
"""What has a site."""
ABOUT_KINDS: Final = (*ABOUT_SITES, "spec", "meter")
"""What a photograph may be about."""

LARGEST_PHOTOGRAPH_BYTES: Final = LARGEST_UPLOAD_BYTES["jpeg"]


@record
class Shown:
    """A photograph and its bytes."""

    photograph: PhotographKept
    media_type: str
    """Of `content`: that of the photograph, or of its small copy."""
    content: bytes


def add_photograph(
    register: Register,
    who: Person,
    content: bytes,
    *,
    name: str = "The photograph",
    about_kind: str | None = None,
    about_id: str | None = None,
) -> PhotographKept:
    """Keep a photograph; the same one twice changes nothing.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        A technician or more.
    content : bytes
        JPEG, PNG or WebP, up to 20 MB and 50 million pixels.
    name : str
        As the person's device calls the file: errors name it.
    about_kind, about_id : str, optional
        What it is about, one of `ABOUT_KINDS`; left out where something else will name it by its `sha256`.

    Raises
    ------
    InputError
        If it is no photograph, too large or damaged.
    NotFound
        If what it is about does not exist, or not for this person.
    """
    require(who, "add")
    with register.reading() as keep:  # before the picture is decoded, which takes a while
        title = _about(keep, who, about_kind, about_id, "add")
    picture = picture_of(name, content)
    with register.adding() as keep:
        found = PhotographKept(
            sha256=picture.sha256,
            media_type=picture.media_type,
            size_bytes=len(picture.content),
            width_px=picture.width_px,
            height_px=picture.height_px,
            by=who.name,
            at_utc=keep.now_utc,
        )
        found = kept.add_picture(keep, found, picture.content, picture.thumbnail)
        if about_kind is not None and about_id is not None:
            kept.link_picture(keep, picture.sha256, about_kind, about_id, who.name)
        write_down(keep, who, "photograph-added", title or "not yet about anything", picture.sha256)
    return found


def photograph(register: Register, who: Person, sha256: str, thumbnail: bool = False) -> Shown:
    """A photograph that the person may see.

    Raises
    ------
    NotFound
        If it is not kept, or shows nothing of the person's sites.
    """
    require(who, "read")
    with register.reading() as keep:
        found = kept.photograph(keep, sha256)
        if not _sees(keep, who, found):
            raise NotFound(NOT_KEPT, NOT_KEPT_HINT)
        media_type = "image/jpeg" if thumbnail else found.media_type
        return Shown(
            photograph=found, media_type=media_type, content=kept.picture_bytes(keep, sha256, thumbnail=thumbnail)
        )


def photographs_about(register: Register, who: Person, about_kind: str, about_id: str) -> tuple[PhotographKept, ...]:
    """The photographs of one thing, the newest first."""
    with register.reading() as keep:
        _about(keep, who, about_kind, about_id, "read")
        return kept.photographs_about(keep, about_kind, (about_id,))


def _about(keep: Keep, who: Person, kind: str | None, id_: str | None, deed: Deed) -> str | None:
    """What people call the thing that a photograph is about, once the person may do that there."""
    require(who, deed)
    if kind is None or id_ is None:
        return None
    if kind not in ABOUT_KINDS:
        raise InputError(f"A photograph cannot be about a {kind[:20]!r}.", hint=f"One of {', '.join(ABOUT_KINDS)}.")
    if kind == "spec":
        return manuals.spec(keep, id_).name
    if kind == "meter":
        return manuals.meter(keep, id_).serial
    about = note_subjects.subject(keep, kind, id_)
    if about is None:
        raise NotFound(NOT_YOURS, NOT_YOURS_HINT)
    require(who, deed, site_id=about.site_id)
    return about.title


def _sees(keep: Keep, who: Person, photograph: PhotographKept) -> bool:
    """One who looks after all sites sees all; others what shows their sites, a manual, or what they added."""
    if who.site_ids is None or photograph.by == who.name or kept.is_of_a_manual(keep, photograph.sha256):
        return True
    about = kept.about_what(keep, photograph.sha256)
    about += tuple(("action", id_) for id_ in kept.actions_shown_in(keep, photograph.sha256))
    return any(_sees_subject(keep, who, kind, id_) for kind, id_ in about)


def _sees_subject(keep: Keep, who: Person, kind: str, id_: str) -> bool:
    if kind not in ABOUT_SITES:
        return True
    subject = note_subjects.subject(keep, kind, id_)
    return subject is not None and subject.site_id is not None and sees_site(who, subject.site_id)
