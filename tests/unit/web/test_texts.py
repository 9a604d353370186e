"""Languages of the pages."""

import re
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from fifthwire.web.texts import compiled, language_for, languages, texts_of

TOOL = Path(__file__).parents[3] / "tools" / "texts.py"
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


def test_every_text_of_the_pages_is_in_the_catalogue():
    ran = subprocess.run([sys.executable, str(TOOL), "--check"], capture_output=True, text=True, check=False)

    assert (ran.returncode, ran.stderr) == (0, "")


def test_the_texts_of_the_catalogue_fill_in_what_they_name():
    catalogue = read_po(BytesIO((TOOL.parent.parent / "src/fifthwire/web/locale/fifthwire.pot").read_bytes()))
    values = dict.fromkeys(re.findall(r"%\((\w+)\)s", " ".join(str(one.id) for one in catalogue)), "x")

    assert len(catalogue) > 200
    for message in catalogue:
        for text in message.id if isinstance(message.id, tuple) else (message.id,):
            assert text % values is not None
