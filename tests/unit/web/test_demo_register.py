"""The demo register is one click away, and nothing of it mixes with one's own."""

import re
import time

import pytest
from tests.office_pages import text_of
from tests.web_client import Client

from fifthwire.model.errors import RegisterError
from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.settings import Settings
from fifthwire.workflow import places
from fifthwire.workflow.register_place import open_place

WHO = alone("rt")


@pytest.fixture
def client(sqlite_register, tmp_path):
    places.add_site(sqlite_register, WHO, name="My own site", time_zone="Europe/London")

    def make(progress):
        made = open_place(str(tmp_path / "demo.sqlite"))
        places.add_site(made, WHO, name="Invented site", time_zone="Europe/London")
        progress(1, 1)
        return made

    app = create_app(sqlite_register, alone=WHO, make_demo=make)
    yield Client(app)
    app.state.registers.close_demo()


def post(client, path):
    hidden = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', client.get("/more").text)
    return client.post(path, dict(hidden))


def ended(client, answer):
    """The answer once the work has ended."""
    for _ in range(100):
        answer = client.get(answer.headers["location"])
        if answer.status_code != 200 or "/progress/" not in str(answer.url):
            return answer
        answer.headers["location"] = str(answer.url)
        time.sleep(0.05)
    raise AssertionError("the work did not end")


def test_it_is_made_shown_and_left_again(client):
    ended(client, post(client, "/demo/open"))

    shown = text_of(client.get("/sites").text)
    assert "Invented site" in shown
    assert "My own site" not in shown
    assert "nothing here is a real building" in shown
    post(client, "/demo/close")
    shown = text_of(client.get("/sites").text)
    assert "My own site" in shown
    assert "Invented site" not in shown


def test_the_second_time_it_opens_at_once(client):
    ended(client, post(client, "/demo/open"))
    post(client, "/demo/close")

    assert post(client, "/demo/open").headers["location"] == "/?done=demo-open"
    assert "Invented site" in client.get("/sites").text


def test_one_that_cannot_be_made_says_why_and_ones_own_goes_on(sqlite_register):
    def fail(progress):
        raise RegisterError("The disk is full. Nothing of it was kept.", "Make room, then try again.")

    client = Client(create_app(sqlite_register, alone=WHO, make_demo=fail))

    answer = ended(client, post(client, "/demo/open"))

    assert answer.status_code == 503
    assert "Make room, then try again." in text_of(answer.text)
    assert client.get("/sites").status_code == 200


def test_where_it_is_not_offered_it_is_not_there(sqlite_register):
    client = Client(create_app(sqlite_register, alone=WHO))

    assert "demo register" not in client.get("/").text
    assert post(client, "/demo/open").status_code == 404


def test_a_register_that_is_itself_the_demo_says_so_on_every_page(sqlite_register):
    client = Client(create_app(sqlite_register, alone=WHO, settings=Settings(is_demo=True)))

    assert "Demo register." in client.get("/more").text
    assert "Back to your own register" not in client.get("/more").text
