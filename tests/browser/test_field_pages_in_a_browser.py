"""The circuit, a valve's history and the filling in of a visit in a browser, at a phone and at a desk."""

import re
import shutil
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect
from tests.browser.served_pages import DESK, PHONE, served, visited

from fifthwire.demo.site import VISIT_NAME, demo_text
from fifthwire.model.kept.people import alone
from fifthwire.register.store import Register, open_register
from fifthwire.web.app import create_app
from fifthwire.workflow import places, visits_kept

WHO = alone("rt")
AXE = (Path(__file__).parent / "vendor" / "axe-core" / "axe.min.js").read_text("utf-8")
SIZES = {"phone": PHONE, "desk": DESK}
SCHEMES = ("light", "dark")
YEARS = (2023, 2024, 2025)


@dataclass(frozen=True)
class Office:
    """Where the pages are, and what they are of."""

    address: str
    system_id: str
    visit_id: str
    valve_ids: dict[str, str]


def earlier(content: bytes, year: int) -> bytes:
    """The invented site's visit, made in another spring: one winding of every head read lower then."""
    text = content.decode("utf-8").replace("2026-03-17", f"{year}-04-02").replace("INVENTED-0001", f"INVENTED-{year}")

    def lower(row: re.Match[str]) -> str:
        value = float(row[2]) * (1.0 - 0.02 * (2026 - year))
        return f'["5", "3", {value:.1f}]' if row[1] == "3" else row[0]

    return re.sub(r'\["5", "(\d)", ([\d.]+)\]', lower, text).encode("utf-8")


def an_office(register: Register) -> tuple[str, str, dict[str, str]]:
    content = demo_text(VISIT_NAME)
    for year in YEARS:
        done = visits_kept.import_visit_file(register, WHO, earlier(content, year), f"{year}-{VISIT_NAME}")
        visits_kept.judge_visit(register, WHO, done.kept.id)
    done = visits_kept.import_visit_file(register, WHO, content, VISIT_NAME)
    visits_kept.judge_visit(register, WHO, done.kept.id)
    system_id = done.kept.system_id
    new = visits_kept.new_visit(register, WHO, system_id, date(2026, 11, 2))
    rows = places.system_whole(register, WHO, system_id).valves
    return system_id, new.id, {row.valve.label: row.valve.id for row in rows}


@pytest.fixture(scope="module")
def office(sqlite_template, tmp_path_factory):
    path = tmp_path_factory.mktemp("field") / "register.sqlite"
    shutil.copyfile(sqlite_template, path)
    with open_register(str(path), create=False) as register:
        found = an_office(register)
        with served(create_app(register, alone=WHO)) as address:
            yield Office(address, *found)


def serious_faults(page: Page) -> list[tuple[str, str]]:
    page.evaluate(AXE)
    found = page.evaluate(
        "axe.run(document, {resultTypes: ['violations'], rules: {'color-contrast-enhanced': {enabled: true}}})"
    )
    serious = [one for one in found["violations"] if one["impact"] in ("serious", "critical")]
    return [(one["id"], node["html"][:200]) for one in serious for node in one["nodes"][:3]]


def overflow_px(page: Page) -> int:
    return page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")


def paths(office: Office) -> dict[str, str]:
    return {
        "circuit": f"/systems/{office.system_id}",
        "history": f"/valves/{office.valve_ids['IU01-valve']}/history",
        "list": f"/visits/{office.visit_id}/fill",
        "valve": f"/visits/{office.visit_id}/fill/valve?label=OU1-main2",
    }


