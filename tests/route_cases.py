"""Every route with the least role that may use it, and what to send: for the test over every role and across sites.

`ROUTES[method and path] = Case(least role, whether it is bound to a site, what to send)`. A route that is missing here
fails a test: nobody adds a page without saying who may open it.
"""

import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from PIL import Image
from tests.office_pages import a_filled_register

from fifthwire.demo.site import VISIT_NAME, demo_text
from fifthwire.model.kept.people import alone
from fifthwire.register.store import Register
from fifthwire.workflow import lists, manuals, meters, notes, photographs, places, todo, visits_kept

WHO: Final = alone("office")
PUBLIC: Final = "public"
"""Open to one who is not signed in."""
LIST: Final = b"site,system,unit,unit_kind,role,number,label,head\n"


@dataclass
class There:
    """A register with something of everything at one site, and the ids of it."""

    register: Register
    ids: dict[str, str] = field(default_factory=dict)

    def fill(self) -> None:
        """Import and judge the invented site's visit; add a spec, a meter, notes, a photograph and a signed issue."""
        filled = a_filled_register(self.register)
        register, ids = self.register, self.ids
        ids.update(site_id=filled.site_id, system_id=filled.system_id, visit_id=filled.visit_id)
        whole = places.system_whole(register, WHO, filled.system_id)
        visits_kept.sign_off(register, WHO, filled.visit_id, why="the first")
        spec = manuals.list_specs(register, WHO).rows[0]
        about = {"about_kind": "site", "about_id": filled.site_id}
        ids.update(
            unit_id=whole.valves[0].valve.unit_id,
            valve_id=whole.valves[0].valve.id,
            label=whole.valves[0].valve.label,
            action_id=todo.list_actions(register, WHO).rows[0].id,
            spec_id=spec.spec_id,
            revision_id=spec.id,
            meter_id=meters.list_meters(register, WHO).rows[0].id,
            sha256=photographs.add_photograph(register, WHO, a_picture(), **about).sha256,
            number="1",
        )

    def change_of_meter(self) -> Mapping[str, Any]:
        """The meter."""
        return {**METER, "serial": "A1234", "version": meters.meter(self.register, WHO, self.ids["meter_id"]).version}

    def spec_that_differs(self) -> Mapping[str, Any]:
        """One of the visit that the manuals say otherwise, each time anew."""
        visit = visits_kept.visit_of(self.register, WHO, self.ids["visit_id"]).visit
        name, spec = next(iter(visit.specs.items()))
        given = {"name": name, "spec": {"winding": spec.winding, "resistance": (spec.resistance_ohm or 60.0) + 1.0}}
        kept = manuals.spec_named(self.register, WHO, name)
        if kept is None:
            manuals.add_spec(self.register, WHO, **given)
        else:
            manuals.revise_spec(self.register, WHO, kept.spec_id, revision=kept.revision, **given)
        return {"name": name}

    def visit_version(self) -> int:
        """In which the visit stands now."""
        return visits_kept.visit_of(self.register, WHO, self.ids["visit_id"]).kept.version

    def revision(self) -> int:
        """Of the spec."""
        return manuals.spec(self.register, WHO, self.ids["spec_id"]).revision

    def fresh_note(self) -> str:
        """Id of a note of somebody else that nobody has struck out yet."""
        about = {"about_kind": "site", "about_id": self.ids["site_id"]}
        return notes.add_note(self.register, WHO, text="Ring first.", **about).id

    def something_new(self) -> Mapping[str, Any]:
        """Add to the visit, so that there is something to sign."""
        visits_kept.add_entry(self.register, WHO, self.ids["visit_id"], "notes", {"text": "Signed for."})
        return {"why": "a note was added"}

    def change_of_site(self) -> Mapping[str, Any]:
        """As it stands, like all of these: a change that changes nothing."""
        now = places.site(self.register, WHO, self.ids["site_id"])
        return {"name": now.name, "time_zone": now.time_zone, "version": now.version}

    def change_of_system(self) -> Mapping[str, Any]:
        """The system."""
        now = places.system(self.register, WHO, self.ids["system_id"])
        return {"name": now.name, "version": now.version}

    def change_of_unit(self) -> Mapping[str, Any]:
        """The unit."""
        now = places.unit(self.register, WHO, self.ids["unit_id"])
        return {"name": now.name, "kind": now.kind, "position": now.position, "version": now.version}

    def change_of_valve(self) -> Mapping[str, Any]:
        """The valve."""
        now = places.valve(self.register, WHO, self.ids["valve_id"])
        kept = {
            "role": now.role,
            "number": now.number,
            "label": now.label,
            "kind": now.kind,
            "head": now.head,
            "version": now.version,
        }
        return {key: value for key, value in kept.items() if value is not None}

    def entry(self) -> str:
        """Id of an entry that is not struck out yet."""
        whole = visits_kept.visit_of(self.register, WHO, self.ids["visit_id"])
        return next(one.id for one in reversed(whole.entries) if one.path == "notes" and not one.is_void)


