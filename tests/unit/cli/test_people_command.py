"""`fifthwire people` and `fifthwire photographs` from the outside."""

import io
import json

import pytest
from PIL import Image
from tests.people_fixtures import OFFICE, PASSWORD

from fifthwire.cli import people as people_command
from fifthwire.cli import photographs as photographs_command
from fifthwire.cli.main import main
from fifthwire.cli.parser_people import ABOUT_KINDS, PEOPLE_VERBS, PHOTOGRAPH_VERBS
from fifthwire.workflow import people, photographs, places
from fifthwire.workflow.register_place import open_place

pytestmark = pytest.mark.usefixtures("fast_hashes")


@pytest.fixture
def where(tmp_path, monkeypatch):
    path = str(tmp_path / "register.sqlite")
    monkeypatch.setenv("FIFTHWIRE_REGISTER", path)
    with open_place(path) as register:
        places.add_site(register, OFFICE, name="Quayside House", time_zone="Europe/London")
    return path


@pytest.fixture
def run(capsys, where):
    def ran(*words):
        code = main([str(word) for word in words])
        return (code, *capsys.readouterr())

    return ran


def join(where, path, sign_in):
    with open_place(where) as register:
        secret = path.strip().removeprefix("/join/")
        return people.join(register, secret, sign_in=sign_in, name=sign_in, password=PASSWORD)


def test_every_verb_says_what_it_takes():
    assert tuple(people_command.THINGS) == PEOPLE_VERBS
    assert tuple(photographs_command.THINGS) == PHOTOGRAPH_VERBS
    assert set(ABOUT_KINDS) == set(photographs.ABOUT_KINDS)


def test_an_invitation_prints_a_path_that_makes_an_account(run, where):
    code, out, err = run("people", "invite", "--role", "technician", "--site", "Quayside House", "--for", "K. B.")
    account = join(where, out, "kb")

    assert code == 0
    assert "It works once, until" in err
    assert (account.role, len(account.site_ids)) == ("technician", 1)
    assert run("people", "list")[1].splitlines()[1].split() == ["kb", "kb", "technician", "1", "site", "open"]


def test_a_register_without_accounts_says_how_to_begin(run):
    assert "Invite an owner" in run("people", "list")[2]


def test_an_account_is_changed_closed_and_opened_again(run, where):
    for role, name in (("owner", "boss"), ("reader", "kb")):
        join(where, run("people", "invite", "--role", role)[1], name)
    assert "kb: lead, 1 site, open." in run("people", "change", "KB", "--role", "lead", "--site", "Quayside House")[2]
    assert "kb: lead, all sites, closed." in run("people", "change", "kb", "--all-sites", "--close")[2]
    assert json.loads(run("people", "change", "kb", "--open", "--json")[1])["is_active"] is True


def test_the_last_owner_is_not_closed(run, where):
    join(where, run("people", "invite", "--role", "owner")[1], "boss")
    code, _, err = run("people", "change", "boss", "--close")

    assert (code, "Nobody would be left" in err) == (4, True)


def test_a_link_for_a_new_password_is_made(run, where):
    account = join(where, run("people", "invite", "--role", "owner")[1], "boss")
    again = join(where, run("people", "link", "boss")[1], "ignored")

    assert again.id == account.id


def test_an_invitation_is_listed_and_withdrawn(run, where):
    path = json.loads(run("people", "invite", "--role", "reader", "--json")[1])["path"]
    listed = json.loads(run("people", "invitations", "--json")[1])["invitations"]
    assert run("people", "withdraw", listed[0]["id"])[0] == 0

    assert json.loads(run("people", "invitations", "--json")[1])["invitations"] == []
    with pytest.raises(LookupError):
        join(where, path, "late")


def test_the_audit_list_is_printed_the_newest_first(run):
    run("people", "invite", "--role", "reader", "--for", "N.")
    lines = run("people", "audit")[1].splitlines()

    assert "invited somebody" in lines[1]
    assert "added a place" in lines[2]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["people", "invite"], "needs a role"),
        (["people", "change"], "takes SIGN-IN-NAME"),
        (["people", "change", "kb", "--close", "--open"], "contradict"),
        (["photographs", "add", "x.jpg"], "Add --about"),
        (["photographs", "add", "no-such.jpg", "--about", "site", "x"], "there is no such file"),
        (["photographs", "get", "x"], "takes SHA256 FILE"),
    ],
)
def test_words_that_cannot_be_used_are_told(run, words, told):
    code, _, err = run(*words)

    assert code == 2
    assert told in err


@pytest.mark.parametrize(
    "words",
    [
        ["people", "change", "nobody"],
        ["people", "link", "nobody"],
        ["people", "withdraw", "x"],
        ["photographs", "list", "--about", "site", "x"],
    ],
)
def test_who_or_what_is_not_there_is_told(run, words):
    assert run(*words)[0] == 4


def test_a_photograph_goes_in_and_comes_out(run, where, tmp_path):
    with open_place(where) as register:
        site = places.find_site(register, OFFICE, "Quayside House")
    picture = io.BytesIO()
    Image.new("RGB", (400, 300), "navy").save(picture, "JPEG")
    (tmp_path / "a.jpg").write_bytes(picture.getvalue())
    sha256 = run("photographs", "add", tmp_path / "a.jpg", "--about", "site", site.id)[1].strip()

    assert "400 × 300" in run("photographs", "list", "--about", "site", site.id)[1]
    assert run("photographs", "get", sha256, tmp_path / "b.jpg", "--thumbnail")[0] == 0
    with Image.open(tmp_path / "b.jpg") as small:
        assert small.size == (320, 240)
    assert run("photographs", "get", sha256, tmp_path / "b.jpg")[0] == 2
    assert run("photographs", "get", "0" * 64, tmp_path / "c.jpg")[0] == 4
    assert not (tmp_path / "c.jpg").exists()