@pytest.mark.parametrize("name", ["circuit", "history", "list", "valve"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scheme", SCHEMES)
def test_every_page_is_fit_to_read_and_to_reach(browser, office, name, size, scheme):
    with visited(browser, office.address, viewport=SIZES[size], color_scheme=scheme) as (context, complaints):
        page = context.new_page()
        page.goto(paths(office)[name])

        assert overflow_px(page) <= 0
        assert serious_faults(page) == []
        assert complaints == []


@pytest.mark.parametrize(("width", "shown"), [(390, "c356"), (768, "c690"), (1440, "c1040")])
def test_one_drawing_of_three_is_shown_as_wide_as_the_screen(browser, office, width, shown):
    with visited(browser, office.address, viewport={"width": width, "height": 900}) as (context, _):
        page = context.new_page()
        page.goto(paths(office)["circuit"])
        seen = page.eval_on_selector_all(
            ".circuits .circuit", "all => all.filter(one => one.checkVisibility()).map(one => one.classList[1])"
        )

        assert seen == [shown]


def test_lettering_on_a_phone_is_not_shrunk_below_reading(browser, office):
    with visited(browser, office.address, viewport=PHONE) as (context, _):
        page = context.new_page()
        page.goto(paths(office)["circuit"])
        heights = page.eval_on_selector_all(
            ".circuits svg.c356 .d-word",
            "all => all.map(one => parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().a)",
        )

        assert min(heights) >= 9.5


def test_the_tab_key_walks_the_pipes_and_enter_opens_a_valve(browser, office):
    with visited(browser, office.address, viewport=DESK) as (context, _):
        page = context.new_page()
        page.goto(paths(office)["circuit"])
        page.focus(".to-print")
        walked = []
        for _ in range(6):
            page.keyboard.press("Tab")
            walked.append(page.evaluate("document.activeElement.getAttribute('aria-label')"))
        page.keyboard.press("Enter")
        page.wait_for_url("**/valves/*")

        names = [said.partition(":")[0] for said in walked]
        assert names[:2] == ["OU1-main1", "OU1-main2"]
        assert sorted(names[2:5]) == ["OU1-hotgas", "OU1-injection", "OU1-subcooler"]
        assert names[5] == "OU2-main1"
        expect(page.locator("h1")).to_have_text(walked[-1].partition(":")[0])


@pytest.mark.parametrize("path", ["/systems/{system}/circuit.svg?mode=heating", "/valves/{valve}/history.svg"])
def test_a_drawing_as_a_file_keeps_its_ink(browser, office, path):
    address = path.format(system=office.system_id, valve=office.valve_ids["IU01-valve"])
    with visited(browser, office.address, viewport=DESK) as (context, complaints):
        page = context.new_page()
        answer = page.goto(address)

        assert answer.headers["content-type"].startswith("image/svg+xml")
        assert "unsafe-inline" not in answer.headers["content-security-policy"]
        thick = page.evaluate("getComputedStyle(document.querySelector('.d-ink, .d-ring')).strokeWidth")
        assert float(thick.removesuffix("px")) > 1.0  # the rules inside the file are allowed
        assert complaints == []


def test_the_chart_answers_the_pointer_and_the_drawing_stands_for_paper(browser, office):
    with visited(browser, office.address, viewport=DESK) as (context, complaints):
        page = context.new_page()
        page.goto(paths(office)["history"])
        expect(page.locator(".history-live canvas")).to_be_visible()
        assert not page.locator(".drawn").is_visible()
        before = page.locator(".u-legend .u-series").first.inner_text()
        box = page.locator(".history-live .u-over").bounding_box()
        page.mouse.move(box["x"] + 20, box["y"] + 60)
        after = page.locator(".u-legend .u-series").first.inner_text()

        assert "17 March 2026" in before and "2 April 2023" in after
        page.emulate_media(media="print")
        assert page.locator(".drawn").is_visible() and not page.locator(".history-live").is_visible()
        assert complaints == []


def test_a_drift_is_called_out_in_words_beside_the_table_of_its_figures(browser, office):
    with visited(browser, office.address, viewport=PHONE) as (context, _):
        page = context.new_page()
        page.goto(paths(office)["history"])

        expect(page.locator(".drift").first).to_contain_text("Winding 5-3 drifts: it has risen by")
        assert page.locator("table.readings tbody tr").count() == len(YEARS) + 1


def test_without_scripts_the_history_is_a_drawing_and_a_table(browser, office):
    with visited(browser, office.address, viewport=DESK, java_script_enabled=False) as (context, _):
        page = context.new_page()
        page.goto(paths(office)["history"])

        expect(page.locator(".drawn svg.h690")).to_be_visible()
        assert page.locator("table.readings tbody tr").count() == len(YEARS) + 1


def keep(page: Page, button: Locator) -> None:
    """Send a form and wait for the page that answers it, with scripts or without."""
    page.locator("main").evaluate("main => { main.dataset.before = 'yes' }")
    button.click()
    expect(page.locator("main:not([data-before])")).to_be_attached()


def touch_until_settled(page: Page) -> int:
    """Follow the page: touch the two pins that it names, write down what a good head shows there."""
    readings = 0
    while page.locator(".touch").inner_text().startswith("Touch"):
        a, b = re.findall(r"Touch (\S+) and (\S+)\.", page.locator(".touch").inner_text())[0]
        ohm = 205.4 if "5" in (a, b) else 410.7
        page.fill("#r-ohm", str(ohm))
        page.click("text=Keep the reading")
        readings += 1
        expect(page.locator(".taken li")).to_have_count(readings)
        assert readings < 8
    return readings


def is_at(page: Page, name: str) -> bool:
    """Whether a field is the one that is typed into, within five seconds."""
    for _ in range(50):
        if page.evaluate("document.activeElement.id") == name:
            return True
        page.wait_for_timeout(100)
    return False


@pytest.mark.parametrize("has_scripts", [True, False], ids=["with scripts", "without"])
@pytest.mark.parametrize("size", SIZES)
def test_a_head_is_measured_by_following_the_page(browser, office, size, has_scripts):
    number = 10 + 2 * list(SIZES).index(size) + has_scripts  # each measures a head of its own
    label = f"IU{number}-valve"
    options = {"viewport": SIZES[size], "java_script_enabled": has_scripts}
    with visited(browser, office.address, **options) as (context, told):
        page = context.new_page()
        page.goto(f"/visits/{office.visit_id}/fill")
        page.click(f"text={label}")
        page.locator("#before label:has-text('yes')").first.click()
        page.fill("#before-head_temperature", "21")
        keep(page, page.locator("#before button:has-text('Keep')"))
        expect(page.locator("#before-head_temperature")).to_have_value("21")
        readings = touch_until_settled(page)

        assert 3 <= readings <= 6
        expect(page.locator("#measure .verdict h3")).to_have_text("Windings: good")
        if has_scripts:
            assert is_at(page, "r-ohm")
        assert told == []


def test_a_slip_is_struck_out_and_asked_for_again(browser, office):
    with visited(browser, office.address, viewport=PHONE) as (context, complaints):
        page = context.new_page()
        page.goto(f"/visits/{office.visit_id}/fill/valve?label=IU06-valve")
        page.click("text=It shows open")
        expect(page.locator(".taken li")).to_have_count(1)
        page.click("text=Strike out")
        expect(page.locator(".taken li.struck")).to_have_count(1)

        assert page.locator(".plug .d-broken").count() == 0
        assert complaints == []


def test_the_steps_of_making_safe_are_confirmed_one_by_one(browser, office):
    with visited(browser, office.address, viewport=PHONE) as (context, complaints):
        page = context.new_page()
        page.goto(f"/visits/{office.visit_id}/fill")
        keep(page, page.locator("button:has-text('Compressors stopped')"))
        page.fill("#bus-value", "2 V")
        keep(page, page.locator("button:has-text('Bus measured')"))

        expect(page.locator(".confirmed")).to_have_count(2)
        expect(page.locator(".steps li.done")).to_have_count(2)
        page.goto(paths(office)["valve"])
        expect(page.locator("#before .caution").first).to_contain_text("do not take a head off")
        assert complaints == []


def test_what_is_seen_felt_and_done_is_kept_where_it_was_said(browser, office):
    with visited(browser, office.address, viewport=DESK) as (context, complaints):
        page = context.new_page()
        page.goto(f"/visits/{office.visit_id}/fill/valve?label=OU1-main1")
        page.locator("#look fieldset:has-text('Cracks') label:has-text('yes')").click()
        keep(page, page.locator("#look button:has-text('Keep')").first)
        page.locator("#move fieldset:has-text('The stem') label:has-text('part way out')").click()
        keep(page, page.locator("#move button:has-text('Keep')").first)
        page.locator("#do label:has-text('replaced head')").click()
        keep(page, page.locator("text=Keep what was done"))
        page.locator("#prove label:has-text('stem travel')").click()
        page.locator("#prove label:has-text('passed')").click()
        keep(page, page.locator("text=Keep the proof"))

        assert page.locator("#look input[name=cracks][value=yes]").is_checked()
        assert page.locator("#move input[name=stem][value=part-way]").is_checked()
        expect(page.locator("#do")).to_contain_text("Replaced head")
        expect(page.locator("#prove")).to_contain_text("Stem travel: passed")
        assert complaints == []
