"""The rows of an invented company, table by table: places, visits with their readings, verdicts, actions, notes."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import count
from random import Random
from typing import Any, Final

from fifthwire.model.canonical import canonical_json
from fifthwire.register.words import words_of

Rows = dict[str, list[dict[str, Any]]]
NOW_UTC: Final = datetime(2026, 6, 1, 8, 0, tzinfo=UTC)
FIRST_YEAR: Final = 2022
N_VISITS: Final = 5
N_INDOOR: Final = 40
OUTDOOR: Final = (
    ("main", 1, "bolt-on"), ("main", 2, "bolt-on"), ("subcooler-bypass", None, "clip-on"),
    ("injection", None, "clip-on"), ("hot-gas-bypass", None, "clip-on"),
)  # fmt: skip
"""Valves of one outdoor unit; there are two units: 40 + 2 × 5 = 50 valves a system."""
WIRES: Final = ("1", "2", "3", "4")
COMMON: Final = "5"
SPEC_OHM: Final = 205.0
STREETS: Final = ("Quay", "Mill", "Orchard", "Tern", "Causeway", "Harbour", "Chapel", "Foundry", "Meadow", "Station")
HOUSES: Final = ("Library", "Clinic", "Offices", "School", "Hotel", "Archive", "Court", "Market", "Theatre", "Depot")
_NUMBERS = count(1)
_DIGITS: Final = "0123456789abcdefghjkmnpqrstvwxyz"


@dataclass(frozen=True)
class BigSystem:
    """Which system it is."""

    site: int
    number: int

    @property
    def site_name(self) -> str:
        """Of its site."""
        return site_name(self.site)

    @property
    def name(self) -> str:
        """Of itself."""
        return f"S{self.site:03d}-{self.number + 1}"


def site_name(site: int) -> str:
    """Of an invented building.

    >>> site_name(0), site_name(199)
    ('Quay Street Library 1 (invented)', 'Station Street Depot 20 (invented)')
    """
    return f"{STREETS[site % 10]} Street {HOUSES[site // 2 % 10]} {site // 10 + 1} (invented)"


def an_id(at: datetime = NOW_UTC) -> str:
    """An id as the register makes them, counted instead of drawn."""
    number = (int(at.timestamp() * 1000) << 80) | next(_NUMBERS)
    return "".join(_DIGITS[(number >> shift) & 31] for shift in range(125, -1, -5))


SPEC_ID: Final = an_id()
SITE_IDS: dict[int, str] = {}


def rows_of_the_company(n_sites: int) -> Rows:
    """Sites, the one page of the manual, the meter."""
    spec = {"winding": "unipolar-5", "resistance": SPEC_OHM, "tolerance": "10 %", "at": 20.0, "full_stroke": 1000.0}
    SITE_IDS.update({site: an_id() for site in range(n_sites)})
    meter = {"accuracy": "0.9 % + 2 digits", "resolution": 0.1, "serial": "INV-1"}
    return {
        "sites": [
            {"id": id_, "name": site_name(site), "time_zone": "Europe/London", "altitude_m": 40.0,
             "address": f"{site + 1} {STREETS[site % 10]} Street", "version": 1}
            for site, id_ in SITE_IDS.items()
        ],
        "specs": [{"id": SPEC_ID, "name": "room-coil", "revision": 1}],
        "spec_revisions": [
            {"id": an_id(), "spec_id": SPEC_ID, "revision": 1, "name": "room-coil", "spec": canonical_json(spec),
             "title": "service manual (invented)", "page": "117", "by": "L-1", "at_utc": NOW_UTC}
        ],
        "meters": [
            {"id": an_id(), "serial": "INV-1", "name": "yellow", "meter": canonical_json(meter), "by": "L-1",
             "at_utc": NOW_UTC, "version": 1}
        ],
        "search_texts": [
            _text("site", id_, id_, site_name(site), "", f"{site + 1} {STREETS[site % 10]} Street")
            for site, id_ in SITE_IDS.items()
        ],
    }  # fmt: skip


def _text(kind: str, about_id: str, site_id: str | None, title: str, place: str, body: str) -> dict[str, Any]:
    words = " ".join(dict.fromkeys(words_of(title, place, body)))
    return {"kind": kind, "about_id": about_id, "site_id": site_id, "title": title, "place": place, "body": body,
            "words": words}  # fmt: skip


def rows_of_system(rng: Random, of: BigSystem) -> Rows:
    """A system with its units, valves, visits and what was made of them."""
    rows: Rows = {
        name: []
        for name in (
            "systems", "units", "valves", "heads", "visits", "visit_valves", "visit_entries", "judgements", "verdicts",
            "winding_points", "actions", "findings", "notes", "search_texts",
        )
    }  # fmt: skip
    site_id, system_id = SITE_IDS[of.site], an_id()
    rows["systems"].append(
        {"id": system_id, "site_id": site_id, "name": of.name, "refrigerant": "R410A", "installed": 2015,
         "is_heat_recovery": False, "version": 1}
    )  # fmt: skip
    rows["search_texts"].append(_text("system", system_id, site_id, of.name, of.site_name, "R410A"))
    valves = _places(rows, of, site_id, system_id)
    for visit in range(N_VISITS):
        _visit(rng, rows, of, (site_id, system_id), valves, visit)
    _note(rng, rows, of, site_id, valves)
    return rows


@dataclass
class _Valve:
    """A valve with its head's true windings."""

    id: str
    head_id: str
    label: str
    unit: str
    role: str
    number: int | None
    head: str
    ohm: tuple[float, ...] = ()
    bad_since: int = N_VISITS
    """Visit from which on a winding is open."""


