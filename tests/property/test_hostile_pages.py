"""Whatever stands in an address or a form of the pages: it is answered in words, never by a fault, and never run."""

import re
from itertools import islice

import pytest
from tests.route_cases import PAGES, There
from tests.web_client import Client

from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app

HOSTILE = (
    "a\0b", "x" * 3000, "'\";--", "%%s{}{0}", "🙂", "../../etc/passwd", "-1", "99999999999999999999", "1e999", "NaN",
    "<script>alert(1)</script>", "\u202e\n\r\t", "[]", "",
)  # fmt: skip
ASKED = (
    "page", "site", "system", "mark", "text", "urgency", "state", "q", "strike", "judgement", "label", "when", "wires",
    "mode", "what", "list", "thumbnail", "done", "next", "revision",
)  # fmt: skip
"""Words that pages look for in their addresses."""
CHANGES_THE_TEST = ("POST /screen", "POST /demo/close")


@pytest.fixture
def there(register):
    made = There(register)
    made.fill()
    return made


@pytest.fixture
def browser(register):
    return Client(create_app(register, alone=alone("rt")))


def fits(answer, asked):
    assert answer.status_code < 500, (asked, answer.status_code, answer.text[-900:])
    assert "<script>alert(1)" not in answer.text, asked
    assert "Traceback" not in answer.text, asked


def path_of(template, ids):
    return re.sub(r"{(\w+)}", lambda found: ids.get(found[1], "1"), template)


def test_whatever_stands_in_an_address_is_answered_in_words(there, browser):
    ids = {**there.ids, "syntax": "json", "suffix": "html"}
    for turn, route in enumerate(PAGES):
        method, template = route.split(" ")
        if method != "GET":
            continue
        for at, word in enumerate(some_of(turn)):
            for name in re.findall(r"{(\w+)}", template):
                asked = path_of(template, {**ids, name: quoted(word) or "%20"})
                fits(browser.get(asked), asked)
            some = dict.fromkeys(islice(ASKED, at % 2, None, 2), word)
            fits(browser.get(path_of(template, ids), params=some), (template, some))


def test_whatever_stands_in_a_form_is_answered_in_words(there, browser):
    ids = {**there.ids, "syntax": "json", "suffix": "html"}
    for turn, (route, case) in enumerate(PAGES.items()):
        method, template = route.split(" ")
        if method == "GET" or case.data is None or route in CHANGES_THE_TEST:
            continue
        data = {key: str(value) for key, value in case.data(there).items()}
        for at, name in enumerate(data):
            for word in some_of(turn + at):
                fits(browser.post(path_of(template, ids), {**data, name: word}), (route, name, word))


def some_of(turn):
    """Every third word, others at each turn: over all pages each is tried often, and on each page some."""
    return HOSTILE[turn % 3 :: 3]


def quoted(word):
    from urllib.parse import quote

    return quote(word, safe="")
