"""The demo register: three invented sites and four years of visits, made through the same steps as a real one.

Everything in it is invented, and its true faults are known: `office_story`, and as a file `invented-sites.truth.toml`.
"""

from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Final

from fifthwire.demo.office_pictures import page_picture
from fifthwire.demo.office_places import MANUALS, METERS, MISREAD_OHM, PAGES, SITES, SPECS, SYSTEMS, valves_of
from fifthwire.demo.office_story import NOT_SIGNED, NOTES, TROUBLES, Trouble, VisitPlan
from fifthwire.demo.office_visits import visits
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import ValveRow
from fifthwire.model.kept.todo import NOTHING_WRONG, Action
from fifthwire.model.record import record
from fifthwire.model.visit import Visit
from fifthwire.register.store import Register, open_register
from fifthwire.visitfile import visit_to_json
from fifthwire.workflow import lists, manuals, meters, notes, photographs, places, todo, visits_kept
from fifthwire.workflow.list_rows import COLUMNS
from fifthwire.workflow.list_tables import write_table

LEAD: Final = Person(id="invented-lead", name="L-1", role="owner")
SECOND: Final = Person(id="invented-second", name="L-2", role="lead")
BEGINS: Final = datetime(2023, 1, 9, 9, 0, tzinfo=UTC)
"""When the office of the invented company began to keep a register."""
CORRECTED_AFTER: Final = timedelta(days=21)
"""When somebody noticed that one value had been misread."""
ADDED_LATER: Final = ("HM-1", date(2025, 3, 18), "BU1-hotgas", "Customer told by telephone on 20 March.")
"""A remark that was added to a signed visit, so that there is a second issue of its report."""

Progress = Callable[[int, int], None]
"""Told how many visits of how many are in."""


class StoryClock:
    """A clock that stands where the story is, and goes on by a second whenever it is asked."""

    def __init__(self) -> None:
        self._now_utc = BEGINS

    def __call__(self) -> datetime:
        self._now_utc += timedelta(seconds=1)
        return self._now_utc

    def go_to(self, moment: datetime) -> None:
        """Go on to a moment; a story never goes back."""
        self._now_utc = max(self._now_utc, moment)


@record
class DemoIds:
    """Where things of the story stand in the register."""

    sites: dict[str, str]
    """Id by name."""
    systems: dict[str, str]
    """Id by name."""
    valves: dict[tuple[str, str], str]
    """Id by system and label."""


def open_demo_register(path: str, *, progress: Progress | None = None) -> Register:
    """The demo register of a file; made where the file is not there, which takes some seconds.

    It is made beside the file and takes its name once it is whole, so that a half one is never opened.

    Parameters
    ----------
    path : str
        Where it is or shall be.
    progress : callable, optional
        Told how many visits of how many are in.

    Raises
    ------
    RegisterError
        If the place cannot be written.
    """
    target = Path(path)
    if not target.exists():
        half = target.with_name(f".{target.name}.half")
        for old in (half, half.with_name(f"{half.name}-wal"), half.with_name(f"{half.name}-shm")):
            with suppress(FileNotFoundError):
                old.unlink()
        clock = StoryClock()
        with open_register(str(half), clock=clock) as register:
            fill_demo_register(register, clock, progress=progress)
        half.replace(target)
    return open_register(str(target), create=False)


def fill_demo_register(register: Register, clock: StoryClock, *, progress: Progress | None = None) -> DemoIds:
    """Live the four years through.

    Parameters
    ----------
    register : Register
        An empty one, whose clock is the story's.
    clock : StoryClock
        That clock.
    progress : callable, optional
        Told how many visits of how many are in.
    """
    _enter_manuals(register, clock)
    ids = _enter_places(register)
    told = list(visits())
    for count, (plan, visit) in enumerate(told, start=1):
        _live_through(register, clock, ids, plan, visit)
        if progress is not None:
            progress(count, len(told))
    _enter_notes(register, ids)
    return ids


def _enter_manuals(register: Register, clock: StoryClock) -> None:
    """What the manuals say, one value of it misread at first; then the meters."""
    for name, spec in SPECS.items():
        first = {**_table(name), **({"resistance": MISREAD_OHM[name]} if name in MISREAD_OHM else {})}
        shown = photographs.add_photograph(register, LEAD, page_picture(name), name=f"{name}.png")
        of_page = {"title": MANUALS[name], "page": PAGES[name], "photograph_sha256": shown.sha256}
        kept = manuals.add_spec(register, LEAD, name=name, spec=first, **of_page)
        if name in MISREAD_OHM:
            clock.go_to(BEGINS + CORRECTED_AFTER)
            kept = manuals.revise_spec(register, SECOND, kept.spec_id, revision=1, name=name, spec=spec, **of_page)
            manuals.check_spec(register, LEAD, kept.id)
        elif not name.endswith("solenoid"):
            manuals.check_spec(register, SECOND, kept.id)
    for name, meter in METERS.items():
        meters.add_meter(register, LEAD, serial=str(meter.serial), meter=meter, name=name)


