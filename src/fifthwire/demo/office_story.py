"""What really happened at the invented sites in four years: every fault, when it began, when and how it ended.

Everything is invented. A valve that stands in no row was good all the time.
"""

from datetime import date
from typing import Final

from fifthwire.model.record import record


@record
class Trouble:
    """A fault of one valve, from the day it began to the day it was repaired."""

    system: str
    valve: str
    cause: str
    """What is really wrong, in the words of an assessment; "sound" for a false alarm."""
    since: date
    shows: str
    """How it shows: a function of `office_signs`."""
    wire: str = ""
    size: float = 0.0
    """Ohms of a contact, or the share of turns that is gone, or a head's resistance over its manual's."""
    repaired: date | None = None
    work: str = ""
    """What was done then; empty where nothing was."""
    part: str | None = None
    how: str = "measured"
    """How it was found, as the finding says."""
    proof: str | None = None
    note: str | None = None
    is_measured_after: bool = True
    """Whether the new head was measured before the technician left."""

    def is_there(self, day: date) -> bool:
        """Whether it is met on a day: until the repair, and on that day too where the head itself tells of it."""
        if self.repaired is None or day < self.repaired:
            return self.since <= day
        return day == self.repaired and self.work not in ("", "reseated")


def _day(written: str) -> date:
    return date.fromisoformat(written)


def _trouble(
    system: str,
    valve: str,
    cause: str,
    since: str,
    shows: str,
    repaired: str | None = None,
    work: str = "",
    **more: object,
) -> Trouble:
    ended = None if repaired is None else _day(repaired)
    given = {"system": system, "valve": valve, "cause": cause, "since": _day(since), "shows": shows, "work": work}
    return Trouble(**{**given, "repaired": ended, **more})  # type: ignore[arg-type]


TROUBLES: Final = (
    # Hollowmere Library
    _trouble("HM-1", "OU1-main2", "head-jammed", "2024-01-20", "jammed", "2024-04-16", "replaced-head", part="M-150",
             how="proved-by-repair", proof="stem-travel", note="Water in the gears, cracked at the back."),
    _trouble("HM-1", "IU07-valve", "winding", "2024-11-20", "open_winding", "2024-12-12", "replaced-head", wire="3",
             part="R-205", proof="start-up-heard"),
    _trouble("HM-1", "BU1-hotgas", "plug-or-harness", "2025-02-01", "harness", "2025-04-15", "repaired-plug-or-harness",
             wire="4", how="proved-by-repair", proof="start-up-heard", note="The crimp of wire 4 was loose."),
    _trouble("HM-1", "IU11-valve", "head-unseated", "2026-02-10", "unseated"),
    _trouble("HM-2", "IU04-valve", "body-stuck-closed", "2023-06-10", "stuck", "2023-08-30", "replaced-body",
             how="proved-by-repair", proof="step-response", note="Debris of brazing under the seat."),
    _trouble("HM-2", "IU15-valve", "sensor", "2025-06-01", "sensor", "2025-07-22", size=-4.8, how="measured",
             note="Liquid-pipe sensor replaced."),
    _trouble("HM-2", "IU20-valve", "sound", "2024-03-20", "missed_probe", "2024-04-17", wire="2", how="measured",
             note="Measured again at the head's own plug: good."),
    _trouble("HM-2", "OU1-injection", "winding", "2026-01-15", "shorted_turns", wire="1", size=0.24),
    # Saltmarsh Clinic
    _trouble("SC-1", "OU1-main1", "head-cracked", "2023-02-01", "cracked", "2023-05-16", "replaced-head", part="M-93",
             how="seen", is_measured_after=False),
    _trouble("SC-1", "OU1-main1", "wrong-head", "2023-05-17", "wrong_head", "2024-05-14", "replaced-head", size=0.62,
             part="M-150", how="measured", note="The part that came in 2023 was another type."),
    _trouble("SC-1", "BU2-suction", "board-output", "2025-01-10", "board", "2025-05-06", wire="2", how="measured",
             note="Output stage of the branch unit's board; the board was replaced."),
    _trouble("SC-1", "IU03-valve", "winding", "2026-03-01", "open_winding", wire="4"),
    _trouble("SC-1", "BU3-subcooler", "head-unseated", "2024-03-01", "unseated", "2024-05-14", "reseated", how="seen"),
    _trouble("SC-2", "OU1-hotgas", "winding", "2024-05-20", "open_coil", "2024-07-02", "replaced-head", part="S-880",
             proof="start-up-heard"),
    _trouble("SC-2", "IU12-valve", "head-unseated", "2023-03-05", "unseated", "2023-05-17", "reseated", how="seen"),
    _trouble("SC-2", "IU06-valve", "body-stuck-open", "2026-05-10", "stuck_open"),
    # Tern Street Offices
    _trouble("TS-1", "OU2-main1", "head-jammed", "2025-03-01", "jammed", "2025-06-10", "replaced-head", part="M-46",
             how="proved-by-repair", proof="stem-travel"),
    _trouble("TS-1", "IU18-valve", "plug-or-harness", "2024-02-01", "bad_pin", "2024-06-04", "repaired-plug-or-harness",
             wire="3", size=38.0, how="seen", note="Pin 3 was green."),
    _trouble("TS-1", "IU21-valve", "winding", "2025-08-01", "open_winding", "2025-09-02", "replaced-head", wire="1",
             part="R-150", proof="start-up-heard"),
    _trouble("TS-1", "OU1-injection", "head-unseated", "2026-04-01", "unseated"),
    _trouble("TS-1", "OU2-main2", "head-cracked", "2026-04-01", "cracked"),
    _trouble("TS-2", "BU1-liquid", "winding", "2023-03-15", "open_winding", "2023-06-06", "replaced-head", wire="2",
             part="B-130", proof="start-up-heard"),
    _trouble("TS-2", "IU02-valve", "body-stuck-open", "2024-07-01", "stuck_open", "2024-08-21", "replaced-body",
             how="proved-by-repair", proof="shut-off"),
    _trouble("TS-2", "IU16-valve", "plug-or-harness", "2026-04-20", "bad_pin", wire="2", size=31.0),
)  # fmt: skip
"""Every fault of four years."""

