"""The pages of a register: each says what it is there for, and every link on it leads somewhere."""

import csv
import re
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from tests.office_pages import Filled, a_filled_register, text_of
from tests.web_client import Client

from fifthwire.model.kept.people import alone
from fifthwire.web.app import PAGES, create_app
from fifthwire.workflow import manuals, meters, notes, places, todo, visits_kept

LISTS = (
    "/",
    "/todo",
    "/sites",
    "/systems",
    "/valves",
    "/visits",
    "/manuals",
    "/meters",
    "/search",
    "/import",
    "/export",
)


@pytest.fixture
def empty(sqlite_register):
    return Client(create_app(sqlite_register, alone=alone("rt")))


@pytest.fixture(scope="module")
def filled_template(tmp_path_factory, sqlite_template):
    """A filled register, copied for each test: filling one takes a second."""
    import shutil

    from fifthwire.register.store import open_register

    path = tmp_path_factory.mktemp("filled") / "register.sqlite"
    shutil.copyfile(sqlite_template, path)
    with open_register(str(path), create=False) as register:
        filled = a_filled_register(register)
    return path, filled


@pytest.fixture
def filled(filled_template, tmp_path):
    import shutil
    from dataclasses import replace

    from fifthwire.register.store import open_register

    path, before = filled_template
    shutil.copyfile(path, tmp_path / "register.sqlite")
    with open_register(str(tmp_path / "register.sqlite"), create=False) as register:
        yield replace(before, register=register, client=Client(create_app(register, alone=alone("rt"))))


@pytest.mark.parametrize("path", LISTS)
def test_an_empty_register_says_what_to_do_first(empty, path):
    answer = empty.get(path)

    assert answer.status_code == 200
    assert re.search(r'<a class="button|<button|class="more"', answer.text), path


def test_the_first_page_of_an_empty_register_offers_the_beginnings(empty):
    text = text_of(empty.get("/").text)

    for beginning in ("Add a site", "Import a visit"):
        assert beginning in text


def test_every_link_of_every_page_leads_somewhere(filled: Filled):
    left, seen = ["/"], set()
    while left:
        path = left.pop().partition("#")[0]
        shape = re.sub(r"\b[0-9a-z]{26}\b", "ID", re.sub(r"page=\d+", "page=N", path))
        if shape in seen or not path.startswith("/") or "/export/file" in path or shape.endswith("/fill"):
            continue
        seen.add(shape)
        answer = filled.client.get(path.replace("&amp;", "&"))
        assert answer.status_code in (200, 303), (path, answer.status_code)
        if answer.headers["content-type"].startswith("text/html"):
            left += re.findall(r'(?:href|src)="([^"]+)"', answer.text)

    assert len(seen) > 40, sorted(seen)


def test_what_is_to_do_stands_on_the_first_page_urgent_first(filled):
    text = filled.text("/")

    assert text.index("Now") < text.index("OU1-subcooler") < text.index("Planned")
    assert "Wire 3 is open from two wires" in text


def test_the_page_of_a_valve_says_what_how_sure_why_and_what_next(filled):
    text = filled.text(f"/valves/{filled.valve_id('OU1-subcooler')}")

    places_of = [text.index(words) for words in ("Bad: open winding", "Sure", "Wire 3 is open", "Replace the head")]
    assert places_of == sorted(places_of)
    assert "Lock out every supply and prove dead before the head comes off." in text


def test_a_valve_that_is_good_shows_no_caution(filled):
    text = filled.text(f"/valves/{filled.valve_id('OU1-main1')}")

    assert "Good" in text
    assert "Before this step" not in text


def test_a_visit_shows_its_bad_valves_in_full_and_its_good_ones_by_name(filled):
    text = filled.text(f"/visits/{filled.visit_id}")

    assert "Bad 11" in text
    assert "30 good" in text
    assert text.index("OU1-subcooler") < text.index("30 good") < text.index("IU01-valve")


def test_what_was_found_closes_an_action_and_stands_on_the_valve(filled):
    action = todo.list_actions(filled.register, filled.who).rows[0]
    given = {"cause": "winding", "how": "measured", "seen_by": "RT-14", "date": "2026-03-20", "note": "Pin 3 black."}

    answer = filled.client.post(f"/todo/{action.id}", with_key(filled, f"/todo/{action.id}", given))

    assert answer.headers["location"] == f"/valves/{action.valve_id}?done=finding-added"
    text = filled.text(f"/valves/{action.valve_id}?done=finding-added")
    assert "What was found is kept." in text
    assert "Found: winding. measured, RT-14, 20 March 2026" in text
    assert action.id not in [one.id for one in todo.list_actions(filled.register, filled.who).rows]


