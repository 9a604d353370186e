"""A visit as it is kept: a set of entries that are added and struck out, never edited, and what was made of them.

Of a table that stands once in a visit (its header, a spec, a valve's own keys) the latest addition counts; the earlier
ones are kept and shown struck. Judgements stand beside one another. An issue of the report, once signed, stays.
"""

from collections.abc import Mapping
from dataclasses import field
from datetime import date, datetime
from typing import Any

from fifthwire.model.record import record
from fifthwire.model.visit import Spec, Visit


@record
class VisitKept:
    """A visit in the list of visits."""

    id: str
    system_id: str
    site_id: str
    site: str
    system: str
    date: "date"
    technician: str | None = None
    reason: str = "planned"
    is_signed: bool = False
    """Whether its latest issue holds everything that was added to it."""
    n_issues: int = 0
    n_valves: int = 0
    n_entries: int = 0
    version: int = 1
    """Counts the additions."""


@record
class EntryDraft:
    """One table of a visit as an addition, not yet kept."""

    id: str
    path: str
    """Where it stands: `visit`, `specs/NAME`, `valves/KEY`, `valves/KEY/readings`, `work` ..."""
    body: Mapping[str, Any]
    """The keys of the table, as a visit file holds them."""
    position: int = 0
    """Its place among the rows of one list, from 0."""
    at_utc: datetime | None = None
    device: str | None = None
    by: str | None = None
    voids: str | None = None
    """Id of the entry that it strikes out."""


@record
class EntryKept:
    """One addition to a visit."""

    id: str
    visit_id: str
    path: str
    body: Mapping[str, Any]
    position: int = 0
    at_utc: datetime | None = None
    device: str | None = None
    by: str | None = None
    voids: str | None = None
    is_void: bool = False
    """Kept and shown struck, not used: an entry strikes it out, or a later addition of the same table counts."""
    instead: str | None = None
    """Id of the entry that strikes it out or counts in its place."""
    received_utc: datetime
    seq: int
    """Its number among the additions to the visit, from 1."""


@record
class Judgement:
    """What a program with its priors made of a visit as it stood."""

    id: str
    visit_id: str
    at_utc: datetime
    by: str
    program: str
    priors_sha256: str
    inputs_sha256: str
    """Of the visit as it was judged."""
    assessment: Mapping[str, Any]
    """As `fifthwire assess --json` prints it."""


@record(kw_only=False)
class IssueChange:
    """What changed between one issue of the report and the next."""

    what: str
    why: str
    by: str


@record
class Issue:
    """A signed issue of a visit's report."""

    id: str
    visit_id: str
    number: int
    """From 1."""
    at_utc: datetime
    by: str
    inputs_sha256: str
    program: str
    priors_sha256: str
    judgement_id: str
    changes: tuple[IssueChange, ...] = ()
    """Against the issue before; empty in the first."""


@record
class PhotographKept:
    """A picture, known by what is in it."""

    sha256: str
    media_type: str
    size_bytes: int
    width_px: int
    height_px: int
    by: str
    at_utc: datetime


@record
class SpecDiffers:
    """A spec of a visit that is not what the manuals say under the same name: shown, never swapped in."""

    name: str
    in_file: Spec
    """As the visit has it."""
    in_manuals: Spec
    revision_id: str


@record
class VisitWhole:
    """A visit with every entry, judgement, issue and photograph."""

    kept: VisitKept
    visit: Visit
    """What its entries say together, ready to be assessed."""
    entries: tuple[EntryKept, ...] = ()
    """All of them in the order of their addition, the struck ones too."""
    judgements: tuple[Judgement, ...] = ()
    """Newest first."""
    issues: tuple[Issue, ...] = ()
    """Newest first."""
    photographs: tuple[PhotographKept, ...] = ()
    valve_ids: Mapping[str, str] = field(default_factory=dict)
    """Which valve of the register stands under which label of the visit."""
    doubts: tuple[str, ...] = ()
    """What the entries say that cannot stand together, and what was made of it."""
    specs: tuple[SpecDiffers, ...] = ()
    """Specs it was judged with that the manuals say otherwise by now."""


@record(kw_only=False)
class Choice:
    """One answer to a question."""

    value: str
    words: str


@record
class Question:
    """What an import cannot decide alone."""

    key: str
    """Name of the answer in `answers`."""
    text: str
    choices: tuple[Choice, ...]


@record
class ValveMatch:
    """Which valve of the register a valve of the file is."""

    label: str
    unit: str
    role: str
    number: int | None = None
    valve_id: str | None = None
    """None where it is new, or not decided yet."""
    how: str
    """place | label | answered | new | asked"""


@record
class EntryLine:
    """An addition or a loss in words, for a preview."""

    path: str
    text: str


@record
class VisitPreview:
    """What importing a visit file would do; nothing is written yet."""

    name: str
    """Of the file."""
    site: str
    system: str
    date: "date"
    site_id: str | None = None
    """None where the register does not have it yet."""
    system_id: str | None = None
    visit_id: str | None = None
    """Of the visit it adds to; None where the visit is new."""
    is_same: bool = False
    """Everything in it is kept already: importing it changes nothing."""
    matches: tuple[ValveMatch, ...] = ()
    questions: tuple[Question, ...] = ()
    """To be answered before it can be imported."""
    added: tuple[EntryLine, ...] = ()
    gone: tuple[EntryLine, ...] = ()
    """In an earlier file of this visit and not in this one: they will be struck out, not deleted."""
    specs: tuple[SpecDiffers, ...] = ()
    warnings: tuple[str, ...] = ()
    """What is doubtful in the file, in words."""


@record
class ImportedVisit:
    """What an import did."""

    kept: VisitKept
    n_added: int = 0
    n_struck: int = 0
    n_same: int = 0
    n_new_valves: int = 0
    warnings: tuple[str, ...] = ()
