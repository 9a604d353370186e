"""`fifthwire serve --shared` as a process: people sign in, the connection is encrypted by an authority of its own."""

import os
import re
import ssl
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from tests.people_fixtures import OFFICE, PASSWORD

from fifthwire.cli.main import main
from fifthwire.workflow import people
from fifthwire.workflow.register_place import open_place
from fifthwire.workflow.tls import own_certificate

COMMAND = (sys.executable, "-m", "fifthwire", "serve", "--port", "0", "--no-browser", "--shared")
PASSES_ON = re.compile(r"(https?)://([\w.]+):(\d+)/")


def started(tmp_path: Path, *words: str) -> tuple[subprocess.Popen[str], list[str]]:
    """The process and the lines that it said until it was ready."""
    process = subprocess.Popen(
        [*COMMAND, "--register", str(tmp_path / "a.sqlite"), *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "XDG_DATA_HOME": str(tmp_path / "data"), "PYTHONUNBUFFERED": "1"},
    )
    assert process.stdout is not None
    last = "The certificate is good until" if "--tls" in words or "--certificate" in words else "/join/"
    lines = []
    for line in process.stdout:
        lines.append(line.rstrip())
        if last in line:
            return process, lines
    raise AssertionError((lines, process.stderr.read() if process.stderr else ""))


@pytest.fixture
def encrypted(tmp_path: Path) -> Iterator[tuple[httpx.Client, list[str]]]:
    """A browser that trusts the authority, and what was said at the terminal."""
    process, lines = started(tmp_path, "--tls", "--name", "localhost", "--name", "127.0.0.1", "--name", "office.local")
    port = PASSES_ON.match(lines[0])[3]
    trusted = ssl.create_default_context(cafile=str(tmp_path / "data" / "fifthwire" / "tls" / "authority.pem"))
    address = f"https://localhost:{port}"
    with httpx.Client(base_url=address, verify=trusted, trust_env=False) as browser:
        yield browser, lines
    process.kill()
    process.communicate()


def test_the_first_owner_comes_in_by_the_link_of_the_terminal_over_an_encrypted_connection(encrypted):
    browser, lines = encrypted
    link = next(line for line in lines if "/join/" in line).strip()
    assert link.startswith("https://office.local:")
    path = link[link.index("/join/") :]

    key = re.search(r'name="form_key" value="(\w+)"', browser.get(path).text)[1]
    form = {"sign_in": "boss", "name": "B.", "password": PASSWORD, "again": PASSWORD, "form_key": key}
    joined = browser.post(path, data=form, headers={"origin": str(browser.base_url)})

    assert joined.status_code == 303
    assert "__Host-fifthwire" in browser.cookies
    assert "B." in browser.get("/people").text


def test_a_phone_that_does_not_trust_the_authority_yet_is_stopped_by_its_browser(encrypted):
    browser, _ = encrypted

    with pytest.raises(httpx.ConnectError, match="CERTIFICATE_VERIFY_FAILED"):
        httpx.get(f"{browser.base_url}/trust", trust_env=False)


def test_the_page_about_trust_shows_the_fingerprint_of_the_terminal_and_gives_the_authority(encrypted):
    browser, lines = encrypted
    fingerprint = next(line.strip() for line in lines if re.fullmatch(r" +([0-9A-F]{2}:){31}[0-9A-F]{2}", line))

    assert fingerprint in browser.get("/trust").text
    given = browser.get("/trust/authority.crt")
    assert given.headers["content-type"] == "application/x-x509-ca-cert"
    assert ssl.DER_cert_to_PEM_cert(given.content).startswith("-----BEGIN CERTIFICATE-----")


def test_another_name_than_those_of_the_certificate_is_shown_nothing(encrypted):
    browser, _ = encrypted

    assert browser.get("/sign-in", headers={"host": "elsewhere.example"}).status_code == 421
    assert browser.get("/sign-in", headers={"host": "office.local"}).status_code == 200


def test_certificate_files_of_a_company_are_served(tmp_path):
    own = own_certificate(tmp_path / "company", ("localhost",))
    process, lines = started(tmp_path, "--certificate", own.certificate_path, "--key", own.key_path)
    try:
        address = PASSES_ON.match(lines[0])
        trusted = ssl.create_default_context(cafile=own.authority_path)
        answer = httpx.get(f"https://localhost:{address[3]}/sign-in", verify=trusted, trust_env=False)
        assert answer.status_code == 200
        assert not (tmp_path / "data" / "fifthwire" / "tls").exists()
    finally:
        process.kill()
        process.communicate()


def test_once_somebody_has_an_account_no_link_is_shown_any_more(tmp_path, capsys):
    with open_place(str(tmp_path / "a.sqlite")) as register:
        invited = people.invite(register, OFFICE, role="owner")
        people.join(register, invited.secret, sign_in="boss", name="B.", password=PASSWORD)
    process, lines = started(tmp_path, "--tls", "--name", "localhost")
    process.kill()
    process.communicate()

    assert not [line for line in lines if "/join/" in line]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--shared", "--host", "0.0.0.0"], "Passwords are not sent in the open"),
        (["--tls"], "Only a shared register"),
        (["--name", "x"], "Only a shared register"),
        (["--shared", "--name", "x"], "Add --tls"),
        (["--shared", "--key", "x"], "belong together"),
        (["--shared", "--certificate", "x"], "belong together"),
        (["--shared", "--tls", "--certificate", "x", "--key", "y"], "not both"),
        (["--shared", "--certificate", "no.pem", "--key", "no.pem"], "cannot be used"),
    ],
)
def test_options_that_would_serve_in_the_open_or_contradict_are_refused(tmp_path, capsys, words, told):
    register = tmp_path / "a.sqlite"

    assert main(["serve", "--register", str(register), *words]) == 2
    assert told in capsys.readouterr().err
    assert not register.exists()
