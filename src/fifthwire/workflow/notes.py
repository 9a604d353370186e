"""Notes on anything: added, struck out, never changed."""

from collections.abc import Sequence

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.notes import NOTE_KINDS, Note
from fifthwire.model.kept.people import Person
from fifthwire.register import audit, manuals, note_subjects, notes
from fifthwire.register.ids import new_id
from fifthwire.register.note_subjects import Subject
from fifthwire.register.store import Keep, Register
from fifthwire.workflow import place_fields as field
from fifthwire.workflow.permission import NOT_YOURS, NOT_YOURS_HINT, Deed, require

MOST_TAGS = 20
LONGEST_TAG = 40


def list_notes(register: Register, who: Person, about_kind: str, about_id: str) -> tuple[Note, ...]:
    """The notes on one thing, newest first; struck ones are marked.

    Raises
    ------
    NotFound
        If there is no such thing at the person's sites.
    """
    with register.reading() as keep:
        _allowed(keep, who, about_kind, about_id, "read")
        return notes.notes_of(keep, about_kind, about_id)


def add_note(
    register: Register, who: Person, *, about_kind: str, about_id: str, text: str, tags: Sequence[str] = ()
) -> Note:
    """Add a note to a site, system, unit, valve, visit, action, spec or meter.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        A technician or more.
    about_kind : str
        One of `NOTE_KINDS`.
    about_id : str
        Id of the thing.
    text : str
        The remark.
    tags : sequence of str
        Words to find it by; a sign # before them is taken off.

    Raises
    ------
    InputError
        If the text is empty or too long, or there are too many tags.
    NotFound
        If there is no such thing at the person's sites.
    """
    with register.adding() as keep:
        about = _allowed(keep, who, about_kind, about_id, "add")
        written = field.text(text, "The note")
        if written is None:
            raise InputError("The note is empty.", "Write what the next person should know.")
        made = Note(
            id=new_id(keep.now_utc),
            about_kind=about_kind,
            about_id=about_id,
            text=written,
            tags=_tags(tags),
            by=who.name,
            at_utc=keep.now_utc,
        )
        audit.write_down(keep, who, "note-added", about.title)
        return notes.add_note(keep, made, site_id=about.site_id, title=about.title, place=about.place)


def void_note(register: Register, who: Person, note_id: str) -> None:
    """Strike a note out; it stays readable. One's own, or as a lead anybody's.

    Raises
    ------
    NotFound
        If there is no such note at the person's sites.
    NotAllowed
        If it is somebody else's and this person is no lead.
    InputError
        If it was struck out before.
    """
    with register.adding() as keep:
        note, site_id = notes.note_and_site(keep, note_id)
        require(who, "add" if note.by == who.name else "change", site_id=site_id)
        notes.void_note(keep, note_id, who.name)
        audit.write_down(keep, who, "note-struck", note.text[:80])


def _allowed(keep: Keep, who: Person, about_kind: str, about_id: str, deed: Deed) -> Subject:
    kind = field.one_of(about_kind, NOTE_KINDS, "something to write a note on")
    require(who, deed)
    if kind == "spec":
        return Subject(title=manuals.spec(keep, about_id).name)
    if kind == "meter":
        return Subject(title=manuals.meter(keep, about_id).serial)
    about = note_subjects.subject(keep, kind, about_id)
    if about is None:
        raise NotFound(NOT_YOURS, NOT_YOURS_HINT)
    require(who, deed, site_id=about.site_id)
    return about


def _tags(written: Sequence[str]) -> tuple[str, ...]:
    bare = [" ".join(tag.split()).lstrip("#").strip().casefold() for tag in written]
    tags = tuple(dict.fromkeys(tag for tag in bare if tag))
    if len(tags) > MOST_TAGS:
        raise InputError(f"{len(tags)} tags are too many.", f"Keep to {MOST_TAGS}.")
    for tag in tags:
        if len(tag) > LONGEST_TAG or not tag.isprintable():
            raise InputError(f"The tag {tag[:LONGEST_TAG]!r} is no word.", f"Keep it under {LONGEST_TAG} characters.")
    return tags
