"""What the guard refuses before any page is asked, and what every answer tells the browser."""

import re
from pathlib import Path

import pytest
from tests.people_fixtures import an_account
from tests.shared_office import Office
from tests.web_client import Client

import fifthwire.web
from fifthwire.model.errors import RegisterError
from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.guard.entrance import MOST_BODY, MOST_BODY_OF_STRANGERS
from fifthwire.web.guard.origins import address_of, is_served
from fifthwire.web.settings import Settings

pytestmark = pytest.mark.usefixtures("fast_hashes")
TEMPLATES = sorted((Path(fifthwire.web.__file__).parent / "templates").rglob("*.html"))
SITE = {"name": "Quayside House", "time_zone": "Europe/London"}


@pytest.fixture
def lone(sqlite_register):
    return Client(create_app(sqlite_register, alone=alone("rt")))


@pytest.fixture
def office(sqlite_register):
    return Office(sqlite_register)


def sites_of(register):
    from fifthwire.workflow.places import list_sites

    return [row.site.name for row in list_sites(register, alone("x")).rows]


def test_every_answer_forbids_scripts_in_pages_frames_and_other_places(lone):
    def fail():
        raise ZeroDivisionError

    lone.app.add_api_route("/fails", fail)
    for path in ("/", "/nowhere", "/fails", "/static/office.js", "/api/openapi.json", "/sign-in"):
        headers = lone.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy, path
        assert "unsafe" not in policy, path
        assert "frame-ancestors 'none'" in policy, path
        assert headers["x-content-type-options"] == "nosniff", path
        assert headers["referrer-policy"] == "same-origin", path
        assert headers["x-frame-options"] == "DENY", path


def test_pages_of_a_shared_register_are_kept_by_no_browser_and_static_files_are(office):
    browser = office.browser("reader")

    assert browser.get("/sites").headers["cache-control"] == "no-store"
    assert "immutable" in browser.get("/static/office.css").headers["cache-control"]


def test_over_tls_browsers_are_told_to_stay_there(sqlite_register):
    secure = Office(sqlite_register, Settings(is_shared=True, is_secure=True)).app

    assert "max-age" in Client(secure, origin="https://localhost").get("/sign-in").headers["strict-transport-security"]


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_page_needs_what_the_policy_forbids(path):
    text = re.sub(r"{[%{#].*?[%}#]}", "", path.read_text("utf-8"), flags=re.DOTALL)

    assert not re.search(r"<script(?![^>]*\bsrc=)", text), "a script inside the page"
    assert not re.search(r"\son[a-z]+\s*=", text), "a script in an attribute"
    assert not re.search(r"<style|\sstyle\s*=", text), "a style inside the page"
    assert "javascript:" not in text
    assert not re.search(r"https?://", re.sub(r"http://www\.w3\.org/\S+", "", text)), "something from elsewhere"


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_every_form_that_changes_something_holds_its_key(path):
    for form in re.findall(r"<form\b.*?</form>", path.read_text("utf-8"), re.DOTALL):
        if re.search(r'method="post"', form, re.IGNORECASE):
            assert "form_key()" in form


def test_a_form_without_its_key_changes_nothing(lone, sqlite_register):
    for key in (None, "", "0" * 64, "é"):
        data = SITE if key is None else {**SITE, "form_key": key}
        answer = lone.request("POST", "/sites/new", data=data, headers={"origin": "http://localhost"})
        assert answer.status_code == 403
        assert "Nothing was changed" in answer.text
    assert sites_of(sqlite_register) == []


def test_a_form_with_the_key_that_its_page_holds_is_taken(lone, sqlite_register):
    key = re.search(r'name="form_key" value="(\w+)"', lone.get("/sites/new").text)[1]
    answer = lone.request("POST", "/sites/new", data={**SITE, "form_key": key}, headers={"origin": "http://localhost"})

    assert answer.status_code == 303
    assert sites_of(sqlite_register) == ["Quayside House"]


def test_a_key_of_another_browser_is_none(office):
    mine, theirs = office.browser("lead"), office.browser("owner")
    answer = mine.post("/sites/new", SITE, headers={"x-form-key": theirs.form_key()})

    assert answer.status_code == 403
    assert sorted(sites_of(office.register)) == ["Mill Lane", "Quayside House"]


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "https://elsewhere.example"},
        {"origin": "null"},
        {"origin": ""},
        {"origin": "http://localhost:9999"},
        {"origin": "http://localhost.elsewhere.example"},
        {"origin": "http://[broken"},
    ],
)
@pytest.mark.parametrize("path", ["/sites/new", "/api/sites", "/sign-out", "/nowhere"])
def test_another_sites_page_changes_nothing_even_with_the_key(lone, sqlite_register, headers, path):
    answer = lone.post(path, SITE, headers=headers)

    assert answer.status_code == 403
    assert sites_of(sqlite_register) == []


@pytest.mark.parametrize(("site", "status"), [("cross-site", 403), ("same-site", 403), ("same-origin", 303)])
def test_what_the_browser_says_of_the_asking_site_counts_where_there_is_no_origin(lone, site, status):
    headers = {"sec-fetch-site": site, "x-form-key": lone.form_key()}

    assert lone.request("POST", "/sites/new", data=SITE, headers=headers).status_code == status


@pytest.mark.parametrize(
    "host", ["elsewhere.example", "localhost.elsewhere.example", "192.168.1.5", "", "[::1", "localhost@x"]
)
def test_a_name_that_is_not_ours_is_shown_nothing(lone, host):
    answer = lone.get("/sites", headers={"host": host})

    assert answer.status_code == 421
    assert "Nothing was shown" in answer.text


