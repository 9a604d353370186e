"""Sign in and out on the pages, links for new accounts, cookies."""

import re
from datetime import timedelta

import pytest
from tests.people_fixtures import OFFICE, PASSWORD, an_account
from tests.shared_office import Office
from tests.web_client import Client

from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.settings import Settings
from fifthwire.workflow import people
from fifthwire.workflow.sessions import IDLE, make_key

pytestmark = pytest.mark.usefixtures("fast_hashes")


@pytest.fixture
def office(sqlite_register):
    return Office(sqlite_register)


def hidden_key(page):
    return re.search(r'name="form_key" value="([0-9a-f]{64})"', page.text)[1]


def test_a_page_sends_one_who_is_not_signed_in_to_sign_in_and_back(office):
    an_account(office.register)
    browser = office.stranger()
    sent = browser.get("/sites?page=2")
    assert (sent.status_code, sent.headers["location"]) == (303, "/sign-in?next=%2Fsites%3Fpage%3D2")

    form = browser.get(sent.headers["location"])
    data = {"name": "rt-14", "password": PASSWORD, "next": "/sites?page=2", "form_key": hidden_key(form)}
    entered = browser.request("POST", "/sign-in", data=data, headers={"origin": "http://localhost"})

    assert (entered.status_code, entered.headers["location"]) == (303, "/sites?page=2")
    assert browser.get("/sites").status_code == 200


@pytest.mark.parametrize(
    "onward",
    ["https://elsewhere.example/", "//elsewhere.example/", "/\\elsewhere.example", "javascript:alert(1)", "/a\nb"],
)
def test_signing_in_never_leads_to_another_place(office, onward):
    an_account(office.register)
    browser = office.stranger()
    browser.get("/sign-in")
    entered = browser.post("/sign-in", {"name": "rt-14", "password": PASSWORD, "next": onward})

    assert entered.headers["location"] == "/"


def test_a_wrong_password_says_so_and_keeps_the_name_and_nothing_else(office):
    an_account(office.register)
    browser = office.stranger()
    browser.get("/sign-in")
    refused = browser.post("/sign-in", {"name": "rt-14", "password": "not the one it is"})

    assert refused.status_code == 403
    assert "The name or the password is wrong." in refused.text
    assert 'value="rt-14"' in refused.text
    assert "not the one it is" not in refused.text
    assert browser.get("/sites").status_code == 303


def test_too_many_wrong_passwords_are_told_when_to_try_again(office):
    an_account(office.register)
    browser = office.stranger()
    browser.get("/sign-in")
    answers = [browser.post("/sign-in", {"name": "rt-14", "password": f"wrong number {at}"}) for at in range(6)]

    assert [answer.status_code for answer in answers] == [403] * 5 + [429]
    assert 0 < int(answers[-1].headers["retry-after"]) <= 900
    assert "Try again in" in answers[-1].text


@pytest.mark.parametrize("is_secure", [False, True])
def test_the_cookie_is_read_by_no_script_and_sent_along_by_no_other_site(sqlite_register, is_secure):
    office = Office(sqlite_register, Settings(is_shared=True, is_secure=is_secure))
    an_account(office.register)
    browser = Client(office.app, origin="https://localhost" if is_secure else "http://localhost")
    browser.get("/sign-in")
    answer = browser.post("/sign-in", {"name": "rt-14", "password": PASSWORD})
    told = next(one for one in answer.headers.get_list("set-cookie") if "visitor" not in one)

    assert told.startswith("__Host-fifthwire=" if is_secure else "fifthwire=")
    assert {"HttpOnly", "Path=/", "SameSite=lax", "Max-Age=1209600"} <= {part.strip() for part in told.split(";")}
    assert ("Secure" in told) == is_secure
    assert "Domain" not in told


def test_signing_in_gives_a_new_secret_whatever_the_browser_held_before(office):
    an_account(office.register)
    browser = office.stranger()
    planted = {"cookie": f"fifthwire={'x' * 43}; fifthwire-visitor={'y' * 43}"}
    key = hidden_key(browser.get("/sign-in", headers=planted))
    data = {"name": "rt-14", "password": PASSWORD, "form_key": key}
    told = browser.request("POST", "/sign-in", data=data, headers={**planted, "origin": "http://localhost"})

    assert told.status_code == 303
    assert "x" * 43 not in told.headers["set-cookie"]
    assert office.stranger().get("/sites", headers=planted).status_code == 303


def test_one_who_signs_out_is_out(office):
    an_account(office.register)
    browser = office.signed_in("rt-14")
    secret = browser.cookies["fifthwire"]
    assert browser.post("/sign-out").headers["location"] == "/sign-in"
    browser.cookies.set("fifthwire", secret)

    assert browser.get("/sites").status_code == 303


def test_a_browser_that_was_not_used_for_long_signs_in_again(office):
    an_account(office.register)
    browser = office.signed_in("rt-14")
    office.register._clock.now_utc += IDLE + timedelta(minutes=1)

    assert browser.get("/sites").status_code == 303
    refused = browser.post("/sites/new", {"name": "x", "time_zone": "UTC"})
    assert (refused.status_code, "Nothing was changed" in refused.text) == (401, True)


def test_a_link_makes_an_account_and_signs_in_once(office):
    secret = people.invite(office.register, OFFICE, role="technician", for_whom="K. B.").secret
    browser = office.stranger()
    form = browser.get(f"/join/{secret}")
    assert 'value="K. B."' in form.text
    data = {"sign_in": "kb", "name": "K. B.", "password": PASSWORD, "again": PASSWORD, "form_key": hidden_key(form)}
    joined = browser.request("POST", f"/join/{secret}", data=data, headers={"origin": "http://localhost"})

    assert joined.status_code == 303
    assert browser.get("/sites").status_code == 200
    assert office.stranger().get(f"/join/{secret}").status_code == 404