def _places(rows: Rows, of: BigSystem, site_id: str, system_id: str) -> list[_Valve]:
    found = []
    rng = Random(f"{of.site}/{of.number}")
    units = [(f"OU{number}", "outdoor", number) for number in (1, 2)]
    units += [(f"IU{number:02d}", "indoor", number) for number in range(1, N_INDOOR + 1)]
    for name, kind, position in units:
        unit_id = an_id()
        room = f"Room {position}" if kind == "indoor" else None
        rows["units"].append(
            {"id": unit_id, "system_id": system_id, "name": name, "kind": kind, "position": position,
             "branch_unit": None, "room": room, "capacity_kw": 3.6 if room else None, "version": 1}
        )  # fmt: skip
        place = f"{of.site_name} · {of.name}"
        rows["search_texts"].append(_text("unit", unit_id, site_id, name, place, room or ""))
        for role, number, head in OUTDOOR if kind == "outdoor" else (("indoor", None, "clip-on"),):
            label = f"{name}-{role}{number or ''}" if kind == "outdoor" else f"{name}-valve"
            valve = _Valve(an_id(), an_id(), label, name, role, number, head)
            batch = SPEC_OHM * (1.0 + rng.gauss(0.0, 0.02))
            valve.ohm = tuple(batch * (1.0 + rng.gauss(0.0, 0.005)) for _ in WIRES)
            valve.bad_since = rng.randrange(N_VISITS) if rng.random() < 0.06 else N_VISITS
            rows["valves"].append(
                {"id": valve.id, "system_id": system_id, "unit_id": unit_id, "role": role, "number": number or 0,
                 "label": label, "kind": "eev", "head": head, "access": "roof", "spec_id": SPEC_ID, "version": 1}
            )  # fmt: skip
            rows["heads"].append(
                {"id": valve.head_id, "valve_id": valve.id, "since": date(2015, 6, 1), "until": None,
                 "part_label": "C-205", "is_present": True}
            )  # fmt: skip
            body = f"{role.replace('-', ' ')}, {room}" if room else role
            rows["search_texts"].append(_text("valve", valve.id, site_id, label, f"{place} · {name}", body))
            found.append(valve)
    return found