@dataclass(frozen=True)
class Case:
    """Who may use a route, and what a valid request of it holds."""

    least: str
    is_bound: bool = False
    """To a site: by an id in the address or in what is sent."""
    data: Callable[[There], Mapping[str, Any]] | None = None
    """Fields of a form, or of the JSON of the interface."""
    query: Callable[[There], Mapping[str, str]] | None = None
    files: Callable[[], Mapping[str, Any]] | None = None
    content: Callable[[], bytes] | None = None
    done: tuple[int, ...] = (200, 201, 204, 303)
    """Statuses of a request that was let through."""


def a_picture() -> bytes:
    """A small JPEG."""
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "navy").save(out, "JPEG")
    return out.getvalue()


def a_list() -> bytes:
    """An empty list of valves in our own form."""
    return lists.valve_list_template(".csv")


def a_visit() -> bytes:
    """The invented site's visit with another id, so that it is a new one."""
    return demo_text(VISIT_NAME)


def of(*names: str, **fixed: Any) -> Callable[[There], Mapping[str, Any]]:
    """Ids by their own names, and fixed values; `new_name=id_name` would be said with a lambda."""
    return lambda there: {**{name: there.ids[name] for name in names}, **fixed}


def bound(**names: str) -> Callable[[There], Mapping[str, str]]:
    """Fields that hold ids: `site="site_id"`."""
    return lambda there: {field: there.ids[id_name] for field, id_name in names.items()}


def both(*parts: Callable[[There], Mapping[str, Any]], **fixed: Any) -> Callable[[There], Mapping[str, Any]]:
    """Several of them together."""
    return lambda there: {key: value for part in parts for key, value in part(there).items()} | fixed


SPEC: Final = {"winding": "unipolar-5", "resistance": "62 ohm"}
METER: Final = {"accuracy": "0.9 % + 2 digits", "resolution": "0.1 ohm"}
FOUND: Final = {"cause": "winding", "how": "measured", "seen_by": "RT-14"}
NEW_VALVE: Final = of(role="receiver", number="9", head="clip-on")
ABOUT: Final = both(bound(about_id="site_id"), about_kind="site")
R, T, L, O = "reader", "technician", "lead", "owner"  # noqa: E741 - the four roles, in a table that is read across