def test_a_finding_comes_with_its_photograph(filled):
    action = todo.list_actions(filled.register, filled.who).rows[0]
    given = {"cause": "winding", "how": "seen", "seen_by": "RT-14", "date": "2026-03-20"}
    picture = BytesIO()
    Image.new("RGB", (40, 30), "#8f1d14").save(picture, "JPEG")
    page = f"/todo/{action.id}"

    filled.client.post(page, with_key(filled, page, given), files={"photograph": ("pin.jpg", picture.getvalue())})

    html = filled.client.get(f"/valves/{action.valve_id}").text
    shown = re.search(r'href="(/photographs/[0-9a-f]{64})"', html)
    assert shown is not None
    assert filled.client.get(shown[1]).headers["content-type"] == "image/jpeg"
    assert len(places.valve_whole(filled.register, filled.who, action.valve_id).photographs) == 1


def with_key(filled: Filled, page: str, given: dict[str, str]) -> dict[str, str]:
    """A form as the page holds it, filled in."""
    html = filled.client.get(page).text
    hidden = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', html)
    return {**dict(hidden), **given}


def test_a_finding_that_says_not_who_or_how_is_refused_in_words(filled):
    action = todo.list_actions(filled.register, filled.who).rows[0]
    given = {"cause": "winding", "how": "", "seen_by": "", "date": "2026-03-20"}

    answer = filled.client.post(f"/todo/{action.id}", with_key(filled, f"/todo/{action.id}", given))

    assert answer.status_code == 422
    assert action.id in [one.id for one in todo.list_actions(filled.register, filled.who).rows]


def test_places_are_added_and_changed_on_the_pages(filled):
    post = filled.client.post
    site = {"name": "Mill Lane", "time_zone": "Europe/London", "altitude": "130 ft"}
    at = post("/sites/new", with_key(filled, "/sites/new", site)).headers["location"].partition("?")[0]
    site_id = at.rpartition("/")[2]
    system = {"name": "ML-1", "refrigerant": "R32", "installed": "2020", "is_heat_recovery": "yes"}
    new = f"/systems/new?site={site_id}"
    of = post("/systems/new", with_key(filled, new, system)).headers["location"].partition("?")[0]
    system_id = of.rpartition("/")[2]
    new = f"/units/new?system={system_id}"
    post("/units/new", with_key(filled, new, {"name": "OU1", "kind": "outdoor", "capacity": "22 kW"}))
    unit_id = places.list_units(filled.register, filled.who, system_id)[0].id
    new = f"/valves/new?system={system_id}"
    valve = {"label": "OU1-main", "unit": unit_id, "role": "main", "head": "bolt-on", "kind": "eev"}
    added = post("/valves/new", with_key(filled, new, valve)).headers["location"].partition("?")[0]
    change = f"{added}/change"
    post(change, with_key(filled, change, {**valve, "label": "OU1-main-1"}))

    assert places.site(filled.register, filled.who, site_id).altitude_m == pytest.approx(39.624)
    whole = places.system_whole(filled.register, filled.who, system_id)
    assert (whole.system.is_heat_recovery, whole.units[0].capacity_kw) == (True, 22.0)
    assert [(row.valve.label, row.valve.version) for row in whole.valves] == [("OU1-main-1", 2)]


def test_a_quantity_that_is_none_is_refused_and_nothing_is_kept(filled):
    given = {"name": "Mill Lane", "time_zone": "Europe/London", "altitude": "40 bananas"}

    answer = filled.client.post("/sites/new", with_key(filled, "/sites/new", given))

    assert answer.status_code == 422
    assert "Altitude" in text_of(answer.text)
    assert "Mill Lane" not in filled.text("/sites")


def test_a_manual_is_entered_revised_and_kept_by_revision(filled):
    page = re.search(r'href="(/manuals/[0-9a-z]{26})"', filled.client.get("/manuals").text)
    assert page is not None
    given = {"winding": "unipolar-5", "resistance": "64", "tolerance": "3 ohm", "title": "Manual, second edition"}

    filled.client.post(f"{page[1]}/revise", with_key(filled, f"{page[1]}/revise", given))

    text = filled.text(page[1])
    assert (
        text.index("Revision 2")
        < text.index("64 Ω ± 3 Ω at 20 °C".replace(" Ω", "\u202fΩ").replace(" °C", "\u202f°C").replace("\u202f", " "))
        < text.index("Revision 1")
    )
    assert "a second person compares it with the page" in text


