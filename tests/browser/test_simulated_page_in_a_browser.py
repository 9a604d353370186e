"""Pages about a simulated plant in a browser: the page itself never scrolls sideways, no serious fault of access."""

from pathlib import Path

import pytest
from tests.invented_plants import a_plant, stuck

from fifthwire.circuit.atlas import make_atlas
from fifthwire.circuit.atlas_content import atlas_page
from fifthwire.circuit.content import state_page
from fifthwire.circuit.page import simulated_page
from fifthwire.circuit.scenario import scenarios_of
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve

AXE = Path(__file__).parent / "vendor" / "axe-core" / "axe.min.js"


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    plant = a_plant(24, faults=(stuck("IU03", 0.8),))
    system, cases = circuit_of(plant), scenarios_of(plant)
    solved = {name: solve(system, cases, closure=name) for name in ("minutes-after", "settled")}
    made = {"state": state_page(system, cases, solved), "atlas": atlas_page(make_atlas(plant))}
    return {name: simulated_page(one) for name, one in made.items()}


@pytest.mark.parametrize("width", [360, 768, 1440])
@pytest.mark.parametrize("name", ["state", "atlas"])
def test_no_page_scrolls_sideways_only_its_wide_tables_do(page, pages, name, width):
    page.set_viewport_size({"width": width, "height": 900})
    page.set_content(pages[name])

    for scheme in ("auto", "sun"):
        page.check(f"#scheme-{scheme}")
        too_wide = page.evaluate(
            """() => [...document.querySelectorAll("body *")]
                .filter(one => one.getBoundingClientRect().right > innerWidth + 1)
                .filter(one => !one.closest(".tables > *, .unseen"))
                .map(one => one.outerHTML.slice(0, 120))"""
        )
        assert too_wide == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth + 1")


def test_heads_stand_over_their_figures_and_words_have_room_on_a_phone(page, pages):
    page.set_viewport_size({"width": 390, "height": 900})
    page.set_content(pages["atlas"])

    askew = page.evaluate(
        """() => [...document.querySelectorAll(".tables td.figure")].filter(one => {
            const head = one.closest("table").querySelectorAll("thead th")[one.cellIndex];
            return getComputedStyle(head).textAlign !== "right";
        }).length"""
    )
    tallest = page.evaluate(
        """() => Math.max(...[...document.querySelectorAll(".tables tbody tr")].map(one => one.offsetHeight))"""
    )

    assert askew == 0
    assert tallest < 200


@pytest.mark.parametrize("scheme", ["light", "dark", "sun"])
@pytest.mark.parametrize("name", ["state", "atlas"])
def test_a_page_has_no_serious_fault_of_access(page, pages, name, scheme):
    page.set_content(pages[name])
    page.check(f"#scheme-{scheme}")
    page.evaluate(AXE.read_text(encoding="utf-8"))

    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")

    assert [one["id"] for one in found["violations"] if one["impact"] in ("serious", "critical")] == []