@pytest.mark.parametrize("host", ["localhost", "LOCALHOST:8470", "127.0.0.1:8470", "[::1]:8470", "localhost."])
def test_the_names_of_this_machine_are_ours(host):
    assert is_served(host, Settings())


def test_a_shared_register_answers_to_its_own_names_alone_where_they_are_known():
    served = Settings(is_shared=True, hosts=("office.local", "192.168.7.20"))

    assert is_served("office.local:8470", served)
    assert is_served("192.168.7.20", served)
    assert not is_served("elsewhere.example", served)
    assert is_served("any.name", Settings(is_shared=True))


def test_what_is_too_large_is_refused_before_it_is_read(lone):
    answer = lone.post(
        "/sites/new", headers={"content-length": "1000000000", "content-type": "text/plain"}, content=b""
    )

    assert answer.status_code == 413
    assert "Nothing of it was kept" in answer.text


def test_a_file_of_a_gigabyte_is_refused_by_name_without_being_held(lone):
    read = []

    async def sent():
        yield b'--b\r\ncontent-disposition: form-data; name="f"; filename="valves\x1b.csv"\r\n\r\n'
        for at in range(1000):
            read.append(at)
            yield b"x" * 1_000_000

    headers = {"content-type": "multipart/form-data; boundary=b", "content-length": "1000000070"}
    answer = lone.request("POST", "/import/valves", content=sent(), headers={"origin": lone.origin, **headers})

    assert answer.status_code == 413
    assert "valves?.csv has 1000 MB. What was sent is too large. Nothing of it was kept." in answer.text
    assert len(read) == 1000  # a browser shows the answer only when it has sent everything


def test_what_a_stranger_sends_too_much_of_is_not_even_read(office):
    read = []

    async def sent():
        for at in range(1000):
            read.append(at)
            yield b"x" * 1_000_000

    stranger = office.stranger()
    headers = {"origin": stranger.origin, "content-length": "1000000000"}
    answer = stranger.request("POST", "/sign-in", content=sent(), headers=headers)

    assert answer.status_code == 413
    assert len(read) <= 1


def test_what_does_not_say_its_size_is_refused_while_it_is_read(lone):
    read = []

    async def sent():
        yield b'--b\r\ncontent-disposition: form-data; name="f"; filename="f"\r\n\r\n'
        for at in range(1000):
            read.append(at)
            yield b"x" * 1_000_000

    headers = {"origin": "http://localhost", "content-type": "multipart/form-data; boundary=b"}
    answer = lone.request("POST", "/sites/new", content=sent(), headers=headers)

    assert answer.status_code == 413
    assert len(read) <= MOST_BODY // 1_000_000 + 1


def test_one_who_is_not_signed_in_sends_a_form_and_no_more(office):
    answer = office.stranger().post("/sign-in", {"name": "x" * (MOST_BODY_OF_STRANGERS + 1), "password": "x"})

    assert answer.status_code == 413


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE"])
def test_a_signed_in_browser_shows_the_key_to_the_interface_too(office, method):
    browser = office.browser("lead")
    without = browser.request(method, "/api/nowhere", headers={"origin": "http://localhost"})
    with_it = browser.request(
        method, "/api/nowhere", headers={"origin": "http://localhost", "x-form-key": browser.form_key()}
    )

    assert (without.status_code, with_it.status_code) == (403, 404)


def test_a_part_of_a_page_that_is_asked_after_signing_out_opens_the_sign_in_page(office):
    answer = office.stranger().get("/sites", headers={"hx-request": "true"})

    assert (answer.status_code, answer.headers["hx-redirect"]) == (401, "/sign-in?next=%2Fsites")


def test_a_register_that_cannot_be_reached_is_told_in_words(office, tmp_path):
    browser = office.browser("reader")

    class Unreachable:
        def reading(self):
            raise RegisterError("The register cannot be reached.", "Check the server.")

    office.app.state.registers._own = Unreachable()
    answer = browser.get("/sites")

    assert answer.status_code == 503
    assert "Check the server." in answer.text


class Asked:
    def __init__(self, host):
        self.client = type("Client", (), {"host": host})() if host else None


@pytest.mark.parametrize(
    ("host", "counted"),
    [
        ("192.0.2.7", "192.0.2.7"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("::ffff:192.0.2.7", "192.0.2.7"),
        ("fe80::1%eth0", "fe80::/64"),
        ("testclient", "testclient"),
        (None, "unknown"),
    ],
)
def test_wrong_passwords_are_counted_by_address_and_of_ipv6_by_network(host, counted):
    assert address_of(Asked(host)) == counted


def test_a_proxys_word_for_who_is_behind_it_is_not_taken(office):
    an_account(office.register)
    browser = office.stranger()
    browser.get("/sign-in")
    tries = [
        browser.post(
            "/sign-in", {"name": "rt-14", "password": "wrong again here"}, headers={"x-forwarded-for": f"192.0.2.{at}"}
        )
        for at in range(6)
    ]

    assert tries[-1].status_code == 429


def test_no_socket_is_opened_past_the_entrance(lone):
    import asyncio

    sent = []

    async def ask():
        async def receive():
            return {"type": "websocket.connect"}

        async def send(message):
            sent.append(message)

        scope = {"type": "websocket", "path": "/", "headers": [], "query_string": b"", "subprotocols": []}
        await lone.app(scope, receive, send)

    asyncio.run(ask())
    assert sent in ([], [{"type": "websocket.close", "code": 1000, "reason": ""}])