DRIFTS: Final[dict[tuple[str, str], tuple[int, float, date]]] = {
    ("HM-1", "OU2-subcooler"): (1, -0.011, date(2022, 6, 1)),
    ("TS-1", "OU1-subcooler"): (3, 0.008, date(2022, 9, 1)),
}
"""Windings that change over the years: which of the head's, the share a year, since when. Looking back shows it."""


@record
class VisitPlan:
    """A visit that was made."""

    system: str
    date: "date"
    reason: str = "planned"
    technician: str
    meter: str
    valves: tuple[str, ...] | None = None
    """Labels; None: the round of a planned visit."""
    has_running: bool = False
    """A snapshot of the running system was taken before anything was switched off."""
    is_signed: bool = True
    notes: tuple[tuple[str | None, str], ...] = ()
    """About which label, and what."""


def _rounds(system: str, technician: str, meter: str, *days: str) -> list[VisitPlan]:
    return [VisitPlan(system=system, date=_day(day), technician=technician, meter=meter) for day in days]


def _call(
    system: str, day: str, reason: str, technician: str, meter: str, *valves: str, note: str = "", running: bool = False
) -> VisitPlan:
    notes = ((valves[0], note),) if note else ()
    return VisitPlan(
        system=system, date=_day(day), reason=reason, technician=technician, meter=meter, valves=valves, notes=notes,
        has_running=running,
    )  # fmt: skip