def test_values_that_the_manual_says_otherwise_are_shown_and_taken_over_only_when_told(filled):
    visit = f"/visits/{filled.visit_id}"
    name = next(iter(visits_kept.visit_of(filled.register, filled.who, filled.visit_id).visit.specs))
    spec = {"winding": "unipolar-5", "resistance": "99 ohm"}
    manuals.add_spec(filled.register, filled.who, name=name, spec=spec, title="Manual (invented)")
    assert "shown, never swapped in" in filled.text(visit)

    filled.client.post(f"{visit}/take", with_key(filled, visit, {"name": name}))

    whole = visits_kept.visit_of(filled.register, filled.who, filled.visit_id)
    assert whole.visit.specs[name].resistance_ohm == 99.0
    assert len([one for one in whole.entries if one.path == f"specs/{name}"]) == 2
    assert "shown, never swapped in" not in filled.text(visit)


def test_another_head_is_fitted_on_the_page_of_its_valve(filled):
    valve = f"/valves/{filled.valve_id('OU1-subcooler')}"

    filled.client.post(f"{valve}/head", with_key(filled, valve, {"since": "2026-05-01", "part_label": "X-9"}))

    heads = places.valve_whole(filled.register, filled.who, valve.rpartition("/")[2]).heads
    assert [(head.part_label, head.is_present) for head in heads[:1]] == [("X-9", True)]
    assert not heads[1].is_present


@pytest.mark.parametrize("page", ["/todo/{action}", "/units/{unit}/change", "/meters/{meter}", "/visits/{visit}"])
def test_notes_stand_on_everything(filled, page):
    ids = {
        "action": todo.list_actions(filled.register, filled.who).rows[0].id,
        "unit": places.list_units(filled.register, filled.who, filled.system_id)[0].id,
        "meter": meters.list_meters(filled.register, filled.who).rows[0].id,
        "visit": filled.visit_id,
    }
    at = page.format(**ids)
    html = filled.client.get(at).text
    form = re.search(r'<form method="post" action="/notes" .*?</form>', html, re.DOTALL)
    assert form is not None
    given = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form[0]))

    answer = filled.client.post("/notes", {**given, "text": "Mind the dog."})

    assert answer.headers["location"].startswith(at)
    assert "Mind the dog." in filled.text(at)


def test_a_note_is_kept_with_its_tags_and_found_again(filled):
    page = f"/systems/{filled.system_id}/notes"
    given = {"text": "The key hangs at the desk.", "tags": "access, Key"}

    answer = filled.client.post("/notes", with_key(filled, page, given))

    assert answer.headers["location"] == f"{page}?done=note-added"
    assert "The key hangs at the desk." in filled.text(page)
    assert "The key hangs at the desk." in filled.text("/search?q=desk")
    assert notes.list_notes(filled.register, filled.who, about_kind="system", about_id=filled.system_id)[0].tags


def test_a_form_leads_back_to_pages_of_ours_only(filled):
    page = f"/systems/{filled.system_id}/notes"
    for elsewhere in ("https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)", "/\\elsewhere"):
        given = {"text": "a", "back": elsewhere}

        assert filled.client.post("/notes", with_key(filled, page, given)).headers["location"].startswith("/?"), (
            elsewhere
        )


def test_a_visit_is_started_assessed_signed_and_taken_out(filled):
    visit = f"/visits/{filled.visit_id}"
    signed = filled.client.post(f"{visit}/sign", with_key(filled, f"{visit}/report", {}))
    again = filled.client.post(f"{visit}/assess", with_key(filled, visit, {}))
    new = f"/visits/new?system={filled.system_id}"
    begun = filled.client.post("/visits/new", with_key(filled, new, {"system": filled.system_id, "date": "2026-05-12"}))

    assert (signed.status_code, again.status_code, begun.status_code) == (303, 303, 303)
    assert "Issue 1" in filled.text(f"{visit}/report")
    assert filled.client.get(f"{visit}/issues/1.pdf").content.startswith(b"%PDF")
    assert b"fifthwire/visit/1" in filled.client.get(f"{visit}/file.toml").content
    assert len(visits_kept.list_visits(filled.register, filled.who).rows) == 2


def test_an_entry_is_struck_out_with_a_reason_and_stays_readable(filled):
    whole = visits_kept.visit_of(filled.register, filled.who, filled.visit_id)
    entry = next(one for one in whole.entries if one.path.endswith("/readings"))
    page = f"/visits/{filled.visit_id}/entries"
    assert entry.id not in filled.client.get(page).text
    group = f"{page}?group={entry.path.split('/')[1]}"
    assert f"strike={entry.id}" in filled.client.get(group).text

    filled.client.post(
        f"/visits/{filled.visit_id}/strike",
        with_key(filled, f"{group}&strike={entry.id}", {"entry": entry.id, "why": "the wrong head"}),
    )

    whole = visits_kept.visit_of(filled.register, filled.who, filled.visit_id)
    assert next(one for one in whole.entries if one.id == entry.id).is_void
    assert "1 struck out" in filled.text(page)


