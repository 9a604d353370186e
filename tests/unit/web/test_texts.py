"""Languages of the pages."""

import pytest

from fifthwire.web.texts import compiled, language_for, languages, texts_of

CATALOGUE = b"""
msgid ""
msgstr "Content-Type: text/plain; charset=utf-8"

msgid "Search"
msgstr "\xc2\xabSearch\xc2\xbb"
"""


@pytest.mark.parametrize("accepted", ["", "xx", "en", "en-GB,en;q=0.5", "xx;q=high", ";;,,", "*"])
def test_a_language_that_is_not_there_becomes_that_of_the_templates(accepted):
    assert language_for(accepted) == "en"


def test_the_language_of_the_templates_is_always_there():
    assert languages()[0] == "en"
    assert texts_of("en").gettext("Search") == "Search"


def test_a_catalogue_is_used_as_it_is_written():
    assert compiled(CATALOGUE).gettext("Search") == "«Search»"
    assert compiled(CATALOGUE).gettext("Sites") == "Sites"
