"""A chart in print: tagged, whole, the same bytes, and no page without a row."""

import re
import subprocess

import pytest
from tools.chromium import has_poppler

from fifthwire.assessment.pt_chart import chart_content
from fifthwire.reports.pt_chart import FIRST_PAGE_ROWS, chart_pdf, pages_of
from fifthwire.workflow.saturation import pressure_chart

needs_poppler = pytest.mark.skipif(not has_poppler(), reason="poppler-utils is not here: apt-get install poppler-utils")


@needs_poppler
@pytest.mark.parametrize(("units", "size"), [("si", "A4"), ("us", "letter")])
@pytest.mark.parametrize("step", ["20 K", "0.5 K"])
def test_the_print_is_tagged_and_has_as_many_pages_as_it_was_cut_into(tmp_path, units, size, step):
    chart = pressure_chart("R454B", units=units, step=step)
    path = tmp_path / "chart.pdf"

    path.write_bytes(chart_pdf(chart))

    said = subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True).stdout
    told = dict(re.findall(r"^(.*?):\s+(.*)$", said, re.MULTILINE))
    content = chart_content(chart)
    assert (told["Tagged"], told["Pages"]) == ("yes", str(len(pages_of(content))))
    assert told["Title"] == content.title
    assert size in told["Page size"]
    text = subprocess.run(["pdftotext", "-layout", path, "-"], check=True, capture_output=True, text=True).stdout
    cells = [cell for row in content.rows for cell in row]
    assert sorted(set(cells) - set(text.split())) == []
    assert chart_pdf(chart) == path.read_bytes()


@pytest.mark.parametrize("count", [1, 2, 3, 41, 42, 43, 84, 85, 188, 189, 400])
def test_every_row_stands_once_in_its_order(count):
    content = chart_content(pressure_chart("R32", first="0 degC", last=f"{(count - 1) * 0.1:.1f} degC", step="0.1 K"))

    pages = pages_of(content)

    assert [row for page in pages for part in page for row in part] == list(content.rows)
    assert all(1 <= len(page) <= 2 and all(page) for page in pages)
    assert all(len(part) <= FIRST_PAGE_ROWS["a4"] for part in pages[0])
    assert all(0 <= len(page[0]) - len(page[-1]) <= 1 for page in pages)
