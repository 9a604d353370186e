"""Every route for every role, and across sites. A route that nobody has said anything about fails."""

import re

import pytest
from tests.people_fixtures import an_account
from tests.route_cases import ELSEWHERE, INTERFACE, PAGES, PUBLIC, There
from tests.web_client import Client

from fifthwire.model.kept.people import ROLES, alone
from fifthwire.register.store import open_register
from fifthwire.web import app as web_app
from fifthwire.web import static_files
from fifthwire.web.app import create_app
from fifthwire.web.settings import Settings
from fifthwire.workflow import places
from fifthwire.workflow.sessions import make_key

ROUTES = {**PAGES, **INTERFACE}
HERE = "Hollowmere"
"""Of the name of the site where everything is."""
FIXED = {"syntax": "json", "suffix": "html", "number": "1"}


@pytest.fixture(scope="module")
def there(tmp_path_factory, sqlite_template):
    """A register with something of everything at one site, served to several."""
    path = tmp_path_factory.mktemp("routes") / "register.sqlite"
    path.write_bytes(sqlite_template.read_bytes())
    register = open_register(str(path), create=False)
    made = There(register)
    made.fill()
    yield made
    register.close()


@pytest.fixture(scope="module")
def app(there):
    return create_app(there.register, alone=None, settings=Settings(is_shared=True))


