"""Invitations, accounts, roles, and the audit list."""

import re
from datetime import timedelta
from pathlib import Path

import pytest
from tests.people_fixtures import OFFICE, PASSWORD, an_account

import fifthwire
from fifthwire.model.errors import Conflict, InputError, NotAllowed, NotFound
from fifthwire.model.kept.people import AUDITED, ROLES, Person
from fifthwire.register.audit import write_down
from fifthwire.workflow import people
from fifthwire.workflow.sessions import known_by, make_key, sign_in

pytestmark = pytest.mark.usefixtures("fast_hashes")


def enter(register, password=PASSWORD):
    return sign_in(register, "rt-14", password, address="192.0.2.7")


@pytest.mark.parametrize("role", ROLES)
def test_an_invitation_makes_an_account_of_its_role_and_sites(register, role):
    account = an_account(register, role=role, site_ids=("S1",))

    assert (account.sign_in, account.name, account.role, account.site_ids) == ("rt-14", "R. T.", role, ("S1",))
    assert people.accounts(register, OFFICE) == (account,)


def test_an_invitation_makes_one_account(register):
    invited = people.invite(register, OFFICE, role="reader")
    people.join(register, invited.secret, sign_in="one", name="One", password=PASSWORD)

    with pytest.raises(NotFound, match="used, withdrawn, out of date or mistyped"):
        people.join(register, invited.secret, sign_in="two", name="Two", password=PASSWORD)
    with pytest.raises(NotFound):
        people.invitation_of(register, invited.secret)


def test_an_invitation_ends(register):
    invited = people.invite(register, OFFICE, role="reader", hours=1)
    register._clock.now_utc += timedelta(hours=1)

    with pytest.raises(NotFound):
        people.join(register, invited.secret, sign_in="one", name="One", password=PASSWORD)


def test_an_invitation_that_was_withdrawn_makes_no_account(register):
    invited = people.invite(register, OFFICE, role="reader", for_whom="the new one")
    people.withdraw_invitation(register, OFFICE, invited.invitation.id)

    with pytest.raises(NotFound):
        people.invitation_of(register, invited.secret)
    assert [one.is_withdrawn for one in people.invitations(register, OFFICE)] == [True]


def test_a_taken_name_is_refused_and_the_invitation_is_still_good(register):
    an_account(register)
    invited = people.invite(register, OFFICE, role="reader")

    with pytest.raises(Conflict, match="rt-14 is taken"):
        people.join(register, invited.secret, sign_in="RT-14", name="Another", password=PASSWORD)
    assert people.join(register, invited.secret, sign_in="rt-15", name="Another", password=PASSWORD).role == "reader"


@pytest.mark.parametrize("name", ["", "x", "has space", "naïve", "a" * 61, "semi;colon", "<b>"])
def test_an_odd_sign_in_name_is_refused(sqlite_register, name):
    invited = people.invite(sqlite_register, OFFICE, role="reader")

    with pytest.raises(InputError, match="cannot be a sign-in name"):
        people.join(sqlite_register, invited.secret, sign_in=name, name="X", password=PASSWORD)


@pytest.mark.parametrize("role", [role for role in ROLES if role != "owner"])
def test_only_an_owner_looks_after_people(sqlite_register, role):
    account = an_account(sqlite_register, role=role)
    who = account.person
    tries = (
        lambda: people.invite(sqlite_register, who, role="owner"),
        lambda: people.invitations(sqlite_register, who),
        lambda: people.accounts(sqlite_register, who),
        lambda: people.account(sqlite_register, who, "another"),
        lambda: people.withdraw_invitation(sqlite_register, who, "x"),
        lambda: people.new_password_link(sqlite_register, who, account.id),
        lambda: people.audit_list(sqlite_register, who),
        lambda: people.change_account(
            sqlite_register, who, account.id, version=1, role="owner", site_ids=None, is_active=True
        ),
    )
    for attempt in tries:
        with pytest.raises(NotAllowed, match="may not look after people"):
            attempt()
    assert people.account(sqlite_register, who, who.id) == account


def test_an_owner_of_some_sites_does_not_look_after_people(sqlite_register):
    some = Person(id="o", name="O", role="owner", site_ids=("S1",))

    with pytest.raises(NotAllowed, match="every site"):
        people.invite(sqlite_register, some, role="owner")


def test_the_last_owner_of_all_sites_cannot_be_taken_away(register):
    boss = an_account(register, "boss", "owner")
    an_account(register, "other", "owner", ("S1",))
    for role, site_ids, is_active in (("lead", None, True), ("owner", ("S1",), True), ("owner", None, False)):
        with pytest.raises(NotAllowed, match="Nobody would be left"):
            people.change_account(
                register, OFFICE, boss.id, version=1, role=role, site_ids=site_ids, is_active=is_active
            )
    assert people.account(register, OFFICE, boss.id) == boss


def test_the_second_of_two_who_change_one_account_is_shown_both(register):
    account = an_account(register)
    an_account(register, "boss", "owner")
    first = people.change_account(register, OFFICE, account.id, version=1, role="lead", site_ids=None, is_active=True)
    with pytest.raises(Conflict) as stopped:
        people.change_account(register, OFFICE, account.id, version=1, role="reader", site_ids=None, is_active=True)

    assert stopped.value.theirs == first
    assert stopped.value.yours["role"] == "reader"
    assert people.account(register, OFFICE, account.id) == first


