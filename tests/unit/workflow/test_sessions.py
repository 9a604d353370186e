"""Sign in, be known, sign out; wrong passwords are slowed down."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from sqlalchemy import text
from tests.people_fixtures import OFFICE, PASSWORD, an_account

from fifthwire.model.errors import InputError, NotAllowed, NotFound, TooOften
from fifthwire.workflow import people
from fifthwire.workflow.sessions import (
    BROWSER_LASTS,
    IDLE,
    LIMITS,
    end_sign_in,
    known_by,
    make_key,
    sign_in,
    sign_ins,
    sign_out,
)

HERE = "192.0.2.7"
pytestmark = pytest.mark.usefixtures("fast_hashes")


def enter(register, name="rt-14", password=PASSWORD, address=HERE):
    return sign_in(register, name, password, address=address, device="a phone")


def wrong(register, n, **by):
    for _ in range(n):
        with pytest.raises(NotAllowed, match="name or the password is wrong"):
            enter(register, password="not this one at all", **by)


def test_one_who_signs_in_is_known_by_the_secret_with_role_and_sites(register):
    account = an_account(register, site_ids=("S1", "S2"))
    entered = enter(register, " RT-14 ")
    known = known_by(register, entered.secret)

    assert known.account.id == account.id
    assert (known.person.name, known.person.role, known.person.site_ids) == ("R. T.", "technician", ("S1", "S2"))


@pytest.mark.parametrize("secret", ["", "x", "x" * 43, "x" * 5000, "\udcff" * 43])
def test_a_made_up_secret_is_nobodys(sqlite_register, secret):
    an_account(sqlite_register)

    assert known_by(sqlite_register, secret) is None


def test_neither_password_nor_secret_stands_in_the_register(register):
    an_account(register)
    entered = enter(register)
    with register.reading() as keep:
        told = " ".join(
            str(keep.connection.execute(text(f"SELECT * FROM {table}")).all())
            for table in ("accounts", "sign_ins", "invitations", "audit")
        )

    assert "argon2id" in told
    assert entered.secret not in told
    assert PASSWORD not in told


def test_a_wrong_password_and_an_unknown_name_are_answered_alike(register):
    an_account(register)
    with pytest.raises(NotAllowed) as of_known:
        enter(register, password="something else entirely")
    with pytest.raises(NotAllowed) as of_unknown:
        enter(register, "nobody", "something else entirely")

    assert (of_known.value.message, of_known.value.hint) == (of_unknown.value.message, of_unknown.value.hint)


def test_after_five_wrong_passwords_from_one_place_even_the_right_one_waits(register):
    an_account(register)
    wrong(register, 5)

    with pytest.raises(TooOften, match="not looked at") as stopped:
        enter(register)
    assert 0 < stopped.value.wait_s <= 15 * 60
    assert enter(register, address="192.0.2.8").person.name == "R. T."  # not everybody is locked out by one


def test_the_wait_ends_however_often_somebody_goes_on_trying(register):
    an_account(register)
    wrong(register, 5)
    for _ in range(20):
        with pytest.raises(TooOften):
            enter(register)
    register._clock.now_utc += timedelta(minutes=15)

    assert enter(register).person.name == "R. T."


def test_a_name_is_protected_from_many_places_together(sqlite_register):
    an_account(sqlite_register)
    for at in range(20):
        wrong(sqlite_register, 1, address=f"198.51.100.{at}")

    with pytest.raises(TooOften):
        enter(sqlite_register, address="203.0.113.1")


def test_one_place_cannot_try_many_names(sqlite_register):
    an_account(sqlite_register)
    for at in range(50):
        wrong(sqlite_register, 1, name=f"name{at}")

    with pytest.raises(TooOften):
        enter(sqlite_register)


def test_many_tries_at_once_are_looked_at_no_more_often_than_one_after_the_other(register):
    an_account(register)

    def tried(at):
        try:
            enter(register, password=f"guess number {at} of many")
        except TooOften:
            return "stopped"
        except NotAllowed:
            return "wrong"

    with ThreadPoolExecutor(12) as pool:
        answers = list(pool.map(tried, range(24)))

    assert answers.count("wrong") <= 5
    assert set(answers) <= {"wrong", "stopped"}


def test_a_right_password_forgets_the_wrong_ones_before_it(register):
    an_account(register)
    wrong(register, 4)
    enter(register)
    wrong(register, 4)

    assert enter(register).person.name == "R. T."


def test_the_audit_list_shows_a_stop_once(register):
    an_account(register)
    wrong(register, 5)
    for _ in range(3):
        with pytest.raises(TooOften):
            enter(register)
    whats = [row.what for row in people.audit_list(register, OFFICE).rows]

    assert whats == ["sign-in-stopped", "joined", "invited"]


def test_a_browser_that_was_not_used_for_long_has_to_sign_in_again(register):
    an_account(register)
    entered = enter(register)
    register._clock.now_utc += IDLE + timedelta(seconds=5)

    assert known_by(register, entered.secret) is None


def test_a_browser_that_is_used_stays_signed_in_until_the_end_of_its_time(register):
    an_account(register)
    entered = enter(register)
    end = register._clock.now_utc + BROWSER_LASTS
    while register._clock.now_utc + IDLE < end:
        register._clock.now_utc += IDLE - timedelta(minutes=1)
        assert known_by(register, entered.secret) is not None
    register._clock.now_utc = end + timedelta(seconds=1)

    assert known_by(register, entered.secret) is None


def test_one_who_signed_out_is_known_no_longer_and_other_browsers_are(register):
    an_account(register)
    here, there = enter(register), enter(register)
    sign_out(register, known_by(register, here.secret))

    assert known_by(register, here.secret) is None
    assert known_by(register, there.secret) is not None


def test_a_lost_phone_is_signed_out_from_another_browser(register):
    an_account(register)
    phone, desk = enter(register), enter(register)
    who = known_by(register, desk.secret).person
    end_sign_in(register, who, phone.signed_in.id)

    assert known_by(register, phone.secret) is None
    assert [one.id for one in sign_ins(register, who)] == [desk.signed_in.id]


def test_nobody_ends_the_sign_in_of_another(register):
    an_account(register)
    an_account(register, "kb")
    theirs, mine = enter(register, "kb"), enter(register)

    with pytest.raises(NotFound, match="no such sign-in of yours"):
        end_sign_in(register, mine.person, theirs.signed_in.id)
    assert known_by(register, theirs.secret) is not None


def test_a_key_is_known_as_a_key_and_never_as_a_browser(register):
    an_account(register)
    who = enter(register).person
    key = make_key(register, who, "the office's spreadsheet", days=1)

    assert known_by(register, key.secret) is None
    assert known_by(register, key.secret, kind="program").person == who
    register._clock.now_utc += timedelta(days=1)
    assert known_by(register, key.secret, kind="program") is None


@pytest.mark.parametrize(("label", "days"), [("", 1), ("  ", 1), ("x", 0), ("x", 367)])
def test_a_key_without_a_name_or_with_too_long_a_life_is_not_made(sqlite_register, label, days):
    an_account(sqlite_register)

    with pytest.raises(InputError, match="A key needs a name"):
        make_key(sqlite_register, enter(sqlite_register).person, label, days=days)


def test_a_closed_account_cannot_sign_in_and_its_browsers_are_out_at_once(register):
    account = an_account(register)
    an_account(register, "boss", role="owner")
    entered = enter(register)
    people.change_account(
        register,
        OFFICE,
        account.id,
        version=account.version,
        role="technician",
        site_ids=None,
        is_active=False,
    )

    assert known_by(register, entered.secret) is None
    wrong(register, 1)
    with pytest.raises(NotAllowed, match="is wrong"):
        enter(register)


def test_a_changed_role_counts_from_the_next_request_on(register):
    account = an_account(register)
    an_account(register, "boss", role="owner")
    entered = enter(register)
    people.change_account(register, OFFICE, account.id, version=1, role="reader", site_ids=("S9",), is_active=True)
    person = known_by(register, entered.secret).person

    assert (person.role, person.site_ids) == ("reader", ("S9",))


def test_the_limits_are_those_the_documentation_names():
    assert [(window, most) for _, window, most in LIMITS] == [(timedelta(minutes=15), most) for most in (5, 20, 50)]