PAGES: Final[dict[str, Case]] = {
    "GET /": Case(R),
    "GET /todo": Case(R),
    "GET /todo/{action_id}": Case(R, True),
    "POST /todo/{action_id}": Case(T, True, of(date="2026-05-12", **FOUND)),
    "GET /sites": Case(R),
    "GET /sites/new": Case(R),
    "POST /sites/new": Case(L, False, of(name="New House", time_zone="Europe/London")),
    "GET /sites/{site_id}": Case(R, True),
    "GET /sites/{site_id}/change": Case(R, True),
    "POST /sites/{site_id}/change": Case(L, True, There.change_of_site),
    "GET /systems": Case(R),
    "GET /systems/new": Case(R, True, query=bound(site="site_id")),
    "POST /systems/new": Case(L, True, both(bound(site="site_id"), name="QH-9")),
    "GET /systems/{system_id}": Case(R, True),
    "GET /systems/{system_id}/valves": Case(R, True),
    "GET /systems/{system_id}/visits": Case(R, True),
    "GET /systems/{system_id}/notes": Case(R, True),
    "GET /systems/{system_id}/circuit.svg": Case(R, True),
    "GET /systems/{system_id}/change": Case(R, True),
    "POST /systems/{system_id}/change": Case(L, True, There.change_of_system),
    "GET /units/new": Case(R, True, query=bound(system="system_id")),
    "POST /units/new": Case(L, True, both(bound(system="system_id"), name="IU99", kind="indoor")),
    "GET /units/{unit_id}/change": Case(R, True),
    "POST /units/{unit_id}/change": Case(L, True, There.change_of_unit),
    "GET /valves": Case(R),
    "GET /valves/new": Case(R, True, query=bound(system="system_id")),
    "POST /valves/new": Case(
        L, True, both(bound(unit="unit_id"), role="receiver", number="9", label="OU1-new", head="clip-on")
    ),
    "GET /valves/{valve_id}": Case(R, True),
    "GET /valves/{valve_id}/history": Case(R, True),
    "GET /valves/{valve_id}/history.svg": Case(R, True),
    "GET /valves/{valve_id}/notes": Case(R, True),
    "GET /valves/{valve_id}/change": Case(R, True),
    "POST /valves/{valve_id}/head": Case(L, True, of(since="2026-05-12")),
    "POST /valves/{valve_id}/change": Case(L, True, both(bound(unit="unit_id"), There.change_of_valve)),
    "GET /visits": Case(R),
    "GET /visits/new": Case(R),
    "POST /visits/new": Case(T, True, both(bound(system="system_id"), date="2026-05-12")),
    "GET /visits/{visit_id}": Case(R, True),
    "GET /visits/{visit_id}/entries": Case(R, True),
    "GET /visits/{visit_id}/report": Case(R, True),
    "POST /visits/{visit_id}/assess": Case(T, True),
    "POST /visits/{visit_id}/sign": Case(L, True, There.something_new),
    "POST /visits/{visit_id}/strike": Case(T, True, lambda there: {"entry": there.entry(), "why": "It was dry."}),
    "POST /visits/{visit_id}/take": Case(T, True, There.spec_that_differs),
    "GET /visits/{visit_id}/draft.{suffix}": Case(R, True),
    "GET /visits/{visit_id}/fill": Case(R, True),
    "GET /visits/{visit_id}/fill/valve": Case(R, True, query=bound(label="label")),
    "POST /visits/{visit_id}/fill/valve": Case(T, True, both(bound(label="label"), of(part="note", text="Rain."))),
    "POST /visits/{visit_id}/fill/confirm": Case(T, True, of(what="locked-out")),
    "POST /visits/{visit_id}/fill/system": Case(
        T, True, lambda there: {"part": "system", "mode": "cooling", "version": there.visit_version()}
    ),
    "GET /visits/{visit_id}/file.{syntax}": Case(R, True),
    "GET /visits/{visit_id}/issues/{number}.{suffix}": Case(R, True),
    "GET /manuals": Case(R),
    "GET /manuals/new": Case(R),
    "POST /manuals/new": Case(L, False, of(name="another", title="A manual (invented)", **SPEC)),
    "GET /manuals/{spec_id}": Case(R),
    "GET /manuals/{spec_id}/revise": Case(R),
    "POST /manuals/{spec_id}/revise": Case(
        L, False, lambda there: {"name": "outdoor-clip", "revision": there.revision(), **SPEC}
    ),
    "POST /manuals/{spec_id}/check": Case(T, False, bound(revision="revision_id"), done=(303, 422)),
    "GET /meters": Case(R),
    "GET /meters/new": Case(R),
    "POST /meters/new": Case(L, False, of(serial="B1", **METER)),
    "GET /meters/{meter_id}": Case(R),
    "POST /meters/{meter_id}": Case(L, False, There.change_of_meter),
    "POST /notes": Case(T, True, both(ABOUT, text="Ring first.")),
    "POST /notes/{note_id}/strike": Case(L, True),
    "POST /photographs": Case(T, True, ABOUT, files=lambda: {"photograph": ("a.jpg", a_picture(), "image/jpeg")}),
    "GET /photographs/{sha256}": Case(R, True),
    "GET /search": Case(R),
    "GET /import": Case(R),
    "POST /import/visit": Case(T, False, files=lambda: {"file": (VISIT_NAME, a_visit(), "text/plain")}),
    "GET /import/template.{suffix}": Case(R),
    "GET /import/valves": Case(R),
    "POST /import/valves": Case(
        L, True, bound(site="site_id"), files=lambda: {"file": ("a.csv", a_list(), "text/csv")}, done=(200, 422)
    ),
    "GET /import/valves/kept": Case(R, True, query=bound(site="site_id")),
    "GET /export": Case(R),
    "GET /export/file": Case(R, True, query=both(bound(site="site_id"), what="csv")),
    "GET /api": Case(R),
    "GET /more": Case(R),
    "POST /screen": Case(R, False, of(scheme="dark")),
    "POST /demo/close": Case(R),
    "GET /me": Case(R),
    "POST /me/keys": Case(R, False, of(label="a program", days="1")),
    "GET /people": Case(O),
    "POST /people/invite": Case(O, False, of(role="reader", which="all")),
    "GET /audit": Case(O),
    "GET /sign-in": Case(PUBLIC),
    "GET /trust": Case(PUBLIC),
}
"""Pages."""
INTERFACE: Final[dict[str, Case]] = {
    "GET /api/openapi.json": Case(R),
    "GET /api/schemas/visit.json": Case(R),
    "GET /api/sites": Case(R),
    "POST /api/sites": Case(L, False, of(name="Another House", time_zone="Europe/London")),
    "GET /api/sites/{site_id}": Case(R, True),
    "PUT /api/sites/{site_id}": Case(L, True, There.change_of_site),
    "GET /api/systems": Case(R),
    "POST /api/systems": Case(L, True, of("site_id", name="QH-8")),
    "GET /api/systems/{system_id}": Case(R, True),
    "PUT /api/systems/{system_id}": Case(L, True, There.change_of_system),
    "POST /api/units": Case(L, True, of("system_id", name="IU98", kind="indoor")),
    "GET /api/units/{unit_id}": Case(R, True),
    "PUT /api/units/{unit_id}": Case(L, True, There.change_of_unit),
    "GET /api/valves": Case(R),
    "POST /api/valves": Case(L, True, of("unit_id", role="injection", number=9, label="OU1-other", head="clip-on")),
    "GET /api/valves/{valve_id}": Case(R, True),
    "PUT /api/valves/{valve_id}": Case(L, True, both(of("unit_id"), There.change_of_valve)),
    "POST /api/valves/{valve_id}/heads": Case(L, True, of(since="2026-05-12")),
    "GET /api/visits": Case(R),
    "POST /api/visits": Case(T, True, of("system_id", day="2026-05-13")),
    "POST /api/visit-files/preview": Case(T, False, query=of(name=VISIT_NAME), content=a_visit),
    "POST /api/visit-files": Case(T, False, query=of(name=VISIT_NAME), content=a_visit),
    "GET /api/visits/{visit_id}": Case(R, True),
    "POST /api/visits/{visit_id}/entries": Case(T, True, of(path="notes", body={"text": "Rain."})),
    "POST /api/visits/{visit_id}/voids": Case(T, True, lambda there: {"entry": there.entry(), "why": "It was dry."}),
    "POST /api/visits/{visit_id}/judgements": Case(T, True),
    "POST /api/visits/{visit_id}/issues": Case(L, True, There.something_new),
    "GET /api/visits/{visit_id}/file.{syntax}": Case(R, True),
    "GET /api/visits/{visit_id}/draft.{suffix}": Case(R, True),
    "GET /api/visits/{visit_id}/issues/{number}.{suffix}": Case(R, True),
    "GET /api/actions": Case(R),
    "GET /api/actions/{action_id}": Case(R, True),
    "POST /api/actions/{action_id}/findings": Case(T, True, of(day="2026-05-12", **FOUND)),
    "GET /api/notes": Case(R, True, query=ABOUT),
    "POST /api/notes": Case(T, True, both(ABOUT, text="Ring first.")),
    "DELETE /api/notes/{note_id}": Case(L, True),
    "GET /api/search": Case(R, query=of(text="subcooler")),
    "GET /api/specs": Case(R),
    "POST /api/specs": Case(L, False, of(name="a third", spec=SPEC)),
    "GET /api/specs/{spec_id}": Case(R),
    "POST /api/specs/{spec_id}/revisions": Case(
        L, False, lambda there: {"name": "outdoor-clip", "revision": there.revision(), "spec": SPEC}
    ),
    "POST /api/specs/revisions/{revision_id}/check": Case(T, False, done=(200, 422)),
    "GET /api/meters": Case(R),
    "POST /api/meters": Case(L, False, of(serial="C1", meter=METER)),
    "GET /api/meters/{meter_id}": Case(R),
    "PUT /api/meters/{meter_id}": Case(L, False, lambda there: {**there.change_of_meter(), "meter": METER}),
    "GET /api/valve-lists/template.{suffix}": Case(R),
    "POST /api/valve-lists/preview": Case(L, True, query=of("site_id", name="a.csv"), content=a_list),
    "POST /api/valve-lists": Case(L, True, query=of("site_id", name="a.csv"), content=a_list, done=(201, 422)),
    "POST /api/photographs": Case(T, True, query=ABOUT, content=a_picture),
    "GET /api/photographs/{sha256}": Case(R, True),
    "GET /api/export": Case(R, True, query=of("site_id", what="csv")),
}
"""The interface of other programs."""
ELSEWHERE: Final = {
    "GET /static/{path}": "open to everybody: test_style.py",
    "GET /join/{secret}": "open to who holds a link: guard/test_signing.py",
    "POST /join/{secret}": "open to who holds a link: guard/test_signing.py",
    "POST /sign-in": "open to everybody: guard/test_signing.py",
    "POST /sign-out": "guard/test_signing.py",
    "POST /me": "one's own account: guard/test_signing.py",
    "POST /me/password": "one's own account: guard/test_signing.py",
    "POST /me/sign-ins/{sign_in_id}/end": "one's own account: workflow/test_sessions.py",
    "POST /people/invitations/{invitation_id}/withdraw": "owners: guard/test_signing.py, workflow/test_people.py",
    "GET /people/{account_id}": "owners: guard/test_signing.py, workflow/test_people.py",
    "POST /people/{account_id}": "owners: guard/test_conflicts.py, workflow/test_people.py",
    "POST /people/{account_id}/link": "owners: workflow/test_people.py",
    "GET /trust/authority.crt": "open to everybody: cli/test_serve_shared.py",
    "POST /import/visit/keep": "held for who looked at it: guard/test_routes.py",
    "POST /import/valves/keep": "held for who looked at it: guard/test_routes.py",
    "GET /progress/{name}": "known to who began it: guard/test_routes.py",
    "POST /demo/open": "offered to one alone: test_pages.py",
}
"""Routes that are tried elsewhere, and where."""
