"""Notes on anything, and what the one search box answers."""

from datetime import datetime
from typing import Final

from fifthwire.model.record import record

NOTE_KINDS: Final = ("site", "system", "unit", "valve", "visit", "spec", "meter", "action")
"""What a note may be about."""
HIT_KINDS: Final = ("site", "system", "unit", "valve", "visit", "spec", "meter", "note")
"""What a search may find."""


@record
class Note:
    """A remark on anything that is kept. It is added and struck out, never changed."""

    id: str
    about_kind: str
    """One of NOTE_KINDS."""
    about_id: str
    text: str
    tags: tuple[str, ...] = ()
    by: str
    at_utc: datetime
    is_void: bool = False


@record
class Hit:
    """One thing the search found."""

    kind: str
    """One of HIT_KINDS."""
    id: str
    title: str
    where: str
    """The place it belongs to, as people say it: site, system."""
    excerpt: str
    """The text around the words that were looked for."""
    about_kind: str | None = None
    """Of a note: what it is about."""
    about_id: str | None = None
