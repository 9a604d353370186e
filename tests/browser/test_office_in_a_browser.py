"""The office's pages in a browser, at a phone and at a desk: the four jobs walked, every page fit to read and touch."""

import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.served_pages import DESK, PHONE, served, visited
from tests.office_pages import WHO, Filled, a_filled_register

from fifthwire.assessment.colours import SCHEMES
from fifthwire.demo.site import VISIT_NAME, demo_text
from fifthwire.register.store import open_register
from fifthwire.web.app import create_app
from fifthwire.workflow import manuals, notes, todo

AXE = (Path(__file__).parent / "vendor" / "axe-core" / "axe.min.js").read_text("utf-8")
SIZES = {"phone": PHONE, "desk": DESK}
PAGES = (
    "/", "/todo", "/todo/{action}", "/sites", "/sites/{site}", "/sites/new", "/systems", "/systems/{system}",
    "/systems/{system}/valves", "/systems/{system}/visits", "/systems/{system}/notes", "/valves", "/valves/{valve}",
    "/valves/{valve}/notes", "/valves/{valve}/change", "/visits", "/visits/{visit}", "/visits/{visit}/entries",
    "/visits/{visit}/report", "/visits/new?system={system}", "/manuals", "/manuals/{spec}", "/manuals/new", "/meters",
    "/meters/new", "/search?q=sub", "/import", "/import/valves", "/export", "/more", "/api", "/nowhere",
)  # fmt: skip


@pytest.fixture(scope="module")
def office(sqlite_template, tmp_path_factory):
    """A filled register, served: its address, and the ids that stand for the names in PAGES."""
    path = tmp_path_factory.mktemp("office") / "register.sqlite"
    shutil.copyfile(sqlite_template, path)
    with open_register(str(path), create=False) as register:
        filled = a_filled_register(register)
        notes.add_note(
            register, WHO, about_kind="system", about_id=filled.system_id, text="Key at the desk.", tags=("access",)
        )
        with served(create_app(register, alone=WHO)) as address:
            yield address, ids_of(filled)


@pytest.fixture
def own_office(sqlite_template, tmp_path):
    """An empty register, served."""
    path = tmp_path / "register.sqlite"
    shutil.copyfile(sqlite_template, path)
    with open_register(str(path), create=False) as register, served(create_app(register, alone=WHO)) as address:
        yield address


def ids_of(filled: Filled) -> dict[str, str]:
    register, who = filled.register, filled.who
    return {
        "site": filled.site_id,
        "system": filled.system_id,
        "visit": filled.visit_id,
        "valve": filled.valve_id("OU1-subcooler"),
        "action": todo.list_actions(register, who).rows[0].id,
        "spec": manuals.list_specs(register, who).rows[0].spec_id,
    }


@pytest.fixture(params=SIZES)
def page(request, browser, office) -> Page:
    """A page at a phone's and at a desk's size, without a complaint at its end."""
    address, _ = office
    with visited(browser, address, viewport=SIZES[request.param], reduced_motion="reduce") as (context, complaints):
        opened = context.new_page()
        yield opened
        assert [one for one in complaints if "404" not in one] == []


def opened(page: Page, office, path: str) -> Page:
    page.goto(path.format(**office[1]))
    return page


@pytest.mark.parametrize("path", PAGES)
def test_a_page_fits_its_screen_is_easy_to_touch_and_has_no_serious_fault_of_access(page, office, path):
    opened(page, office, path)

    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    assert page.evaluate(OVERLAPPING) == []
    if page.viewport_size == PHONE:
        assert page.evaluate(SMALL) == []
    assert serious_faults(page) == []


@pytest.mark.parametrize("scheme", ["auto", "sun"])
def test_no_width_between_a_phone_and_a_desk_scrolls_sideways(browser, office, scheme):
    address, ids = office
    with visited(browser, address, viewport=DESK) as (context, _):
        context.add_cookies([{"name": "scheme", "value": scheme, "url": address}])
        page = context.new_page()
        for path in ("/", "/systems", "/valves", "/visits", "/visits/{visit}", "/todo/{action}", "/api"):
            page.goto(path.format(**ids))
            for width in (390, 480, 620, 768, 900, 1024, 1100, 1280, 1440):
                page.set_viewport_size({"width": width, "height": 900})
                assert page.evaluate("document.documentElement.scrollWidth") <= width, (path, width)


@pytest.mark.parametrize("scheme", ["dark", "sun"])
@pytest.mark.parametrize("path", ["/", "/systems/{system}", "/valves/{valve}", "/visits/{visit}", "/todo/{action}"])
def test_other_schemes_have_no_serious_fault_of_access_either(page, office, path, scheme):
    page.context.add_cookies([{"name": "scheme", "value": scheme, "url": office[0]}])
    opened(page, office, path)

    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    assert serious_faults(page) == []