def test_a_person_changes_their_own_name_and_units_and_not_their_role(register):
    account = an_account(register)
    changed = people.change_self(register, account.person, version=1, name="  Robin   T. ", units="us")

    assert (changed.name, changed.units, changed.role, changed.version) == ("Robin T.", "us", "technician", 2)


def test_nobody_signs_with_the_name_of_another(register):
    an_account(register, "kb", name="K. B.")
    account = an_account(register)
    invited = people.invite(register, OFFICE, role="reader")

    with pytest.raises(Conflict, match=r"Somebody else signs as k\. b\."):
        people.change_self(register, account.person, version=1, name="k.  b.", units="si")
    with pytest.raises(Conflict, match=r"Somebody else signs as K\. B\."):
        people.join(register, invited.secret, sign_in="new", name="K. B.", password=PASSWORD)
    assert people.change_self(register, account.person, version=1, name="R. T.", units="us").units == "us"


@pytest.mark.parametrize("role", ["boss", "", None, "OFFICE"])
def test_a_role_that_does_not_exist_is_refused(sqlite_register, role):
    with pytest.raises(InputError, match="There is no role"):
        people.invite(sqlite_register, OFFICE, role=role)


def test_a_changed_password_ends_other_browsers_and_keys(register):
    an_account(register)
    here, there = enter(register), enter(register)
    key = make_key(register, here.person, "spreadsheet")
    people.change_password(register, here.person, PASSWORD, "six brass gulls asleep", keep_sign_in=here.signed_in.id)

    assert known_by(register, here.secret) is not None
    assert known_by(register, there.secret) is None
    assert known_by(register, key.secret, kind="program") is None
    with pytest.raises(NotAllowed):
        enter(register)
    assert enter(register, "six brass gulls asleep").person.name == "R. T."


def test_a_password_is_not_changed_without_the_old_one(register):
    account = an_account(register)

    with pytest.raises(NotAllowed, match="old password is wrong"):
        people.change_password(register, account.person, "something else here", "six brass gulls asleep")
    assert enter(register).person.name == "R. T."


def test_a_lost_password_is_set_anew_by_a_link_and_only_by_the_newest(register):
    account = an_account(register)
    browser = enter(register)
    older, newer = (people.new_password_link(register, OFFICE, account.id) for _ in range(2))

    with pytest.raises(NotFound):
        people.join(register, older.secret, sign_in="", name="", password="six brass gulls asleep")
    people.join(register, newer.secret, sign_in="ignored", name="ignored", password="six brass gulls asleep")
    assert enter(register, "six brass gulls asleep").person == account.person
    assert known_by(register, browser.secret) is None


@pytest.mark.parametrize(
    ("password", "why"),
    [
        ("short", "fewer than 12"),
        ("x" * 201, "longer than 200"),
        ("aaaaaaaaaaaaaaaa", "same few characters"),
        ("123456789012", "again and again"),
        ("poiuytrewqpoiuyt", "again and again"),
        ("passwordpassword", "again and again"),
        ("robin-tobin1robin-tobin1", "again and again"),
    ],
)
def test_a_password_that_anybody_would_try_is_refused(sqlite_register, password, why):
    invited = people.invite(sqlite_register, OFFICE, role="reader")

    with pytest.raises(InputError, match=why):
        people.join(sqlite_register, invited.secret, sign_in="robin-tobin1", name="R", password=password)


def test_the_audit_list_tells_who_did_what_the_newest_first(register):
    account = an_account(register)
    enter(register)
    rows = people.audit_list(register, OFFICE).rows

    assert [(row.by, row.what, row.about) for row in rows] == [
        ("R. T.", "signed-in", "rt-14"),
        ("R. T.", "joined", "rt-14"),
        ("office", "invited", "technician"),
    ]
    assert rows[0].by_id == account.id


def test_the_audit_list_knows_its_words_and_takes_no_others(sqlite_register):
    assert all(AUDITED.values())
    with pytest.raises(KeyError, match="did-something"), sqlite_register.adding() as keep:
        write_down(keep, OFFICE, "did-something", "x")
    assert people.audit_list(sqlite_register, OFFICE).rows == ()


def test_the_audit_list_comes_in_pages(sqlite_register):
    with sqlite_register.adding() as keep:
        for at in range(60):
            write_down(keep, OFFICE, "exported", f"copy {at}")
    second = people.audit_list(sqlite_register, OFFICE, page=2)

    assert (second.n_rows, second.n_pages, len(second.rows)) == (60, 2, 10)


def test_a_register_without_accounts_says_so(sqlite_register):
    assert not people.has_accounts(sqlite_register)
    an_account(sqlite_register)
    assert people.has_accounts(sqlite_register)


def test_everything_the_audit_list_knows_has_a_step_that_writes_it():
    sources = "".join(
        path.read_text("utf-8")
        for room in ("workflow", "register")
        for path in sorted((Path(fifthwire.__file__).parent / room).rglob("*.py"))
    )
    written = set(re.findall(r'write_down\(\s*keep,\s*[\w.]+,\s*"([a-z-]+)"', sources))

    assert written == AUDITED.keys()
