"""Notes on anything that is kept."""

from typing import Any

from sqlalchemy import Row, select, update

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.notes import Note
from fifthwire.register.places import LOOK
from fifthwire.register.rows import put, record_of, values_of
from fifthwire.register.search import SearchText, forget, let_find
from fifthwire.register.store import Keep
from fifthwire.register.tables.notes import NOTES


def add_note(keep: Keep, note: Note, *, site_id: str | None, title: str, place: str) -> Note:
    """Keep a note.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    note : Note
        As it shall be kept.
    site_id : str or None
        The site of what it is about; None where that belongs to no site.
    title, place : str
        What it is about and where that is, as the search shows it.
    """
    put(keep, NOTES, [values_of(note, NOTES, site_id=site_id)])
    body = " ".join((note.text, *note.tags))
    text = SearchText(kind="note", about_id=note.id, site_id=site_id, title=title, place=place, body=body)
    let_find(keep, [text], are_new=True)
    return note


def void_note(keep: Keep, note_id: str, by: str) -> None:
    """Strike a note out: it is kept, and found no longer.

    Raises
    ------
    InputError
        If it was struck out before.
    """
    done = keep.connection.execute(
        update(NOTES)
        .where(NOTES.c.id == note_id, NOTES.c.voided_by.is_(None))
        .values(voided_by=by, voided_at_utc=keep.now_utc)
    )
    if done.rowcount != 1:
        raise InputError("The note was struck out before.", "Nothing is left to do.")
    forget(keep, [("note", note_id)])


def note_and_site(keep: Keep, note_id: str) -> tuple[Note, str | None]:
    """A note, and the site of what it is about.

    Raises
    ------
    NotFound
        If there is none.
    """
    row = keep.connection.execute(select(NOTES).where(NOTES.c.id == note_id)).first()
    if row is None:
        raise NotFound(f"No note has the id {note_id}.", LOOK)
    return _note(row), row.site_id


def notes_of(keep: Keep, about_kind: str, about_id: str) -> tuple[Note, ...]:
    """The notes on one thing, newest first, the struck ones too."""
    query = select(NOTES).where(NOTES.c.about_kind == about_kind, NOTES.c.about_id == about_id)
    rows = keep.connection.execute(query.order_by(NOTES.c.at_utc.desc(), NOTES.c.id.desc()))
    return tuple(_note(row) for row in rows)


def _note(row: Row[Any]) -> Note:
    return record_of(Note, row, tags=tuple(row.tags), is_void=row.voided_by is not None)