def _visit(rng: Random, rows: Rows, of: BigSystem, at: tuple[str, str], valves: list[_Valve], number: int) -> None:
    site_id, system_id = at
    day = date(FIRST_YEAR + number, 3, 1) + timedelta(days=of.site % 60)
    moment = datetime(day.year, day.month, day.day, 17, 0, tzinfo=UTC)
    visit_id, judgement_id = an_id(moment), an_id(moment)
    entries: list[dict[str, Any]] = []

    def add(path: str, body: dict[str, Any], position: int = 0) -> None:
        entries.append(
            {"visit_id": visit_id, "seq": len(entries) + 1, "id": an_id(moment), "path": path, "position": position,
             "body": canonical_json(body), "at_utc": None, "device": None, "by": None, "voids": None,
             "received_utc": moment}
        )  # fmt: skip

    header = {
        "id": f"BIG-{of.name}-{day}", "date": day.isoformat(), "site": of.site_name, "system": of.name,
        "technician": f"T-{of.site % 20}", "time_zone": "Europe/London", "reason": "planned", "altitude": 40.0,
    }  # fmt: skip
    add("visit", header)
    add("system", {"refrigerant": "R410A", "installed": 2015, "mode": "off", "service_state": True})
    add("specs/room-coil", {"winding": "unipolar-5", "resistance": SPEC_OHM, "tolerance": "10 %", "at": 20.0})
    add("meters/yellow", {"accuracy": "0.9 % + 2 digits", "resolution": 0.1, "serial": "INV-1"})
    for place, valve in enumerate(valves):
        _valve_entries(rng, add, valve, place, number)
        _made_of(rng, rows, valve, (visit_id, judgement_id, day), number)
    rows["visits"].append(
        {"id": visit_id, "system_id": system_id, "identity": header["id"], "date": day,
         "technician": header["technician"], "reason": "planned", "is_signed": True, "n_issues": 0,
         "n_valves": len(valves), "n_entries": len(entries), "version": len(entries), "added_utc": moment,
         "added_by": "L-1"}
    )  # fmt: skip
    rows["visit_valves"] += [{"visit_id": visit_id, "label": one.label, "valve_id": one.id} for one in valves]
    rows["visit_entries"] += entries
    rows["judgements"].append(
        {"id": judgement_id, "visit_id": visit_id, "at_utc": moment, "by": "L-1", "program": "0.1.0",
         "priors_sha256": "0" * 64, "inputs_sha256": "0" * 64,
         "assessment": _assessment(of, day, valves, number) if number == N_VISITS - 1 else "{}"}
    )  # fmt: skip
    title, place_words = f"{of.name}, {day.isoformat()}", f"{of.site_name} · {of.name}"
    rows["search_texts"].append(_text("visit", visit_id, site_id, title, place_words, "planned · T-1"))
    if number == N_VISITS - 1:
        _actions(rng, rows, (site_id, system_id, visit_id), valves, day)


def _valve_entries(rng: Random, add: Any, valve: _Valve, place: int, number: int) -> None:
    key = f"valves/{valve.label}"
    body = {"id": valve.label, "unit": valve.unit, "role": valve.role, "kind": "eev", "head": valve.head,
            "spec": "room-coil", "meter": "yellow", "plug_off": True, "common": COMMON, "suspected": False,
            "head_temperature": 22.0, "head_temperature_from": "air-after-1h"}  # fmt: skip
    add(key, {**body, **({"number": valve.number} if valve.number else {})}, place)
    for position, (wire, ohm) in enumerate(zip(WIRES, valve.ohm, strict=True)):
        is_open = number >= valve.bad_since and wire == "3"
        shown: float | str = "open" if is_open else round(ohm * 1.008 + rng.gauss(0.0, 0.1), 1)
        add(f"{key}/readings", {"reading": [COMMON, wire, shown]}, position)


