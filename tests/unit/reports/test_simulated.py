"""Pages about a simulated plant in print: tagged, whole, the same bytes."""

import re
import subprocess
from dataclasses import replace

import pytest
from tests.invented_plants import a_plant, stuck
from tools.chromium import has_poppler

from fifthwire.assessment.blocks import Picture, Table
from fifthwire.circuit.atlas import make_atlas
from fifthwire.circuit.atlas_content import atlas_page
from fifthwire.circuit.content import SimulatedPage, state_page
from fifthwire.circuit.page import simulated_page
from fifthwire.circuit.scenario import scenarios_of
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.reports.simulated import simulated_pdf, simulated_png

needs_poppler = pytest.mark.skipif(not has_poppler(), reason="poppler-utils is not here: apt-get install poppler-utils")


def a_state(units: str = "si") -> SimulatedPage:
    plant = a_plant(6, faults=(stuck("IU03", 0.8),))
    system, cases = circuit_of(plant), scenarios_of(plant)
    solved = {name: solve(system, cases, closure=name) for name in ("minutes-after", "settled")}
    return state_page(system, cases, solved, units)


@pytest.fixture(scope="module")
def sheet() -> SimulatedPage:
    return atlas_page(make_atlas(a_plant(24)))


def told(path) -> dict[str, str]:
    said = subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True).stdout
    return dict(re.findall(r"^(.*?):\s+(.*)$", said, re.MULTILINE))


def size_of_png(made: bytes) -> tuple[int, int]:
    """Width and height as the header of a PNG has them (ISO/IEC 15948, 11.2.2)."""
    return int.from_bytes(made[16:20]), int.from_bytes(made[20:24])


def words_of(path) -> set[str]:
    return set(subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True, text=True).stdout.split())


@needs_poppler
@pytest.mark.parametrize(("units", "size"), [("si", "A4"), ("us", "letter")])
def test_a_state_is_printed_tagged_with_every_cell(tmp_path, units, size):
    page, path = a_state(units), tmp_path / "state.pdf"

    path.write_bytes(simulated_pdf(page, units=units))

    assert told(path)["Tagged"] == "yes"
    assert told(path)["Title"] == page.title
    assert size in told(path)["Page size"]
    cells = [cell for block in page.blocks if isinstance(block, Table) for row in block.rows for cell in row.cells]
    assert sorted({word for cell in cells for word in cell.split()} - words_of(path)) == []
    assert simulated_pdf(page, units=units) == path.read_bytes()


@needs_poppler
def test_the_four_heat_maps_of_24_units_stand_on_the_first_page(tmp_path, sheet):
    path = tmp_path / "atlas.pdf"

    path.write_bytes(simulated_pdf(sheet))

    first = subprocess.run(["pdftotext", "-l", "1", path, "-"], check=True, capture_output=True, text=True).stdout
    for picture in (block for block in sheet.blocks if isinstance(block, Picture)):
        assert picture.caption.split(".")[0] in first.replace("\n", " ")
    assert first.count("OU1 subcooler") == 4
    assert "nothing here was validated" in first


def test_a_page_is_a_picture_too(sheet):
    made = simulated_png(sheet)

    assert made.startswith(b"\x89PNG")
    assert simulated_png(sheet) == made


def test_a_picture_is_one_sheet_that_keeps_what_two_printed_pages_hold(sheet):
    half = replace(sheet, blocks=sheet.blocks[:-1])
    for page, paper_mm in ((sheet, 297.0), (a_state(), 210.0)):
        width, height = size_of_png(simulated_png(page))

        assert width == pytest.approx(paper_mm / 25.4 * 160.0, abs=2.0)
        assert height > width
    assert size_of_png(simulated_png(half))[1] < size_of_png(simulated_png(sheet))[1]


def test_the_html_page_has_every_drawing_and_cell_and_needs_nothing_else(sheet):
    for page in (sheet, a_state()):
        html = simulated_page(page)

        assert html.count("<svg") >= sum(isinstance(block, Picture) for block in page.blocks)
        assert html.count("<tr") >= sum(len(block.rows) for block in page.blocks if isinstance(block, Table))
        assert not re.findall(r"(?:src|href)=\"(?!#)", html)
        for text in page.limits:
            assert text in html


def test_a_state_that_was_not_found_is_told_with_its_reason():
    plant = a_plant(2)
    system, cases = circuit_of(plant), scenarios_of(plant).with_(on=False)

    page = state_page(system, cases, {"settled": solve(system, cases, closure="settled")})

    said = [block.text for block in page.blocks if block.kind == "paragraph"]
    assert said and said[0].startswith("Settled: no steady state: ")
    assert not any(isinstance(block, Picture) for block in page.blocks)


def test_a_page_says_what_is_wrong_with_the_plant():
    facts = {one.label: one.text for one in a_state().facts}

    assert facts["Wrong with it"] == "IU03 stuck at 80\N{NO-BREAK SPACE}%"
