"""Two people write the same row at the same moment: one is told, on either engine, and nothing is lost."""

from threading import Barrier, Thread

import pytest
from tests.people_fixtures import OFFICE, an_account

from fifthwire.model.errors import Conflict, NotAllowed, RegisterError
from fifthwire.workflow import people, places


@pytest.mark.parametrize("n", [2, 6])
def test_of_some_who_change_one_site_at_the_same_moment_one_wins_and_the_others_are_shown_both(register, n):
    site = places.add_site(register, OFFICE, name="Quayside House", time_zone="Europe/London")

    def change(at):
        address = f"{at} Street"
        return places.change_site(
            register, OFFICE, site.id, version=1, name="Quayside House", time_zone="UTC", address=address
        )

    told = all_at_once(change, n)
    won = [one for one in told if not isinstance(one, RegisterError)]

    assert len(won) == 1
    assert all(isinstance(one, Conflict) for one in told if one not in won), told
    assert places.site(register, OFFICE, site.id) == won[0]


@pytest.mark.usefixtures("fast_hashes")
def test_two_owners_who_close_each_other_at_the_same_moment_leave_one(register):
    owners = [an_account(register, name, "owner") for name in ("one", "two")]

    def close(at):
        other = owners[1 - at]
        return people.change_account(
            register, OFFICE, other.id, version=1, role="owner", site_ids=None, is_active=False
        )

    told = all_at_once(close, 2)

    assert sum(isinstance(one, NotAllowed) for one in told) == 1, told
    assert sum(one.is_active for one in people.accounts(register, OFFICE)) == 1


def all_at_once(do, n):
    """What came of each of n calls that were begun together: what it gave or the register's error."""
    start, told = Barrier(n), []

    def one(at):
        start.wait()
        try:
            told.append(do(at))
        except RegisterError as error:
            told.append(error)

    threads = [Thread(target=one, args=(at,)) for at in range(n)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return told
