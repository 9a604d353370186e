"""What a note may be about, and what the one search box answers. The note itself: `kept.people`."""

from typing import Final

from fifthwire.model.record import record

NOTE_KINDS: Final = ("site", "system", "unit", "valve", "visit", "spec", "meter", "action")
"""What a note may be about."""
HIT_KINDS: Final = ("site", "system", "unit", "valve", "visit", "spec", "meter", "note")
"""What a search may find."""


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
