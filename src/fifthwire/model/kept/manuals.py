"""What heads should measure, out of the manuals, and the meters by serial number.

A value out of a manual is entered once; a change is a new revision beside the old one, with who and when, and a second
person may confirm it against the page.
"""

from datetime import datetime

from fifthwire.model.record import record
from fifthwire.model.visit import Meter, Spec


@record
class SpecRevision:
    """One revision of what a kind of head should measure."""

    id: str
    spec_id: str
    """Stays the same over all revisions."""
    name: str
    """As visits name it."""
    revision: int
    """From 1."""
    spec: Spec
    title: str | None = None
    """Of the manual."""
    page: str | None = None
    photograph_sha256: str | None = None
    """Of that page."""
    by: str
    at_utc: datetime
    checked_by: str | None = None
    """A second person who compared it with the page."""
    checked_at_utc: datetime | None = None


@record
class MeterKept:
    """An ohmmeter, known by its serial number."""

    id: str
    serial: str
    name: str | None = None
    """As visits name it."""
    meter: Meter
    by: str
    at_utc: datetime
    version: int = 1