def serious_faults(page: Page) -> list[tuple[str, str]]:
    """What axe calls serious or critical, contrast of 7:1 among it: the rule and where it is broken first."""
    page.evaluate(AXE)
    found = page.evaluate(
        "axe.run(document, {resultTypes: ['violations'], rules: {'color-contrast-enhanced': {enabled: true}}})"
    )
    serious = [one for one in found["violations"] if one["impact"] in ("serious", "critical")]
    return [(one["id"], node["html"][:200]) for one in serious for node in one["nodes"][:3]]


OVERLAPPING = """() => {
    const kinds = "h1,h2,h3,p,li>a,dt,dd,caption,label,button,.button,td,th,input,select";
    const boxes = [...document.querySelectorAll(kinds)]
        .filter(one => one.checkVisibility() && !one.closest(".unseen,thead,.skip,.places,svg,details:not([open])"))
        .map(one => ({one, box: one.getBoundingClientRect()}))
        .filter(({box}) => box.width > 2 && box.height > 2);
    const found = [];
    for (const [at, a] of boxes.entries()) for (const b of boxes.slice(at + 1)) {
        if (a.one.contains(b.one) || b.one.contains(a.one)) continue;
        const over = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        if (over > 2 && down > 2) found.push([a.one.outerHTML.slice(0, 60), b.one.outerHTML.slice(0, 60)]);
        if (found.length > 5) return found;
    }
    return found;
}"""
"""Texts and controls that lie over one another."""

SMALL = """() => [...document.querySelectorAll(
    "button, .button, input:not([type=hidden]), select, textarea, summary, nav a, .choice, tbody th a")]
    .filter(one => one.checkVisibility() && !one.closest(".choice input, .unseen"))
    .map(one => [one.outerHTML.slice(0, 90), (one.closest(".choice") ?? one).getBoundingClientRect().height])
    .filter(([, height]) => height < 47.5)"""
"""What is touched and is less than 48 pixels high."""


def test_know_a_valve_is_found_by_one_word_and_says_what_its_head_should_measure(page, office):
    opened(page, office, "/search")
    page.locator("main").get_by_role("searchbox").fill("OU1-sub")
    page.locator("main").get_by_role("link", name="OU1-subcooler").first.click()

    expect(page.get_by_role("heading", level=1)).to_have_text("OU1-subcooler")
    page.goto("/manuals")
    page.get_by_role("link", name="outdoor-clip").first.click()
    expect(page.get_by_text("Manual of the outdoor unit (invented)")).to_be_visible()


def test_see_what_is_wrong_how_sure_why_and_what_next_stand_in_this_order(page, office):
    opened(page, office, "/valves/{valve}")

    places = [
        page.get_by_role("heading", name="Bad: open winding"),
        page.get_by_text("Sure", exact=True),
        page.get_by_text(re.compile("Wire 3 is open from two wires")).first,
        page.get_by_text("Replace the head").first,
        page.get_by_text("Lock out every supply and prove dead").first,
    ]
    heights = [place.bounding_box()["y"] for place in places]
    assert heights == sorted(heights)


@pytest.mark.parametrize("size", SIZES)
def test_a_visit_is_imported_assessed_signed_and_its_actions_closed(browser, own_office, tmp_path, size):
    file = tmp_path / VISIT_NAME
    file.write_bytes(demo_text(VISIT_NAME))
    with visited(browser, own_office, viewport=SIZES[size]) as (context, complaints):
        page = context.new_page()
        page.goto("/")
        page.locator("main").get_by_role("link", name="Import a visit").click()
        page.get_by_label("Visit file").set_input_files(file)
        page.get_by_role("button", name="See what it would change").first.click()
        expect(page.get_by_role("heading", level=1)).to_have_text(VISIT_NAME)
        page.get_by_role("button", name="Keep this visit").click()
        expect(page.get_by_role("status")).to_contain_text("The visit is kept.")
        page.get_by_role("button", name="Assess it").first.click()
        expect(page.get_by_role("heading", name="Bad 11")).to_be_visible()
        page.get_by_role("navigation", name="Parts of this page").get_by_role("link", name="Report").click()
        page.get_by_role("button", name="Sign off").click()
        expect(page.get_by_role("heading", name="Issue 1")).to_be_visible()
        page.goto("/todo")
        page.get_by_role("link", name="What was found OU1-subcooler").click()
        page.get_by_label("winding", exact=True).check()
        page.get_by_label("measured").check()
        page.get_by_role("button", name="Keep what was found").click()
        expect(page.get_by_text("Found: winding")).to_be_visible()
        assert complaints == []


