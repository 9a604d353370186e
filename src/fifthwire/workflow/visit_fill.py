"""Fill in a visit on the page: its list of valves, then one valve from top to bottom, the next two pins worked out."""

from collections.abc import Mapping
from typing import Any, Final

from fifthwire.diagnosis.priors import Priors
from fifthwire.model.cautions import MAKE_SAFE
from fifthwire.model.errors import FifthwireError, NotFound
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import EntryKept, VisitWhole
from fifthwire.model.record import record
from fifthwire.model.valve import Valve
from fifthwire.register.store import Register
from fifthwire.visitfile.entry_paths import quoted
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.make_safe import CONFIRMED_BY, make_safe_steps
from fifthwire.workflow.states import latest_state, state_when
from fifthwire.workflow.touching import PINS_OF, TouchSession, TouchStep, arrangement_in, judge, start_session
from fifthwire.workflow.visits_kept import visit_of

SINGLE_PARTS: Final = {"look": "inspection", "move": "movement", "board": "board"}
"""Parts of a valve's page that are one table of the valve each."""
AFTER_THE_LAST_HEAD: Final = MAKE_SAFE[MAKE_SAFE.index("safe.unplug") + 1 :]
CONFIRMED_AFTER: Final = {"safe.refit": ("refitted",), "safe.cancel-service-state": ("service-state-cancelled",)}
"""The confirmations that say a step after the last head is done."""


@record
class ValveLine:
    """A valve in the list of a visit: what was written down of it so far."""

    label: str
    valve: Valve
    valve_id: str | None
    """In the register; None where the visit alone names it."""
    n_readings: int
    is_looked_at: bool
    is_moved: bool
    has_work: bool


@record(kw_only=False)
class Step:
    """A step of making safe, with what confirms it and who did."""

    code: str
    confirmations: tuple[tuple[str, str | None], ...]
    """What, and by whom; None where nobody has confirmed it."""

    @property
    def is_done(self) -> bool:
        """Whether everything that confirms it is there."""
        return bool(self.confirmations) and all(by is not None for _, by in self.confirmations)


@record
class Filling:
    """A visit to be filled in."""

    whole: VisitWhole
    lines: tuple[ValveLine, ...]
    before: tuple[Step, ...]
    """To be done before the first head comes off."""
    after: tuple[Step, ...]


@record
class ValveFilling:
    """One valve of a visit, to be filled in from top to bottom."""

    whole: VisitWhole
    valve: Valve
    key: str
    """Of its entries."""
    body: Mapping[str, Any]
    """Its own keys, as they stand."""
    parts: Mapping[str, Mapping[str, Any]]
    """Its single tables as they stand, by their key in the file."""
    running: Mapping[str, Any]
    """What the standing snapshot says of it."""
    readings: tuple[EntryKept, ...]
    """Of the state that is measured; struck ones too."""
    when: str
    """Which state is measured."""
    arrangement: str | None
    session: TouchSession | None
    """None where nothing can be measured now, and why stands in `hindrance`."""
    step: TouchStep | None
    hindrance: str
    unsafe: tuple[str, ...]
    """Codes of the steps that nobody has confirmed yet."""
    before: str | None
    """Label of the valve before it in the list."""
    following: str | None


def filling(register: Register, who: Person, visit_id: str) -> Filling:
    """A visit with what is filled in of every valve.

    Raises
    ------
    NotFound
        If there is no such visit at the person's sites.
    """
    whole = visit_of(register, who, visit_id)
    return Filling(
        whole=whole,
        lines=tuple(_line(whole, valve) for valve in whole.visit.valves if not valve.is_void),
        before=tuple(_step(whole, code, CONFIRMED_BY.get(code, ())) for code in _before()),
        after=tuple(_step(whole, code, CONFIRMED_AFTER.get(code, ())) for code in AFTER_THE_LAST_HEAD),
    )


def _before() -> tuple[str, ...]:
    return tuple(code for code in MAKE_SAFE if code not in AFTER_THE_LAST_HEAD)


def _line(whole: VisitWhole, valve: Valve) -> ValveLine:
    states = (valve.readings, *(of.readings for of in valve.measurements if not of.is_void))
    return ValveLine(
        label=valve.id,
        valve=valve,
        valve_id=whole.valve_ids.get(valve.id),
        n_readings=sum(len(readings) for readings in states),
        is_looked_at=valve.inspection is not None,
        is_moved=valve.movement is not None or valve.board is not None,
        has_work=any(one.valve == valve.id and not one.is_void for one in whole.visit.work),
    )


def _step(whole: VisitWhole, code: str, confirmed_by: tuple[str, ...]) -> Step:
    done = {one.what: one.by or "" for one in whole.visit.confirmations if not one.is_void}
    return Step(code, tuple((what, done.get(what)) for what in confirmed_by))