def _table(name: str) -> dict[str, object]:
    from fifthwire.visitfile.writing import table_of

    return table_of(SPECS[name])


def _enter_places(register: Register) -> DemoIds:
    """Sites by hand, everything on them from the building's list."""
    sites = {}
    for site in SITES:
        kept = places.add_site(
            register,
            LEAD,
            name=site.name,
            time_zone=site.time_zone,
            altitude_m=site.altitude_m,
            address=site.address,
        )
        sites[site.name] = kept.id
        content = valve_list(site.name)
        lists.import_valve_list(register, LEAD, content, "valves.csv", site_id=kept.id)
    systems, valves = {}, {}
    for row in places.list_systems(register, LEAD).rows:
        systems[row.system.name] = row.system.id
        valves.update({(row.system.name, of.valve.label): of.valve.id for of in _valves(register, row.system.id)})
        _set_installed(register, row.system.id)
    return DemoIds(sites=sites, systems=systems, valves=valves)


def _valves(register: Register, system_id: str) -> tuple[ValveRow, ...]:
    return places.system_whole(register, LEAD, system_id).valves


def _set_installed(register: Register, system_id: str) -> None:
    """The year, which a list of valves does not say."""
    kept = places.system(register, LEAD, system_id)
    installed = next(of.installed for of in SYSTEMS if of.name == kept.name)
    places.change_system(
        register,
        LEAD,
        system_id,
        version=kept.version,
        name=kept.name,
        refrigerant=kept.refrigerant,
        installed=installed,
        is_heat_recovery=kept.is_heat_recovery,
    )


def valve_list(site: str) -> bytes:
    """The list of an invented building's valves, as CSV."""
    rows = [
        {
            "system": system.name, "unit": valve.unit, "role": valve.role, "number": valve.number,
            "label": valve.label, "kind": valve.kind, "head": valve.head, "access": valve.access, "spec": valve.spec,
            "part_label": f"{valve.spec}-{system.installed}", "head_installed": f"{system.installed}-06-01",
            "unit_kind": valve.unit_kind, "room": valve.room, "branch_unit": valve.branch_unit,
            "capacity": valve.capacity_kw, "refrigerant": system.refrigerant,
        }
        for system in SYSTEMS
        if system.site == site
        for valve in valves_of(system)
    ]  # fmt: skip
    return write_table(".csv", list(COLUMNS), [[row.get(key) for key in COLUMNS] for row in rows])


def _live_through(register: Register, clock: StoryClock, ids: DemoIds, plan: VisitPlan, visit: Visit) -> None:
    """One visit: its file comes in that evening, is judged, signed the next day; what was found is said."""
    clock.go_to(datetime.combine(plan.date, time(17, 30), UTC))
    content = visit_to_json(visit).encode("utf-8")
    kept = visits_kept.import_visit_file(register, LEAD, content, f"{plan.system}.visit.json").kept
    visits_kept.judge_visit(register, LEAD, kept.id)
    for trouble in TROUBLES:
        if (trouble.system, trouble.repaired) == (plan.system, plan.date):
            _say_what_was_found(register, ids, plan, trouble)
    if (plan.system, plan.date) not in NOT_SIGNED:
        clock.go_to(datetime.combine(plan.date + timedelta(days=1), time(9, 0), UTC))
        visits_kept.sign_off(register, SECOND, kept.id)
    if (plan.system, plan.date) == ADDED_LATER[:2]:
        _add_later(register, clock, kept.id)


def _say_what_was_found(register: Register, ids: DemoIds, plan: VisitPlan, trouble: Trouble) -> None:
    action = _open_action(register, ids, trouble)
    if action is None:
        return
    found = todo.new_finding(
        cause=NOTHING_WRONG if trouble.cause == "sound" else trouble.cause,
        seen_by=plan.technician,
        how=trouble.how,
        day=plan.date,
        proof_kind=trouble.proof,
        proof_result="passed" if trouble.proof else None,
        note=trouble.note,
    )
    todo.add_finding(register, LEAD, action.id, found)


def _open_action(register: Register, ids: DemoIds, trouble: Trouble) -> Action | None:
    valve_id = ids.valves[trouble.system, trouble.valve]
    listed = todo.list_actions(register, LEAD, system_id=ids.systems[trouble.system], state="open")
    return next((one for one in listed.rows if one.valve_id == valve_id), None)


def _add_later(register: Register, clock: StoryClock, visit_id: str) -> None:
    """A remark after the signature, and a second issue that says so."""
    _, day, about, text = ADDED_LATER
    clock.go_to(datetime.combine(day + timedelta(days=2), time(11, 0), UTC))
    visits_kept.add_entry(register, LEAD, visit_id, "notes", {"about": about, "text": text})
    visits_kept.sign_off(register, SECOND, visit_id, why="The customer was told.")


def _enter_notes(register: Register, ids: DemoIds) -> None:
    for kind, of, label, text, tags in NOTES:
        if kind == "site":
            about = ids.sites[of]
        else:
            about = ids.systems[of] if label is None else ids.valves[of, label]
        notes.add_note(register, LEAD, about_kind=kind, about_id=about, text=text, tags=tags)
