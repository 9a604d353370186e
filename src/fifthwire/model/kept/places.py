"""Where every valve is: sites, systems, units, valves and the heads that were on them, and what is known of each now.

Ids are texts of 26 characters; `version` counts the changes of a record, so that the second of two people who change
one thing is noticed.
"""

from datetime import date
from typing import Final

from fifthwire.model.record import record

UNIT_KINDS: Final = ("outdoor", "indoor", "branch")
VALVE_MARKS: Final = ("bad", "probable", "not-proven", "not-checked", "not-reached", "good")
"""Keys of the marks of a valve (`assessment.marks`), worst first."""


@record
class Site:
    """A building."""

    id: str
    name: str
    time_zone: str
    """An IANA name."""
    altitude_m: float | None = None
    address: str | None = None
    version: int = 1


@record
class SystemPlace:
    """A refrigerant system of a site."""

    id: str
    site_id: str
    name: str
    refrigerant: str | None = None
    installed: int | None = None
    """The year."""
    is_heat_recovery: bool = False
    version: int = 1


@record
class UnitPlace:
    """An outdoor, indoor or branch unit of a system."""

    id: str
    system_id: str
    name: str
    kind: str
    """One of UNIT_KINDS."""
    position: int
    """Its place along the pipes, counted from 1 within its kind: the order in which it is drawn."""
    branch_unit: str | None = None
    """Name of the branch unit it hangs on."""
    room: str | None = None
    capacity_kw: float | None = None
    version: int = 1


@record
class ValvePlace:
    """A valve of a unit; (system, unit, role, number) is its identity, `label` what people call it."""

    id: str
    system_id: str
    unit_id: str
    unit: str
    """Name of the unit."""
    role: str
    number: int | None = None
    """Where the unit has two of one role."""
    label: str
    kind: str = "eev"
    head: str | None = None
    access: str | None = None
    spec_id: str | None = None
    """What its head should measure, in the manuals."""
    version: int = 1


@record
class HeadInstance:
    """One head on a valve, from the day it was fitted to the day it came off."""

    id: str
    valve_id: str
    since: date | None = None
    """None where nobody knows when it was fitted."""
    until: date | None = None
    part_label: str | None = None
    is_present: bool = True


@record
class ValveNow:
    """What the latest judgement says of a valve."""

    valve_id: str
    visit_id: str
    date: "date"
    mark: str
    """One of VALVE_MARKS."""
    word_code: str
    """Key of `model.words` for the verdict."""
    cause: str | None = None
    probability: float | None = None
    """Of the cause."""
    action: str = "check-more"
    urgency: str = "none"
    meanwhile: str = "none"
    because: tuple[str, ...] = ()
    """The reasons in words, in order of weight."""
    winding_verdict: str = "not-measured"


@record
class SiteRow:
    """A site in the list of sites."""

    site: Site
    n_systems: int = 0
    n_valves: int = 0
    n_open_now: int = 0
    """Open actions that are urgent."""
    n_open: int = 0
    """Open actions, urgent or not."""
    last_visit: date | None = None


@record
class SystemRow:
    """A system in the list of systems."""

    system: SystemPlace
    site: Site
    n_units: int = 0
    n_valves: int = 0
    n_open: int = 0
    last_visit: date | None = None
    worst: str | None = None
    """The worst mark of its valves; None where none was ever judged."""


@record
class ValveRow:
    """A valve in the list of valves."""

    valve: ValvePlace
    site: Site
    system: SystemPlace
    now: ValveNow | None = None
    """None where no visit has judged it."""


@record
class WindingPoint:
    """One winding of one head on one day, at the spec's temperature."""

    date: "date"
    visit_id: str
    head_id: str | None
    wires: tuple[str, str]
    ohm_at_spec: float | None
    """None where the winding is open, or where no head temperature was written down to correct from."""
    u_ohm: float | None
    verdict: str
    """The winding verdict of that day's judgement."""
    meter_serial: str | None = None
