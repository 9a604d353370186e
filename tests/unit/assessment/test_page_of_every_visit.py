"""Whatever a technician writes, it has a page and a print, and no sentence in them lacks a value."""

import re
import sys
from pathlib import Path

import pytest
from tests.judged_visits import priors, visit_text

from fifthwire.assessment import assess, report_page
from fifthwire.assessment.marks import BAD, GOOD, mark_of
from fifthwire.reports import pdf_report
from fifthwire.visitfile import read_visit

sys.path.insert(0, str(Path(__file__).parent))
from visit_matrix import MATRIX, Told


@pytest.mark.parametrize("told", MATRIX, ids=[one.name for one in MATRIX])
def test_a_visit_has_a_page_that_says_its_action_and_its_reasons(told: Told) -> None:
    text = visit_text(told.valve, head=told.head, system=told.system, meter=told.meter, after=told.after)
    read = read_visit(text, name="made.visit.toml", syntax="toml")
    assessment = assess(read.visit, priors(), warnings=read.warnings)
    (valve,) = assessment.valves

    page = report_page(read.visit, assessment)
    body = re.sub(r"<style>.*?</style>", "", page, flags=re.DOTALL)

    assert "{" not in body and "None" not in body and "nan" not in re.sub(r"<[^>]*>", "", body)
    assert mark_of(valve).word in body
    assert (mark_of(valve) is GOOD) <= (valve.action in ("keep", "watch"))
    assert valve.action.startswith("replace-") <= (mark_of(valve) is BAD)


@pytest.mark.parametrize("told", MATRIX[::12], ids=[one.name for one in MATRIX[::12]])
def test_a_visit_has_a_print(told: Told) -> None:
    text = visit_text(told.valve, head=told.head, system=told.system, meter=told.meter, after=told.after)
    read = read_visit(text, name="made.visit.toml", syntax="toml")

    assert pdf_report(read.visit, assess(read.visit, priors(), warnings=read.warnings)).startswith(b"%PDF-1.7")
