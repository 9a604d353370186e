"""Files that a browser sends: refused by name on the page, whatever they are called."""

import io
import zipfile

import pytest
from PIL import Image
from tests.web_client import Client

from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.workflow import places
from fifthwire.workflow.photographs import photographs_about

OFFICE = alone("office")
PROGRAM = b"MZ\x90\x00" + bytes(200)


@pytest.fixture
def browser(sqlite_register):
    return Client(create_app(sqlite_register, alone=OFFICE))


@pytest.fixture
def site(sqlite_register):
    return places.add_site(sqlite_register, OFFICE, name="Quayside House", time_zone="Europe/London")


def a_bomb():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", bytes(150_000_000))
    return out.getvalue()


def a_picture(size=(400, 300)):
    out = io.BytesIO()
    Image.new("RGB", size, "navy").save(out, "PNG")
    return out.getvalue()


REFUSED = [
    ("valves.jpg", PROGRAM, "valves.jpg is a program"),
    ("valves.csv", b"\x7fELF" + bytes(99), "valves.csv is a program"),
    ("valves.xlsx", a_bomb(), "valves.xlsx would unpack to 150 MB"),
    ("valves.jpg", b"<svg xmlns='x'><script>alert(1)</script></svg>", "valves.jpg is an SVG drawing"),
    ("valves.toml", b"#!/bin/sh\nrm -rf x\n", "valves.toml is a script"),
    ("../../valves.csv", b"a,b\n", "leads to another directory"),
    ("..\\valves.csv", b"a,b\n", "leads to another directory"),
]


@pytest.mark.parametrize(("name", "content", "told"), REFUSED, ids=[told for _, _, told in REFUSED])
@pytest.mark.parametrize("path", ["/import/visit", "/import/valves", "/photographs"])
def test_what_is_none_of_ours_is_refused_by_name_at_every_door(
    browser, site, sqlite_register, path, name, content, told
):
    field = "photograph" if path == "/photographs" else "file"
    data = {"about_kind": "site", "about_id": site.id, "site": site.id}
    answer = browser.post(path, data, files={field: (name, content, "image/jpeg")})

    assert answer.status_code == 422
    if path == "/photographs" and name.endswith("xlsx"):
        told = "valves.xlsx is a packed file"
    assert told in answer.text
    assert photographs_about(sqlite_register, OFFICE, "site", site.id) == ()


def test_a_picture_of_too_many_pixels_is_refused_by_name(browser, site):
    Image.MAX_IMAGE_PIXELS, before = None, Image.MAX_IMAGE_PIXELS
    try:
        bomb = a_picture((12_000, 9_000))
    finally:
        Image.MAX_IMAGE_PIXELS = before
    answer = browser.post(
        "/photographs",
        {"about_kind": "site", "about_id": site.id},
        files={"photograph": ("bomb.png", bomb, "image/png")},
    )

    assert len(bomb) < 1_000_000
    assert answer.status_code == 422
    assert "bomb.png has" in answer.text


@pytest.mark.parametrize("path", ["/import/visit", "/import/valves", "/photographs"])
def test_an_empty_file_is_refused(browser, site, path):
    field = "photograph" if path == "/photographs" else "file"
    answer = browser.post(path, {"about_kind": "site", "about_id": site.id}, files={field: ("empty.jpg", b"", "x/y")})

    assert answer.status_code == 422
    assert "empty" in answer.text.lower()


def test_a_photograph_is_shown_as_what_it_is_and_nothing_else(browser, site, sqlite_register):
    data = {"about_kind": "site", "about_id": site.id, "back": f"/sites/{site.id}"}
    kept = browser.post("/photographs", data, files={"photograph": ("x.jpg", a_picture(), "text/html")})
    photograph = photographs_about(sqlite_register, OFFICE, "site", site.id)[0]
    shown = browser.get(f"/photographs/{photograph.sha256}")

    assert kept.headers["location"].startswith(f"/sites/{site.id}")
    assert shown.headers["content-type"] == "image/png"
    assert shown.headers["x-content-type-options"] == "nosniff"
    assert Image.open(io.BytesIO(shown.content)).size == (400, 300)