def valve_filling(
    register: Register,
    who: Person,
    visit_id: str,
    label: str,
    *,
    when: str | None = None,
    arrangement: str | None = None,
    priors: Priors | None = None,
) -> ValveFilling:
    """One valve of a visit with the next two pins to touch.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id, label : str
        The visit, and the valve's label in it.
    when : str, optional
        State that is measured: as-found | after-cleaning | after-replacement; left out: the latest.
    arrangement : str, optional
        Of the windings, where no spec of the visit says it.
    priors : Priors, optional
        The laws to judge by; None: the shipped ones.

    Raises
    ------
    NotFound
        If there is no such visit at the person's sites, or no such valve in it.
    """
    whole = visit_of(register, who, visit_id)
    valve, key = valve_in(whole, label)
    latest = latest_state(valve)
    when = when or ("as-found" if latest is None else valve.measurements[latest].when)
    known = arrangement_in(whole.visit, label) or arrangement
    session, step, hindrance = _touch(whole, valve, priors or load_priors(), known, when)
    labels = [one.id for one in whole.visit.valves if not one.is_void]
    place = labels.index(label)
    return ValveFilling(
        whole=whole,
        valve=valve,
        key=key,
        body=standing(whole, f"valves/{key}"),
        parts={part: standing(whole, f"valves/{key}/{part}") for part in SINGLE_PARTS.values()},
        running=_running_table(standing(whole, "snapshot"), valve),
        readings=_reading_entries(whole, key, measurement_id_of(valve, when)),
        when=when,
        arrangement=known,
        session=session,
        step=step,
        hindrance=hindrance,
        unsafe=make_safe_steps(whole.visit),
        before=labels[place - 1] if place else None,
        following=labels[place + 1] if place + 1 < len(labels) else None,
    )


def valve_in(whole: VisitWhole, label: str) -> tuple[Valve, str]:
    """A valve of a visit, and the KEY of its entries.

    Raises
    ------
    NotFound
        If the visit has none of that label.
    """
    valve = next((one for one in whole.visit.valves if one.id == label and not one.is_void), None)
    entry = next((one for one in whole.entries if _is_valve_entry(one) and one.body.get("id") == label), None)
    if valve is None or entry is None:
        raise NotFound(f"The visit has no valve {label[:80]}.", "Choose it from the visit's list.")
    return valve, entry.path.split("/")[1]


def _is_valve_entry(entry: EntryKept) -> bool:
    return not entry.is_void and entry.path.startswith("valves/") and entry.path.count("/") == 1


def standing(whole: VisitWhole, path: str) -> Mapping[str, Any]:
    """The table that counts at a path; empty where there is none."""
    found = [one for one in whole.entries if one.path == path and not one.is_void]
    return dict(found[-1].body) if found else {}


def _touch(
    whole: VisitWhole, valve: Valve, priors: Priors, arrangement: str | None, when: str
) -> tuple[TouchSession | None, TouchStep | None, str]:
    """The session of measuring, and where it stands; else what stands in its way."""
    if arrangement not in PINS_OF:
        return None, None, ""
    try:
        session = start_session(whole.visit, valve.id, priors, arrangement=arrangement, when=when)
        return session, judge(session), ""
    except FifthwireError as err:
        return None, None, " ".join(part for part in (err.message, err.hint) if part)


def measurement_id_of(valve: Valve, when: str) -> str | None:
    """Id of the entry that holds a state; None for the first, empty where it is still to be made."""
    state = state_when(valve, when)
    if state is None:
        return None
    return (valve.measurements[state].entry or "") if state < len(valve.measurements) else ""


def _reading_entries(whole: VisitWhole, key: str, measurement_id: str | None) -> tuple[EntryKept, ...]:
    path = f"valves/{key}/readings"
    if measurement_id is not None:
        path = f"valves/{key}/measurements/{quoted(measurement_id)}/readings"
    return tuple(one for one in whole.entries if one.path == path)


def running_path(valve: Valve) -> tuple[str, str]:
    """Where a snapshot says how a valve runs: an indoor unit's with its unit, any other by its own label.

    Examples
    --------
    >>> running_path(Valve(id="IU07-valve", unit="IU07", role="indoor"))
    ('units', 'IU07')
    >>> running_path(Valve(id="OU1-main", unit="OU1", role="main"))
    ('valves', 'OU1-main')
    """
    return ("units", valve.unit) if valve.role == "indoor" else ("valves", valve.id)


def _running_table(snapshot: Mapping[str, Any], valve: Valve) -> Mapping[str, Any]:
    kind, name = running_path(valve)
    found = snapshot.get(kind, {}).get(name, {})
    return found if isinstance(found, Mapping) else {}
