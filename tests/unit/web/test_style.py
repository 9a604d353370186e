"""The one style sheet, and what pages load."""

import re

from tests.web_client import Client

from fifthwire.assessment.colours import SCHEMES, TOKENS
from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.static_files import static_url
from fifthwire.web.style import style_sheet


def test_no_colour_stands_outside_the_tokens():
    known = {colour for scheme in SCHEMES.values() for colour in scheme.values()}

    assert {colour.lower() for colour in re.findall(r"#[0-9a-fA-F]{3,8}\b", style_sheet())} <= known


def test_every_variable_of_the_style_sheet_is_a_token():
    used = set(re.findall(r"var\(--([a-z]+)", style_sheet()))

    assert used <= {*TOKENS, "size", "sans", "mono"}


def test_a_file_changes_its_address_with_its_content_and_is_kept_by_the_browser():
    client = Client(create_app(None, alone=alone("rt")))

    answer = client.get(static_url("office.css"))

    assert answer.status_code == 200
    assert answer.headers["cache-control"].endswith("immutable")
    assert re.fullmatch(r"/static/office\.css\?v=[0-9a-f]{12}", static_url("office.css"))


def test_only_what_is_meant_to_be_loaded_can_be_loaded():
    client = Client(create_app(None, alone=alone("rt")))

    for path in ("../app.py", "..%2fapp.py", "vendor/../../app.py", "forms.css", "", "vendor"):
        assert client.get(f"/static/{path}").status_code == 404, path


def test_the_scripts_of_others_come_with_their_licence():
    client = Client(create_app(None, alone=alone("rt")))

    for name in ("htmx.LICENSE.txt", "uPlot.LICENSE.txt"):
        assert client.get(f"/static/vendor/{name}").status_code == 200
