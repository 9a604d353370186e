"""A system and a valve with all that is kept of them: what one page shows."""

from datetime import date

from fifthwire.model.followup import Proof, Work
from fifthwire.model.kept.manuals import SpecRevision
from fifthwire.model.kept.notes import Note
from fifthwire.model.kept.places import (
    HeadInstance,
    Site,
    SystemPlace,
    UnitPlace,
    ValveNow,
    ValvePlace,
    ValveRow,
    WindingPoint,
)
from fifthwire.model.kept.todo import Action
from fifthwire.model.kept.visits import PhotographKept
from fifthwire.model.record import record


@record
class SystemWhole:
    """A system with its units and valves."""

    system: SystemPlace
    site: Site
    units: tuple[UnitPlace, ...] = ()
    """Outdoor units first, then branch units, then indoor units, each by position."""
    valves: tuple[ValveRow, ...] = ()
    """In the order of the units."""
    actions: tuple[Action, ...] = ()
    """Those that are open."""
    notes: tuple[Note, ...] = ()


@record
class WorkPoint:
    """What was done to a valve on a day."""

    date: "date"
    visit_id: str
    work: Work


@record
class ProofPoint:
    """What showed, on a day, whether a repair works."""

    date: "date"
    visit_id: str
    proof: Proof


@record
class ValveWhole:
    """A valve with its heads, verdicts, winding history, work, notes and actions."""

    valve: ValvePlace
    unit: UnitPlace
    system: SystemPlace
    site: Site
    heads: tuple[HeadInstance, ...] = ()
    """Newest first."""
    now: ValveNow | None = None
    verdicts: tuple[ValveNow, ...] = ()
    """The latest judgement of each visit, newest first; `now` is the first of them."""
    points: tuple[WindingPoint, ...] = ()
    """Oldest first."""
    work: tuple[WorkPoint, ...] = ()
    """Oldest first."""
    proofs: tuple[ProofPoint, ...] = ()
    notes: tuple[Note, ...] = ()
    photographs: tuple[PhotographKept, ...] = ()
    actions: tuple[Action, ...] = ()
    """Newest first, open and closed."""
    spec: SpecRevision | None = None
    """The latest revision of what its head should measure."""