@pytest.fixture(scope="module")
def clients(there, app):
    """A browser for every role, one of a lead of another site, and one that is not signed in."""
    other = places.add_site(there.register, alone("office"), name="Mill Lane", time_zone="Europe/London")
    with pytest.MonkeyPatch.context() as patch:
        from argon2 import PasswordHasher
        from tests.people_fixtures import PASSWORD

        from fifthwire.workflow import passwords

        patch.setattr(passwords, "HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
        made = {"stranger": Client(app)}
        for who in (*ROLES, "elsewhere"):
            role, sites = ("owner", (other.id,)) if who == "elsewhere" else (who, None)
            an_account(there.register, who, role, sites, name=who.title())
            made[who] = Client(app)
            made[who].get("/sign-in")
            assert made[who].post("/sign-in", {"name": who, "password": PASSWORD}).status_code == 303
    return made


def ask(client, there, route):
    """The request of a route, whole and valid."""
    method, template = route.split(" ")
    case = ROUTES[route]
    ids = {**FIXED, **there.ids}
    if "{note_id}" in template:
        ids["note_id"] = there.fresh_note()
    if template.endswith("template.{suffix}"):
        ids["suffix"] = "csv"
    path = re.sub(r"{(\w+)}", lambda found: ids[found[1]], template)
    data = dict(case.data(there)) if case.data else {}
    given = {"params": case.query(there) if case.query else None}
    headers = {} if method == "GET" else {"origin": client.origin, "x-form-key": client.form_key()}
    if case.content:
        given["content"] = case.content()
    elif template.startswith("/api/") and method != "GET":
        given["json"] = data or None
    elif method != "GET":
        given["data"] = {key: str(value) for key, value in data.items()}
        given["files"] = case.files() if case.files else None
    return client.request(method, path, headers=headers, **given)


def said(answer):
    """What a refusal says, without the page around it."""
    return re.findall(r'class="what">(.*?)</div>', answer.text, re.DOTALL) or answer.text[:400]


def the_routes_of_the_app():
    found = {f"GET {route.path}" for route in static_files.router.routes} | {"GET /api/openapi.json"}
    for prefix, routers in (("", web_app.PAGES), ("/api", web_app.INTERFACE)):
        found |= {f"{method} {prefix}{route.path}" for of in routers for route in of.routes for method in route.methods}
    return {re.sub(r":path}", "}", route) for route in found}


def test_every_route_has_said_who_may_use_it():
    assert the_routes_of_the_app() == {*ROUTES, *ELSEWHERE}


@pytest.mark.parametrize("route", ROUTES)
def test_a_route_refuses_strangers_other_sites_and_lower_roles_and_takes_the_least_that_may(there, clients, route):
    case = ROUTES[route]
    lower = () if case.least == PUBLIC else ROLES[: ROLES.index(case.least)]
    refused = {who: ask(clients[who], there, route) for who in lower}
    stranger = ask(clients["stranger"], there, route)
    if case.least != PUBLIC:
        assert stranger.status_code == (401 if "/api/" in route or not route.startswith("GET") else 303)
    if case.is_bound:
        elsewhere = ask(clients["elsewhere"], there, route)
        assert elsewhere.status_code == 404, "somebody of another site"
        assert HERE not in elsewhere.text
    for who, answer in refused.items():
        assert answer.status_code == 403, who
        assert "Nothing was" in answer.text, who
    if case.least != PUBLIC:
        taken = ask(clients[case.least], there, route)
        assert taken.status_code in case.done, said(taken)


LISTS = ("/", "/todo", "/sites", "/systems", "/valves", "/visits", "/search?q=subcooler", "/export", "/import/valves",
         "/visits/new", "/api/sites", "/api/systems", "/api/valves", "/api/visits", "/api/actions",
         "/api/search?text=subcooler")  # fmt: skip


@pytest.mark.parametrize("path", LISTS)
def test_no_list_names_what_belongs_to_other_sites(there, clients, path):
    theirs, all_sites = clients["elsewhere"].get(path), clients["owner"].get(path)
    names = (HERE, "OU1-", there.ids["site_id"], there.ids["system_id"])

    assert (theirs.status_code, all_sites.status_code) == (200, 200)
    assert not [name for name in names if name in theirs.text]
    assert path in ("/", "/visits/new") or any(name in all_sites.text for name in names)


@pytest.mark.parametrize("path", ["/export/file?what=zip", "/export/file?what=visits", "/export/file?what=csv"])
def test_a_copy_holds_nothing_of_other_sites(there, clients, path):
    import io
    import zipfile

    theirs, all_sites = (zipfile.ZipFile(io.BytesIO(clients[who].get(path).content)) for who in ("elsewhere", "owner"))
    inside = ["\n".join([*of.namelist(), *(of.read(name).decode("utf-8", "replace") for name in of.namelist())])
              for of in (theirs, all_sites)]  # fmt: skip

    assert HERE in inside[1]
    assert HERE not in inside[0]
    assert there.ids["site_id"] not in inside[0]


def test_a_held_preview_is_kept_by_the_one_who_looked_at_it_alone(there, clients):
    from fifthwire.demo.site import VISIT_NAME, demo_text

    files = {"file": (VISIT_NAME, demo_text(VISIT_NAME), "text/plain")}
    page = clients["lead"].post("/import/visit", files=files)
    held = re.search(r'name="held" value="([^"]+)"', page.text)[1]

    assert clients["owner"].post("/import/visit/keep", {"held": held}).status_code == 404
    assert clients["owner"].post("/import/valves/keep", {"held": held, "site": there.ids["site_id"]}).status_code == 404
    assert clients["lead"].post("/import/visit/keep", {"held": held}).status_code == 303


def test_work_under_way_is_known_to_the_one_who_began_it_alone(clients, app):
    name = app.state.work.begin("somebody else", "Something", lambda progress: "/")

    assert clients["owner"].get(f"/progress/{name}").status_code == 404


def test_a_key_may_what_its_owner_may_and_no_more(there, clients, app):
    from fifthwire.workflow import people

    account = next(one for one in people.accounts(there.register, alone("office")) if one.sign_in == "technician")
    key = make_key(there.register, account.person, "x").secret
    program = Client(app, headers={"authorization": f"Bearer {key}"})
    body = {"about_kind": "site", "about_id": there.ids["site_id"], "text": "Ring first."}

    assert program.request("POST", "/api/notes", json=body).status_code == 201
    site = {"name": "New House", "time_zone": "Europe/London"}
    assert program.request("POST", "/api/sites", json=site).status_code == 403


def test_a_visit_file_of_another_site_makes_nothing_for_one_who_looks_after_some(there, clients):
    from fifthwire.demo.site import VISIT_NAME, demo_text

    client = clients["elsewhere"]
    headers = {"origin": client.origin, "x-form-key": client.form_key()}
    answer = client.request(
        "POST", f"/api/visit-files?name={VISIT_NAME}", content=demo_text(VISIT_NAME), headers=headers
    )

    assert answer.status_code in (403, 404, 422), answer.text
    assert there.ids["visit_id"] not in answer.text