@pytest.mark.parametrize("size", SIZES)
def test_everything_works_without_a_script(browser, own_office, tmp_path, size):
    file = tmp_path / VISIT_NAME
    file.write_bytes(demo_text(VISIT_NAME))
    with visited(browser, own_office, viewport=SIZES[size], java_script_enabled=False) as (context, complaints):
        page = context.new_page()
        page.goto("/import")
        page.get_by_label("Visit file").set_input_files(file)
        page.get_by_role("button", name="See what it would change").first.click()
        page.get_by_role("button", name="Keep this visit").click()
        page.get_by_role("button", name="Assess it").first.click()
        expect(page.get_by_role("heading", name="Bad 11")).to_be_visible()
        page.goto("/valves")
        page.get_by_label("State").select_option("bad")
        page.locator("main").get_by_role("button", name="Show").click()
        expect(page.get_by_role("link", name="OU1-subcooler")).to_be_visible()
        expect(page.get_by_role("link", name="OU1-main1")).to_have_count(0)
        page.goto("/more")
        page.get_by_label("bright sun").check()
        page.get_by_role("button", name="Set the screen").click()
        expect(page.locator("html")).to_have_attribute("data-scheme", "sun")
        assert complaints == []


def test_a_list_is_filtered_while_one_types(page, office):
    opened(page, office, "/valves")

    page.get_by_label("Label, unit or room").fill("OU1-sub")

    expect(page.get_by_role("link", name="OU1-main1")).to_have_count(0)
    expect(page.get_by_role("link", name="OU1-subcooler")).to_be_visible()
    assert "text=OU1-sub" in page.url


def test_the_keyboard_alone_reaches_the_content_and_every_place(page, office):
    opened(page, office, "/sites")

    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_text("To the content")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")


def test_what_has_the_focus_is_never_hidden_by_the_bar_of_places(browser, office):
    address, _ = office
    with visited(browser, address, viewport=PHONE) as (context, _):
        page = context.new_page()
        page.goto("/valves")
        bar = page.locator(".places").bounding_box()["y"]
        for _ in range(25):
            page.keyboard.press("Tab")
            hidden = page.evaluate(
                """bar => { const one = document.activeElement;
                    return !one.closest(".places") && one.getBoundingClientRect().top > bar; }""",
                bar,
            )
            assert not hidden, page.evaluate("document.activeElement.outerHTML")


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_dark_screen_and_a_choice_are_followed(browser, office, scheme):
    address, _ = office
    with visited(browser, address, viewport=DESK, color_scheme="dark") as (context, _):
        page = context.new_page()
        ground = "getComputedStyle(document.documentElement).backgroundColor"
        page.goto("/sites")
        assert page.evaluate(ground) == rgb(SCHEMES["dark"]["paper"])

        context.add_cookies([{"name": "scheme", "value": scheme, "url": address}])
        page.goto("/sites")

        assert page.evaluate(ground) == rgb(SCHEMES[scheme]["paper"])


def rgb(colour: str) -> str:
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return f"rgb({red}, {green}, {blue})"


@pytest.mark.parametrize("path", ["/systems/{system}", "/valves/{valve}", "/visits/{visit}", "/todo"])
def test_paper_shows_the_content_and_no_controls(page, office, path):
    opened(page, office, path).emulate_media(media="print")

    for control in (".places", ".find", ".tabs", "main .acts", "form.filters"):
        assert not any(one.is_visible() for one in page.locator(control).all()), control
    assert page.get_by_role("heading", level=1).is_visible()


@pytest.mark.parametrize("size", SIZES)
def test_what_was_typed_stays_where_it_is_when_it_cannot_be_used(browser, own_office, size):
    with visited(browser, own_office, viewport=SIZES[size]) as (context, _):
        page = context.new_page()
        page.goto("/sites/new")
        page.get_by_label("Name").fill("Mill Lane")
        page.get_by_label("Time zone").fill("Europe/London")
        page.get_by_label("Altitude").fill("40 bananas")

        page.get_by_role("button", name="Keep it").click()

        expect(page.get_by_role("alert")).to_contain_text("Altitude")
        expect(page.get_by_label("Name")).to_have_value("Mill Lane")
        page.get_by_label("Altitude").fill("40 m")
        page.get_by_role("button", name="Keep it").click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Mill Lane")


def test_a_form_is_sent_once_however_often_it_is_pressed(browser, own_office):
    with visited(browser, own_office, viewport=DESK) as (context, _):
        page = context.new_page()
        sent: list[str] = []
        page.on("request", lambda request: sent.append(request.url) if request.method == "POST" else None)
        page.goto("/sites/new")
        page.get_by_label("Name").fill("Mill Lane")
        page.get_by_label("Time zone").fill("Europe/London")

        page.get_by_role("button", name="Keep it").dblclick()

        expect(page.get_by_role("heading", level=1)).to_have_text("Mill Lane")
        assert len(sent) == 1