@pytest.mark.parametrize("units", ["si", "us"])
def test_temperatures_are_shown_in_the_units_of_this_screen(filled, units):
    filled.client.post("/screen", with_key(filled, "/more", {"units": units, "scheme": "sun"}))

    answer = filled.client.get("/manuals")

    assert ("20\u202f°C" in answer.text, "68\u202f°F" in answer.text) == (units == "si", units == "us")
    assert 'data-scheme="sun"' in answer.text


def test_a_list_is_filtered_by_mark_site_and_words(filled):
    assert "OU1-subcooler" in filled.text("/valves?mark=bad")
    assert "OU1-main1" not in filled.text("/valves?mark=bad")
    assert "No valve like this" in filled.text("/valves?text=nothinglikeit")
    assert "46 in all" in filled.text(f"/valves?site={filled.site_id}")


def test_nothing_that_people_wrote_can_run_or_break_a_page(filled):
    name = "<script>alert(1)</script>{{ 7*7 }}\"'&"
    filled.client.post("/sites/new", with_key(filled, "/sites/new", {"name": name, "time_zone": "Europe/London"}))

    html = filled.client.get("/sites").text

    assert "<script>alert" not in html
    assert "{{ 7*7 }}" in text_of(html)


def test_an_import_is_looked_at_first_and_kept_when_told(filled):
    content = filled.client.get(f"/visits/{filled.visit_id}/file.toml").content
    key = with_key(filled, "/import", {})
    looked = filled.client.post("/import/visit", key, files={"file": ("again.visit.toml", content)})

    assert "importing it changes nothing" in text_of(looked.text)
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', looked.text))
    kept = filled.client.post("/import/visit/keep", {**key, **hidden})
    assert kept.headers["location"] == f"/visits/{filled.visit_id}?done=visit-same"


def test_a_file_that_is_no_visit_is_refused_with_each_problem(filled):
    key = with_key(filled, "/import", {})

    answer = filled.client.post(
        "/import/visit", key, files={"file": ("a.visit.toml", b'format = "fifthwire/visit/1"\n')}
    )

    assert answer.status_code == 422
    assert "problem" in text_of(answer.text)


def test_a_list_of_valves_is_imported_with_its_progress_shown(filled):
    import time

    key = with_key(filled, "/import/valves", {"site": filled.site_id})
    columns = next(csv.reader([filled.client.get("/import/template.csv").text.removeprefix("\ufeff").splitlines()[0]]))
    row = {"system": "HM-2", "unit": "IU90", "unit_kind": "indoor", "role": "indoor", "head": "bolt-on"}
    lines = f"{','.join(columns)}\n{','.join(row.get(column, '') for column in columns)}\n"
    looked = filled.client.post("/import/valves", key, files={"file": ("list.csv", lines.encode())})
    assert looked.status_code == 200, text_of(looked.text)
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', looked.text))

    begun = filled.client.post("/import/valves/keep", {**key, **hidden})

    path = begun.headers["location"]
    for _ in range(100):
        answer = filled.client.get(path)
        if answer.status_code == 303:
            break
        time.sleep(0.1)
    assert "New valves 1" in filled.text(answer.headers["location"])


def test_a_held_file_is_given_to_nobody_else_and_not_for_ever(filled):
    key = with_key(filled, "/import", {})

    answer = filled.client.post("/import/visit/keep", {**key, "held": "made up"})

    assert answer.status_code == 404
    assert "Choose the file again." in text_of(answer.text)


def test_every_page_is_in_the_documentation():
    docs = Path(__file__).parents[3] / "docs"
    said = (docs / "pages.md").read_text("utf-8") + (docs / "sharing.md").read_text("utf-8")
    names = {"sha256": "SHA256", "number": "N", "secret": "SECRET", "name": "ID"}
    addresses = {
        re.sub(r"\{(\w+)\}", lambda of: "ID" if of[1].endswith("id") else names.get(of[1], of[0]), route.path)
        for router in PAGES
        for route in router.routes
        if "GET" in route.methods
    }

    assert len(addresses) > 40
    missing = [
        address
        for address in sorted(addresses)  # the endings of a file stand one by one
        if f"`{address}`" not in said and f"`{address.partition('{')[0]}" not in said and "/fill" not in address
    ]
    assert missing == []
