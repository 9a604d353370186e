"""A visit and its pictures in one file, `NAME.visit.zip`: the visit file, and beside it the photographs it names."""

import io
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import field
from hashlib import sha256
from typing import Final

from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import PhotographKept
from fifthwire.model.record import record
from fifthwire.model.visit import Visit
from fifthwire.register import photographs, visits
from fifthwire.register.store import Keep, Register
from fifthwire.workflow.pictures import Picture, picture_of
from fifthwire.workflow.uploads import LARGEST_UPLOAD_BYTES, checked_content

PACKED: Final = b"PK\x03\x04"
VISIT_ENDINGS: Final = (".toml", ".json")
PICTURE_ENDINGS: Final = {".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png", ".webp": "image/webp"}
VISIT_NAME: Final = "visit.visit.toml"
NOTHING_KEPT: Final = "Nothing of it was kept."


@record
class VisitWithPictures:
    """A visit file as it was sent in."""

    name: str
    """Of the visit file itself: its suffix says TOML or JSON."""
    content: bytes
    pictures: Mapping[str, tuple[str, bytes]] = field(default_factory=dict)
    """Name and bytes of each picture, by the SHA-256 of these bytes."""


@record
class ReadyPicture:
    """A picture of a visit, ready to be kept."""

    named_sha256: str
    """As the visit file names it."""
    picture: Picture | None
    """None where it is kept already."""


def opened(name: str, content: bytes) -> VisitWithPictures:
    """A visit file, or the one that a packed file holds with its pictures.

    Parameters
    ----------
    name : str
        As the person named it.
    content : bytes
        The whole of it.

    Raises
    ------
    InputError
        If it is neither, is damaged, or holds no visit or more than one.
    """
    if not content.startswith(PACKED):
        checked_content(name, content, "text")
        return VisitWithPictures(name=name, content=content)
    checked_content(name, content, "zip")
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            return _unpacked(name, packed)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as err:
        raise InputError(f"{name} is damaged. {NOTHING_KEPT}", "Pack it anew: a visit file and its pictures.") from err


def _unpacked(name: str, packed: zipfile.ZipFile) -> VisitWithPictures:
    inside = [one for one in packed.infolist() if not one.is_dir()]
    found = [one for one in inside if one.filename.lower().endswith(VISIT_ENDINGS)]
    if len(found) != 1:
        held = f"{len(found)} visits" if found else "no visit file"
        raise InputError(f"{name} holds {held}. {NOTHING_KEPT}", "Pack one NAME.visit.toml with its pictures.")
    pictures = {}
    for one in inside:
        if one.filename.lower().endswith(tuple(PICTURE_ENDINGS)):
            content = _read(name, packed, one, LARGEST_UPLOAD_BYTES["jpeg"])
            pictures[sha256(content).hexdigest()] = (one.filename.rpartition("/")[2], content)
    visit = _read(name, packed, found[0], LARGEST_UPLOAD_BYTES["text"])
    inner = found[0].filename.rpartition("/")[2]
    checked_content(inner, visit, "text")
    return VisitWithPictures(name=inner, content=visit, pictures=pictures)


def _read(name: str, packed: zipfile.ZipFile, one: zipfile.ZipInfo, most_bytes: int) -> bytes:
    with packed.open(one) as stream:
        content = stream.read(most_bytes + 1)
    if len(content) > most_bytes:
        inner = one.filename.rpartition("/")[2][:80]
        raise InputError(f"{inner} in {name} is larger than {most_bytes // 1_000_000} MB. {NOTHING_KEPT}", "")
    return content


def ready(register: Register, opened: VisitWithPictures) -> tuple[ReadyPicture, ...]:
    """The pictures of a visit, decoded before anything is written; those that are kept already are not decoded.

    Raises
    ------
    InputError
        If one is no picture, too large or damaged.
    """
    with register.reading() as keep:
        kept = {one for one in opened.pictures if photographs.is_kept(keep, one)}
    return tuple(
        ReadyPicture(named_sha256=named, picture=None if named in kept else picture_of(name, content))
        for named, (name, content) in opened.pictures.items()
    )


def keep_pictures(keep: Keep, who: Person, visit_id: str, visit: Visit, pictures: tuple[ReadyPicture, ...]) -> None:
    """Keep the pictures of a visit, each with the visit and the valve that it is about.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    who : Person
        The actor.
    visit_id : str
        The visit.
    visit : Visit
        Says which valve a picture is about.
    pictures : tuple of ReadyPicture
        Those that came with it.
    """
    valve_ids = visits.valve_ids_of(keep, visit_id)
    about = {one.sha256: one.about for one in visit.photographs if not one.is_void}
    for one in pictures:
        sha = one.named_sha256 if one.picture is None else _added(keep, who, one.picture)
        photographs.link_picture(keep, sha, "visit", visit_id, who.name)
        valve_id = valve_ids.get(about.get(one.named_sha256) or "")
        if valve_id is not None:
            photographs.link_picture(keep, sha, "valve", valve_id, who.name)


def _added(keep: Keep, who: Person, picture: Picture) -> str:
    kept = PhotographKept(
        sha256=picture.sha256,
        media_type=picture.media_type,
        size_bytes=len(picture.content),
        width_px=picture.width_px,
        height_px=picture.height_px,
        by=who.name,
        at_utc=keep.now_utc,
    )
    return photographs.add_picture(keep, kept, picture.content, picture.thumbnail).sha256


def packed(visit_toml: bytes, pictures: Mapping[str, tuple[str, bytes]]) -> bytes:
    """A visit file and its pictures in one.

    Parameters
    ----------
    visit_toml : bytes
        The visit file, TOML.
    pictures : mapping
        Media type and bytes of each picture, by its SHA-256.
    """
    endings = {media_type: ending for ending, media_type in reversed(PICTURE_ENDINGS.items())}
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as into:
        into.writestr(zipfile.ZipInfo(VISIT_NAME), visit_toml, zipfile.ZIP_DEFLATED)
        for sha, (media_type, content) in pictures.items():
            into.writestr(zipfile.ZipInfo(f"{sha}{endings.get(media_type, '')}"), content, zipfile.ZIP_STORED)
    return file.getvalue()