VISITS: Final = tuple(
    sorted(
        (
            *_rounds("HM-1", "T-3", "yellow", "2023-03-14", "2024-03-19", "2025-03-18", "2026-03-17"),
            *_rounds("HM-2", "T-3", "yellow", "2023-03-15", "2024-03-20", "2025-03-19", "2026-03-18"),
            *_rounds("SC-1", "T-5", "yellow", "2023-04-11", "2024-04-09", "2025-04-08", "2026-04-14"),
            *_rounds("SC-2", "T-5", "yellow", "2023-04-12", "2024-04-10", "2025-04-09", "2026-04-15"),
            *_rounds("TS-1", "T-8", "red", "2023-05-09", "2024-05-07", "2025-05-06", "2026-05-12"),
            *_rounds("TS-2", "T-8", "red", "2023-05-10", "2024-05-08", "2025-05-07", "2026-05-13"),
            _call("HM-2", "2023-08-02", "comfort", "T-3", "yellow", "IU04-valve", note="No cooling for a week.",
                  running=True),
            _call("HM-2", "2023-08-30", "follow-up", "T-3", "yellow", "IU04-valve"),
            _call("HM-1", "2024-04-16", "follow-up", "T-3", "yellow", "OU1-main2"),
            _call("HM-2", "2024-04-17", "follow-up", "T-4", "yellow", "IU20-valve"),
            _call("HM-1", "2024-12-03", "comfort", "T-4", "yellow", "IU07-valve", "IU08-valve", note="Stays cold."),
            _call("HM-1", "2024-12-12", "follow-up", "T-4", "yellow", "IU07-valve"),
            _call("HM-1", "2025-04-15", "follow-up", "T-3", "yellow", "BU1-hotgas"),
            _call("HM-2", "2025-07-08", "comfort", "T-4", "yellow", "IU15-valve", note="Cools too little; hisses.",
                  running=True),
            _call("HM-2", "2025-07-22", "follow-up", "T-4", "yellow", "IU15-valve"),
            _call("SC-1", "2023-05-16", "follow-up", "T-5", "yellow", "OU1-main1"),
            _call("SC-2", "2023-05-17", "follow-up", "T-5", "yellow", "IU12-valve"),
            _call("SC-1", "2024-05-14", "follow-up", "T-5", "yellow", "OU1-main1", "BU3-subcooler"),
            _call("SC-2", "2024-06-18", "comfort", "T-6", "yellow", "OU1-hotgas", note="Trips on a hot day."),
            _call("SC-2", "2024-07-02", "follow-up", "T-6", "yellow", "OU1-hotgas"),
            _call("SC-2", "2026-05-20", "comfort", "T-6", "yellow", "IU06-valve", note="Drips on the desk.",
                  running=True),
            _call("SC-1", "2025-05-06", "follow-up", "T-5", "yellow", "BU2-suction"),
            _call("TS-2", "2023-06-06", "follow-up", "T-8", "red", "BU1-liquid"),
            _call("TS-1", "2024-06-04", "follow-up", "T-8", "red", "IU18-valve"),
            _call("TS-2", "2024-07-24", "comfort", "T-9", "red", "IU02-valve", note="Room too cold; the unit drips.",
                  running=True),
            _call("TS-2", "2024-08-21", "follow-up", "T-9", "red", "IU02-valve"),
            _call("TS-1", "2025-06-10", "follow-up", "T-8", "red", "OU2-main1"),
            _call("TS-1", "2025-08-19", "comfort", "T-9", "red", "IU21-valve", "IU22-valve", note="No cooling."),
            _call("TS-1", "2025-09-02", "follow-up", "T-9", "red", "IU21-valve"),
        ),
        key=lambda plan: (plan.date, plan.system),
    )
)  # fmt: skip
"""Every visit of four years, oldest first."""
NOT_SIGNED: Final = (("TS-1", _day("2026-05-12")), ("TS-2", _day("2026-05-13")))
"""The last two wait for a lead's signature."""
NOTES: Final = (
    ("site", "Saltmarsh Clinic (invented)", None, "Salt air: rust under the coils comes twice as fast.", ("rust",)),
    ("system", "HM-1", None, "Roof hatch: the key hangs in the caretaker's office.", ("access",)),
    ("valve", "HM-1", "OU2-subcooler", "One winding gets lower from year to year; look at its history.", ("drift",)),
    ("valve", "SC-1", "OU1-main1", "Compare the part's label with the manual before fitting.", ("parts",)),
    ("system", "TS-1", None, "Altitude 1620 m: gauge pressures are read with it.", ("pressure",)),
)
"""Notes kept beside the visits: on what, at which system, which valve, text, tags."""