def _made_of(rng: Random, rows: Rows, valve: _Valve, at: tuple[str, str, date], number: int) -> None:
    visit_id, judgement_id, day = at
    is_bad = number >= valve.bad_since
    verdict = "faulty" if is_bad else "sound"
    rows["verdicts"].append(
        {"valve_id": valve.id, "visit_id": visit_id, "judgement_id": judgement_id, "date": day,
         "is_now": number == N_VISITS - 1, "mark": "bad" if is_bad else "good",
         "word_code": "open-winding" if is_bad else "sound", "cause": "winding" if is_bad else None,
         "probability": 0.99 if is_bad else None, "action": "replace-head" if is_bad else "keep",
         "urgency": "planned" if is_bad else "none", "meanwhile": "unit-off" if is_bad else "none",
         "because": canonical_json(["Wire 3 is open from two wires." if is_bad else "All four windings are good."]),
         "winding_verdict": verdict}
    )  # fmt: skip
    for wire, ohm in zip(WIRES, valve.ohm, strict=True):
        at_spec = None if is_bad and wire == "3" else round(ohm + rng.gauss(0.0, 0.3), 3)
        rows["winding_points"].append(
            {"valve_id": valve.id, "visit_id": visit_id, "wire_a": COMMON, "wire_b": wire, "date": day,
             "head_id": valve.head_id, "ohm_at_spec": at_spec, "u_ohm": 1.1, "verdict": verdict,
             "meter_serial": "INV-1"}
        )  # fmt: skip


def _assessment(of: BigSystem, day: date, valves: list[_Valve], number: int) -> str:
    """As large as a real one; its readers look at the verdicts."""
    listed = [
        {"id": one.label, "winding": {"verdict": "faulty" if number >= one.bad_since else "sound", "causes": [],
         "common": [{"wires": [COMMON], "probability": 1.0}], "windings": [
             {"wires": [COMMON, wire], "ohm": round(ohm, 3), "u_ohm": 0.9, "ohm_at_spec": round(ohm, 3),
              "u_ohm_at_spec": 1.1} for wire, ohm in zip(WIRES, one.ohm, strict=True)], "next_reading": None},
         "causes": [{"cause": "sound", "probability": 0.9}, {"cause": "refrigerant-side", "probability": 0.1}],
         "action": "keep", "urgency": "none", "meanwhile": "none", "reasons": [], "because": [], "next_check": None,
         "cautions": []}
        for one in valves
    ]  # fmt: skip
    visit = {"site": of.site_name, "system": of.name, "date": day.isoformat()}
    return canonical_json({"format": "fifthwire/assessment/1", "program": "0.1.0", "visit": visit, "valves": listed,
                           "compressors": [], "compressor": {}, "system": {"causes": []}, "units": [], "sensors": [],
                           "warnings": []})  # fmt: skip


def _actions(rng: Random, rows: Rows, at: tuple[str, str, str], valves: list[_Valve], day: date) -> None:
    """Half of the bad valves are to do; of the others it was said what was found."""
    site_id, system_id, visit_id = at
    for valve in (one for one in valves if one.bad_since < N_VISITS):
        is_open, urgency = rng.random() < 0.5, rng.choice(("now", "planned", "planned"))
        action_id = an_id()
        rows["actions"].append(
            {"id": action_id, "valve_id": valve.id, "site_id": site_id, "system_id": system_id, "visit_id": visit_id,
             "action": "replace-head", "why": canonical_json(["Wire 3 is open from two wires."]), "since": day,
             "asked": day, "urgency": urgency, "urgency_rank": 0 if urgency == "now" else 1, "meanwhile": "unit-off",
             "parts": "room-coil", "state": "open" if is_open else "closed"}
        )  # fmt: skip
        if not is_open:
            rows["findings"].append(
                {"id": an_id(), "action_id": action_id, "cause": "winding", "seen_by": "T-1", "how": "measured",
                 "proof_kind": None, "proof_result": None, "photograph_sha256": None, "note": None,
                 "date": day + timedelta(days=14), "by": "L-1", "at_utc": NOW_UTC}
            )  # fmt: skip


def _note(rng: Random, rows: Rows, of: BigSystem, site_id: str, valves: list[_Valve]) -> None:
    for valve in rng.sample(valves, 3):
        note_id, text = an_id(), rng.choice(("Insulation torn at the elbow.", "Ladder needed.", "Plug is tight."))
        rows["notes"].append(
            {"id": note_id, "about_kind": "valve", "about_id": valve.id, "site_id": site_id, "text": text,
             "tags": canonical_json(["roof"]), "by": "T-1", "at_utc": NOW_UTC, "voided_by": None,
             "voided_at_utc": None}
        )  # fmt: skip
        rows["search_texts"].append(
            _text("note", note_id, site_id, valve.label, f"{of.site_name} · {of.name}", f"{text} roof")
        )
