"""What a chart says, and its page."""

import re

import pytest

from fifthwire.assessment.pt_chart import chart_content
from fifthwire.assessment.pt_chart_page import chart_page
from fifthwire.model.choices import REFRIGERANTS
from fifthwire.workflow.saturation import pressure_chart


def test_a_blend_has_two_lines_a_unit_and_a_pure_refrigerant_one():
    assert chart_content(pressure_chart("R407C")).columns == (
        "°C", "dew barg", "bubble barg", "dew kPa abs", "bubble kPa abs",
    )  # fmt: skip
    assert chart_content(pressure_chart("R22", units="us")).columns == ("°F", "psig", "psia")


def test_only_the_refrigerant_whose_model_is_in_doubt_says_so():
    doubtful = [name for name in REFRIGERANTS if any("uncertain" in one for one in _words(name))]

    assert doubtful == ["R454B"]


@pytest.mark.parametrize(
    ("name", "said"),
    [("R32", "can burn"), ("R290", "burns readily"), ("R744", "even at rest"), ("R454C", "can burn")],
)
def test_what_burns_or_stands_at_high_pressure_is_said(name, said):
    assert any(said in one for one in chart_content(pressure_chart(name)).cautions)


@pytest.mark.parametrize("name", ["R410A", "R22", "R407C", "R134a", "R404A", "R513A"])
def test_what_does_not_burn_is_not_said_to(name):
    cautions = chart_content(pressure_chart(name)).cautions

    assert len(cautions) == 1
    assert "eyes and hands covered" in cautions[0]


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", ["R32", "R454B"])
def test_the_page_holds_every_figure_and_nothing_from_elsewhere(name, units):
    chart = pressure_chart(name, units=units)
    content, page = chart_content(chart), chart_page(chart)

    cells = re.findall(r'class="figure">([^<]*)<', page)
    assert cells == [cell for row in content.rows for cell in row]
    for text in (content.title, *content.notes, *content.cautions):
        assert text.replace("'", "&#x27;") in page
    assert not re.search(r"<script|<img|<link|url\(|https?:", page)
    assert chart_page(chart) == page


def test_a_short_chart_is_one_table_and_a_long_one_two():
    assert chart_page(pressure_chart("R32", step="10 K")).count("<table") == 1
    assert chart_page(pressure_chart("R32")).count("<table") == 2


def test_temperatures_of_a_chart_have_one_number_of_decimals():
    rows = chart_content(pressure_chart("R32", first="0 degC", last="2 degC", step="0.5 K")).rows

    assert [row[0] for row in rows] == ["0.0", "0.5", "1.0", "1.5", "2.0"]


def _words(name: str) -> tuple[str, ...]:
    return chart_content(pressure_chart(name, step="20 K")).notes
