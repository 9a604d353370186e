"""The report of a visit as it stands, to be read before it is signed."""

import pytest
from tests.office_pages import WHO, a_filled_register, text_of

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.people import Person
from fifthwire.workflow import visits_kept
from fifthwire.workflow.draft_report import draft_report


@pytest.fixture
def filled(sqlite_register):
    return a_filled_register(sqlite_register)


def test_it_says_that_it_is_not_signed_and_keeps_nothing(filled):
    page = draft_report(filled.register, WHO, filled.visit_id, ".html").decode("utf-8")

    assert "none: not signed, it may still change" in text_of(page)
    assert "OU1-subcooler" in page
    whole = visits_kept.visit_of(filled.register, WHO, filled.visit_id)
    assert (whole.issues, len(whole.judgements)) == ((), 1)


def test_it_is_printed_too(filled):
    assert draft_report(filled.register, WHO, filled.visit_id, ".pdf").startswith(b"%PDF")


def test_another_form_is_refused(filled):
    with pytest.raises(InputError, match=r"\.pdf or \.html"):
        draft_report(filled.register, WHO, filled.visit_id, ".doc")


def test_nobody_reads_that_of_another_site(filled):
    other = Person(id="o", name="o", role="owner", site_ids=("elsewhere",))

    with pytest.raises(NotFound):
        draft_report(filled.register, other, filled.visit_id, ".html")
