"""The HTTP interface for other programs, and its OpenAPI."""

import json

import pytest
from tests.web_client import Client

from fifthwire.model.kept.people import alone
from fifthwire.visitfile import schema
from fifthwire.web.app import create_app
from fifthwire.web.pages.interface import operations

VISIT = b"""
format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
site = "Quayside House"
system = "QH-1"
[[valves]]
id = "OU1-main"
unit = "OU1"
role = "main"
head = "clip-on"
readings = [["5", "1", 62.0], ["5", "2", 62.1], ["5", "3", 61.9], ["5", "4", 62.0]]
"""


@pytest.fixture
def program(register):
    """Another program, on each engine in turn."""
    return Client(create_app(register, alone=alone("rt")))


def told(answer, status=200):
    assert answer.status_code == status, answer.text
    return answer.json()


def test_places_are_kept_read_and_changed(program):
    site = told(program.request("POST", "/api/sites", json={"name": "Mill Lane", "time_zone": "Europe/London"}), 201)
    system = told(program.request("POST", "/api/systems", json={"site_id": site["id"], "name": "ML-1"}), 201)
    unit = {"system_id": system["id"], "name": "OU1", "kind": "outdoor"}
    unit = told(program.request("POST", "/api/units", json=unit), 201)
    valve = {"unit_id": unit["id"], "role": "main", "head": "clip-on"}
    valve = told(program.request("POST", "/api/valves", json=valve), 201)
    changed = {**site, "altitude_m": 40.0}
    changed = told(program.request("PUT", f"/api/sites/{site['id']}", json=changed))

    assert (changed["version"], changed["altitude_m"]) == (2, 40.0)
    assert told(program.get("/api/valves"))["rows"][0]["valve"] == valve
    assert told(program.get(f"/api/systems/{system['id']}"))["units"] == [unit]


def test_a_change_of_what_somebody_changed_since_is_a_conflict(program):
    site = told(program.request("POST", "/api/sites", json={"name": "Mill Lane", "time_zone": "Europe/London"}), 201)
    told(program.request("PUT", f"/api/sites/{site['id']}", json={**site, "address": "here"}))

    answer = told(program.request("PUT", f"/api/sites/{site['id']}", json={**site, "address": "there"}), 409)

    assert answer["hint"]


def test_a_visit_file_goes_in_is_assessed_and_comes_out(program):
    preview = told(program.request("POST", "/api/visit-files/preview?name=a.visit.toml", content=VISIT))
    done = told(program.request("POST", "/api/visit-files?name=a.visit.toml", content=VISIT), 201)
    again = told(program.request("POST", "/api/visit-files?name=a.visit.toml", content=VISIT), 201)
    at = f"/api/visits/{done['kept']['id']}"
    judgement = told(program.request("POST", f"{at}/judgements"), 201)
    issue = told(program.request("POST", f"{at}/issues"), 201)

    assert preview["site_id"] is None
    assert (again["kept"]["id"], again["n_added"]) == (done["kept"]["id"], 0)
    assert judgement["assessment"]["valves"][0]["id"] == "OU1-main"
    assert issue["number"] == 1
    assert program.get(f"{at}/issues/1.pdf").content.startswith(b"%PDF")
    assert program.get(f"{at}/draft.pdf").content.startswith(b"%PDF")
    assert json.loads(program.get(f"{at}/file.json").content)["format"] == "fifthwire/visit/1"


def test_an_entry_is_added_and_struck_out(program):
    done = told(program.request("POST", "/api/visit-files?name=a.visit.toml", content=VISIT), 201)
    at = f"/api/visits/{done['kept']['id']}"
    note = {"path": "notes", "body": {"text": "Rain."}, "entry": "01J0"}
    added = told(program.request("POST", f"{at}/entries", json=note), 201)
    told(program.request("POST", f"{at}/voids", json={"entry": added["id"], "why": "It was dry."}), 201)

    entries = told(program.get(at))["entries"]

    assert next(one for one in entries if one["id"] == added["id"])["is_void"] is True


def test_an_error_is_told_with_message_hint_and_places(program):
    answer = told(program.request("POST", "/api/visit-files?name=a.visit.toml", content=b"format = 1"), 422)

    assert answer["problems"]
    assert {"message", "hint", "problems"} == answer.keys()


@pytest.mark.parametrize("text", ["a\0b", "\ud800"])
def test_a_text_that_cannot_be_kept_is_refused(program, text):
    body = json.dumps({"name": text, "time_zone": "Europe/London"}).encode()

    answer = program.request("POST", "/api/sites", content=body, headers={"content-type": "application/json"})

    assert answer.status_code == 422


@pytest.mark.parametrize(
    "path", ["/sites/%00", "/api/sites/%00", "/search?q=%00", "/api/search?text=%00", "/valves?text=%00&site=%00"]
)
def test_a_sign_that_no_database_keeps_is_no_fault(program, path):
    assert program.get(path).status_code == 400


def test_the_openapi_describes_every_address_and_every_error(program):
    described = told(program.get("/api/openapi.json"))

    some = [one for group in operations(described).values() for one in group]
    assert len(some) > 45
    assert all(one.path.startswith("/api/") for one in some)
    for methods in described["paths"].values():
        for operation in methods.values():
            assert {"404", "409", "422", "503"} <= operation["responses"].keys()
    ids = [operation["operationId"] for methods in described["paths"].values() for operation in methods.values()]
    assert len(set(ids)) == len(ids)


def test_the_page_for_other_programs_lists_every_address(program):
    html = program.get("/api").text

    for path in told(program.get("/api/openapi.json"))["paths"]:
        assert path in html


def test_the_schema_of_a_visit_is_the_generated_one(program):
    assert told(program.get("/api/schemas/visit.json")) == json.loads(json.dumps(schema()))