def test_a_link_that_is_used_up_or_mistyped_says_what_to_do(office):
    answer = office.stranger().get("/join/" + "a" * 43)

    assert answer.status_code == 404
    assert "Ask whoever sent it for a new one." in answer.text


@pytest.mark.parametrize(
    ("data", "told"),
    [
        ({"again": "something else entirely"}, "The two passwords are not the same."),
        ({"password": "short", "again": "short"}, "fewer than 12"),
        ({"sign_in": "?"}, "cannot be a sign-in name"),
    ],
)
def test_what_is_wrong_with_a_new_account_is_said_beside_the_form_and_no_password_comes_back(office, data, told):
    secret = people.invite(office.register, OFFICE, role="technician").secret
    browser = office.stranger()
    browser.get(f"/join/{secret}")
    given = {"sign_in": "kb", "name": "K. B.", "password": PASSWORD, "again": PASSWORD, **data}
    refused = browser.post(f"/join/{secret}", given)

    assert refused.status_code in (403, 422)
    assert told in refused.text
    assert PASSWORD not in refused.text
    assert not people.has_accounts(office.register)


def test_a_register_without_accounts_tells_where_the_first_comes_from(office):
    assert "Nobody has an account yet." in office.stranger().get("/sign-in").text


def test_alone_nobody_signs_in(sqlite_register):
    browser = Client(create_app(sqlite_register, alone=alone("rt")))

    assert browser.get("/sites").status_code == 200
    assert browser.get("/sign-in").headers["location"] == "/"
    assert "You work alone" in browser.get("/me").text
    assert browser.get("/people").status_code == 200
    assert browser.get("/audit").status_code == 200


def test_an_owner_invites_on_the_page_and_sees_the_link_once(office):
    owner = office.browser("owner")
    page = owner.post(
        "/people/invite", {"role": "reader", "which": "some", "site_ids": office.site.id, "for_whom": "N"}
    )
    secret = re.search(r'href="http://localhost/join/([^"]+)"', page.text)[1]
    invitation = people.invitation_of(office.register, secret)

    assert (invitation.role, invitation.site_ids) == ("reader", (office.site.id,))
    assert secret not in owner.get("/people").text
    owner.post(f"/people/invitations/{invitation.id}/withdraw")
    assert office.stranger().get(f"/join/{secret}").status_code == 404


def test_sites_that_are_ticked_beside_all_sites_are_asked_about_and_nobody_is_invited(office):
    owner = office.browser("owner")

    page = owner.post("/people/invite", {"role": "lead", "which": "all", "site_ids": office.site.id})

    assert page.status_code == 422
    assert "All sites were chosen, and some of them ticked. Nothing was kept." in page.text
    assert people.open_invitations(office.register, OFFICE) == ()


def test_an_owner_changes_a_role_and_closes_an_account_on_the_page(office):
    owner, reader = office.browser("owner"), office.browser("reader")
    account = next(one for one in people.accounts(office.register, OFFICE) if one.sign_in == "reader")
    assert "Reader" in owner.get(f"/people/{account.id}").text
    owner.post(f"/people/{account.id}", {"version": "1", "role": "technician", "which": "all"})

    changed = people.account(office.register, OFFICE, account.id)
    assert (changed.role, changed.is_active) == ("technician", False)
    assert reader.get("/sites").status_code == 303


def test_a_password_is_changed_on_the_page(office):
    browser = office.browser("reader")
    fresh = "six brass gulls asleep"
    wrong = browser.post("/me/password", {"old": "not the old one", "password": fresh, "again": fresh})
    assert wrong.status_code == 403
    done = browser.post("/me/password", {"old": PASSWORD, "password": fresh, "again": fresh})

    assert done.status_code == 303
    assert browser.get("/me").status_code == 200
    assert office.signed_in("reader", fresh).get("/me").status_code == 200


def test_a_key_is_shown_once_and_opens_the_interface_and_no_page(office):
    browser = office.browser("reader")
    page = browser.post("/me/keys", {"label": "the spreadsheet", "days": "9"})
    key = re.search(r'<code class="secret">([^<]{40,})</code>', page.text)[1]
    program = Client(office.app, headers={"authorization": f"Bearer {key}"})

    assert program.get("/api/openapi.json").status_code == 200
    assert program.get("/sites").status_code == 303
    assert key not in browser.get("/me").text
    assert "the spreadsheet" in browser.get("/me").text


@pytest.mark.parametrize("word", ["Bearer", "Bearer ", "Bearer x", "Basic " + "a" * 43, "Bearer " + "a" * 43])
def test_a_program_without_a_key_is_told_to_send_one(office, word):
    answer = Client(office.app, headers={"authorization": word}).get("/api/openapi.json")

    assert answer.status_code == 401
    assert answer.headers["www-authenticate"] == "Bearer"
    assert set(answer.json()) == {"message", "hint", "problems"}


def test_a_browsers_secret_is_no_key(office):
    browser = office.browser("reader")
    program = Client(office.app, headers={"authorization": f"Bearer {browser.cookies['fifthwire']}"})

    assert program.get("/api/openapi.json").status_code == 401


def test_a_key_is_no_browsers_secret(office):
    account = an_account(office.register)
    browser = office.stranger()
    browser.cookies.set("fifthwire", make_key(office.register, account.person, "x").secret)

    assert browser.get("/sites").status_code == 303
