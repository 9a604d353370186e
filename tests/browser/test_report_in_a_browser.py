"""The report's page in a browser: fits every width, speaks without a script, has no serious fault of access."""

import json
from pathlib import Path

import pytest
from playwright.sync_api import Page
from tests import report_visits as visits

from fifthwire.assessment import report_page
from fifthwire.assessment.colours import PRINT, SCHEMES
from fifthwire.assessment.marks import mark_of

AXE = Path(__file__).parent / "vendor" / "axe-core" / "axe.min.js"
WIDTHS = (390, 768, 1440)
CASES = {"every mark": visits.every_mark, "large": visits.a_large_system, "hostile": visits.hostile_names}


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    return {name: report_page(*made()) for name, made in CASES.items()}


def rgb(colour: str) -> str:
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return f"rgb({red}, {green}, {blue})"


def shown(page: Page, html: str, width: int = 1440) -> Page:
    page.set_viewport_size({"width": width, "height": 900})
    page.set_content(html)
    return page


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", CASES)
def test_no_page_scrolls_sideways(page, pages, name, width):
    shown(page, pages[name], width)

    for scheme in ("auto", "sun"):
        page.check(f"#scheme-{scheme}")
        too_wide = page.evaluate(
            """() => [...document.querySelectorAll("body *")]
                .filter(one => one.getBoundingClientRect().right > innerWidth + 1
                    && !one.closest(".skip, thead, .unseen"))
                .map(one => one.outerHTML.slice(0, 120))"""
        )
        assert too_wide == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_no_text_is_cut_off_or_lies_over_other_text(page, pages, width):
    shown(page, pages["every mark"], width)

    overlapping = page.evaluate(
        """() => {
            const boxes = [...document.querySelectorAll("h1,h2,h3,p,li,dt,dd,caption,th,td span,figcaption,svg[role]")]
                .filter(one => one.checkVisibility() && !one.closest(".unseen,thead,.skip"))
                .map(one => ({one, box: one.getBoundingClientRect()}))
                .filter(({box}) => box.width > 1 && box.height > 1);
            const found = [];
            for (const [at, a] of boxes.entries()) for (const b of boxes.slice(at + 1)) {
                if (a.one.contains(b.one) || b.one.contains(a.one)) continue;
                const over = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
                const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
                if (over > 2 && down > 2) found.push([a.one.textContent.slice(0, 40), b.one.textContent.slice(0, 40)]);
            }
            return found;
        }"""
    )
    assert overlapping == []


@pytest.mark.parametrize("name", CASES)
def test_letters_of_a_drawing_stay_inside_it(page, pages, name):
    shown(page, pages[name], 1440)

    outside = page.evaluate(
        """() => [...document.querySelectorAll("figure svg text")].filter(one => {
            const text = one.getBoundingClientRect(), frame = one.closest("svg").getBoundingClientRect();
            return text.left < frame.left - 1 || text.right > frame.right + 1
                || text.top < frame.top - 1 || text.bottom > frame.bottom + 1;
        }).map(one => one.textContent)"""
    )
    assert outside == []


def test_it_says_everything_without_a_script_and_without_a_complaint(browser, pages):
    complaints: list[str] = []
    context = browser.new_context(java_script_enabled=False, offline=True)
    page = context.new_page()
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("requestfailed", lambda request: complaints.append(request.url))

    page.set_content(pages["every mark"])

    _, assessment = visits.every_mark()
    for valve in assessment.valves:
        assert page.get_by_role("rowheader", name=valve.id, exact=True).first.is_visible()
        assert page.get_by_text(mark_of(valve).word, exact=True).first.is_visible()
    for heading in ("Valves", "Before the first head comes off", "Valves that need a word", "Good valves", "Signature"):
        assert page.get_by_role("heading", name=heading, exact=True).is_visible()
    assert page.get_by_role("img", name="OU1-subcooler: its plug").is_visible()
    assert complaints == []
    context.close()


def test_a_name_cannot_run_anything(page, pages):
    asked = []
    page.on("dialog", lambda dialog: (asked.append(dialog.message), dialog.dismiss()))

    shown(page, pages["hostile"])

    assert asked == []
    assert page.evaluate("document.scripts.length") == 0


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_scheme_chosen_on_the_page_is_used(page, pages, scheme):
    shown(page, pages["every mark"]).check(f"#scheme-{scheme}")

    style = "getComputedStyle(document.body)"
    assert page.evaluate(f"{style}.backgroundColor") == rgb(SCHEMES[scheme]["paper"])
    assert page.evaluate(f"{style}.color") == rgb(SCHEMES[scheme]["ink"])


def test_a_dark_screen_gets_the_dark_scheme_unasked(page, pages):
    page.emulate_media(color_scheme="dark")

    shown(page, pages["every mark"])

    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == rgb(SCHEMES["dark"]["paper"])


def test_bright_sun_makes_type_larger(page, pages):
    shown(page, pages["every mark"], 390)
    size = "parseFloat(getComputedStyle(document.documentElement).fontSize)"
    usual = page.evaluate(size)

    page.check("#scheme-sun")

    assert usual == 17
    assert page.evaluate(size) == pytest.approx(1.2 * usual)


def test_paper_is_white_whatever_the_screen_was(page, pages):
    shown(page, pages["every mark"]).check("#scheme-dark")

    page.emulate_media(media="print")

    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == rgb(PRINT["paper"])
    assert not page.locator("fieldset.scheme").is_visible()


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", [390, 1440])
def test_axe_finds_no_serious_fault(page, pages, scheme, width):
    shown(page, pages["every mark"], width).check(f"#scheme-{scheme}")
    page.evaluate(AXE.read_text(encoding="utf-8"))

    found = page.evaluate(
        "axe.run(document, {resultTypes: ['violations'], rules: {'color-contrast-enhanced': {enabled: true}}})"
    )

    serious = [one for one in found["violations"] if one["impact"] in ("serious", "critical")]
    assert serious == [], json.dumps([(one["id"], one["nodes"][0]["html"]) for one in serious], indent=1)
    assert len(found["passes"]) > 20


def test_what_can_be_touched_is_large_enough_and_shows_its_focus(page, pages):
    shown(page, pages["every mark"], 390)

    for label in page.locator("fieldset.scheme label").all():
        box = label.bounding_box()
        assert box is not None and box["height"] >= 48
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
