"""The page of a chart in a browser: fits every width, prints on one sheet, has no serious fault of access."""

import re
from pathlib import Path

import pytest

from fifthwire.assessment.pt_chart_page import chart_page
from fifthwire.workflow.saturation import pressure_chart

AXE = Path(__file__).parent / "vendor" / "axe-core" / "axe.min.js"


@pytest.mark.parametrize("width", [360, 390, 768, 1440])
@pytest.mark.parametrize(("name", "units"), [("R454B", "si"), ("R407C", "us"), ("R744", "si")])
def test_no_chart_scrolls_sideways(page, name, units, width):
    page.set_viewport_size({"width": width, "height": 900})
    page.set_content(chart_page(pressure_chart(name, units=units)))

    for scheme in ("auto", "sun"):
        page.check(f"#scheme-{scheme}")
        too_wide = page.evaluate(
            """() => [...document.querySelectorAll("body *")]
                .filter(one => one.getBoundingClientRect().right > innerWidth + 1 && !one.closest("thead, .unseen"))
                .map(one => one.outerHTML.slice(0, 120))"""
        )
        assert too_wide == []
        cut = page.evaluate(
            """() => [...document.querySelectorAll(".chart :is(th,td)")]
                .filter(one => one.checkVisibility() && one.scrollWidth > one.clientWidth + 1)
                .map(one => one.textContent)"""
        )
        assert cut == []


@pytest.mark.parametrize("scheme", ["light", "dark", "sun"])
def test_a_chart_has_no_serious_fault_of_access(page, scheme):
    page.set_content(chart_page(pressure_chart("R454B")))
    page.check(f"#scheme-{scheme}")
    page.evaluate(AXE.read_text(encoding="utf-8"))

    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")

    assert [one["id"] for one in found["violations"] if one["impact"] in ("serious", "critical")] == []


def test_a_chart_left_to_itself_prints_on_one_sheet(page):
    page.set_content(chart_page(pressure_chart("R454B")))

    printed = page.pdf(format="A4")

    assert len(re.findall(rb"/Type /Page\b(?!s)", printed)) == 1
