"""What is to do at the valves, and what was found there: the truth that later visits are judged by."""

from datetime import date, datetime
from typing import Final

from fifthwire.model.choices import VALVE_CAUSES
from fifthwire.model.record import record

NOTHING_WRONG: Final = "nothing-wrong"
FOUND_CAUSES: Final = (*(cause for cause in VALVE_CAUSES if cause != "sound"), NOTHING_WRONG)
FOUND_HOW: Final = ("seen", "measured", "felt", "proved-by-repair")
ACTION_STATES: Final = ("open", "closed")


@record
class Found:
    """What was found at a valve. A second finding stands beside the first, never over it."""

    cause: str
    """One of FOUND_CAUSES."""
    seen_by: str
    how: str
    """One of FOUND_HOW."""
    proof_kind: str | None = None
    """One of `choices.PROOF_KINDS`, where a proof was made."""
    proof_result: str | None = None
    photograph_sha256: str | None = None
    note: str | None = None
    date: "date"
    by: str
    """Who entered it."""
    at_utc: datetime


@record
class Action:
    """Something to do at a valve, opened by a judgement and closed by what was found."""

    id: str
    valve_id: str
    site_id: str
    system_id: str
    site: str
    system: str
    unit: str
    valve: str
    """Its label."""
    action: str
    why: tuple[str, ...] = ()
    since: date
    urgency: str = "planned"
    meanwhile: str = "none"
    parts: str | None = None
    """What to bring."""
    visit_id: str
    """The visit whose judgement asks for it."""
    state: str = "open"
    found: Found | None = None
    """The first finding, that closed it."""
    later_found: tuple[Found, ...] = ()
    """Findings that were added after it."""
