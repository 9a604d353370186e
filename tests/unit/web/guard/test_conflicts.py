"""Two people change one thing: the second is shown both, and neither is lost."""

import re

import pytest
from tests.people_fixtures import OFFICE, an_account
from tests.route_cases import There
from tests.shared_office import Office
from tests.web_client import Client

from fifthwire.web.app import create_app
from fifthwire.workflow import people, places, visits_kept

pytestmark = pytest.mark.usefixtures("fast_hashes")
FIRST = {"name": "Quayside House", "time_zone": "Europe/London", "address": "1 First <b>Street</b>"}
SECOND = {"name": "Quayside House", "time_zone": "Europe/London", "address": "2 Second Street", "altitude": "40 m"}


@pytest.fixture
def office(register):
    return Office(register)


def change_path(office):
    return f"/sites/{office.site.id}/change"


def test_the_second_of_two_is_shown_both_and_the_first_stays(office):
    first, second = office.browser("lead"), office.browser("owner")
    form = second.get(change_path(office)).text
    version = re.search(r'name="version" value="(\d+)"', form)[1]
    assert first.post(change_path(office), {**FIRST, "version": version}).status_code == 303
    stopped = second.post(change_path(office), {**SECOND, "version": version})

    assert stopped.status_code == 409
    rows = re.findall(r"<tr role=\"row\"><th[^>]*>([^<]*)</th><td[^>]*>(.*?)</td><td[^>]*>(.*?)</td>", stopped.text)
    assert ("Address", "1 First &lt;b&gt;Street&lt;/b&gt;", "2 Second Street") in rows
    assert ("Altitude, m", "–", "40.0") in rows
    assert "Name" not in [label for label, _, _ in rows]
    assert places.site(office.register, OFFICE, office.site.id).address == FIRST["address"]


def test_the_second_may_write_theirs_over_the_first_having_seen_both(office):
    first, second = office.browser("lead"), office.browser("owner")
    first.post(change_path(office), {**FIRST, "version": "1"})
    stopped = second.post(change_path(office), {**SECOND, "version": "1"}).text
    form = re.search(r'<form method="post" action="([^"]+)">(.*?)</form>', stopped, re.DOTALL)
    fields = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', form[2]))
    again = second.request("POST", form[1], data=fields, headers={"origin": "http://localhost"})

    assert again.status_code == 303
    assert places.site(office.register, OFFICE, office.site.id).address == "2 Second Street"


def test_a_third_change_meanwhile_stops_it_again(office):
    first, second = office.browser("lead"), office.browser("owner")
    first.post(change_path(office), {**FIRST, "version": "1"})
    second.post(change_path(office), {**SECOND, "version": "1"})
    first.post(change_path(office), {**FIRST, "address": "3 Third Street", "version": "2"})

    assert second.post(change_path(office), {**SECOND, "version": "2"}).status_code == 409


def test_the_same_change_twice_is_no_quarrel_to_show(office):
    lead = office.browser("lead")
    lead.post(change_path(office), {**FIRST, "version": "1"})

    assert lead.post(change_path(office), {**FIRST, "version": "1"}).status_code == 409


def test_two_owners_who_change_one_account_are_shown_both(office):
    owner = office.browser("owner")
    account = an_account(office.register)
    given = {"version": "1", "which": "all", "is_active": "yes"}
    owner.post(f"/people/{account.id}", {**given, "role": "lead"})
    stopped = owner.post(f"/people/{account.id}", {**given, "role": "reader"})

    assert stopped.status_code == 409
    assert re.search(r"Role</th><td[^>]*>lead</td><td[^>]*>reader</td>", stopped.text)
    assert people.account(office.register, OFFICE, account.id).role == "lead"


def test_a_program_that_comes_second_is_told_both(office):
    lead = office.browser("lead")
    headers = {"origin": "http://localhost", "x-form-key": lead.form_key()}
    path = f"/api/sites/{office.site.id}"
    before = lead.get(path).json()
    lead.request("PUT", path, json={**before, "address": "here"}, headers=headers)
    stopped = lead.request("PUT", path, json={**before, "address": "there"}, headers=headers)

    assert stopped.status_code == 409
    assert (stopped.json()["theirs"]["address"], stopped.json()["yours"]["address"]) == ("here", "there")
    assert stopped.json()["theirs"]["version"] == 2


def test_two_who_say_how_a_system_stands_are_shown_both_and_the_second_may_say_it_again(sqlite_register):
    there = There(sqlite_register)
    there.fill()
    browser = Client(create_app(sqlite_register, alone=OFFICE))
    path = f"/visits/{there.ids['visit_id']}/fill/system"
    version = there.visit_version()
    first = {"part": "system", "mode": "cooling", "refrigerant": "R410A", "version": version}
    assert browser.post(path, first).status_code == 303
    stopped = browser.post(path, {**first, "mode": "heating"})

    assert stopped.status_code == 409
    assert re.search(r"<td[^>]*>cooling</td><td[^>]*>heating</td>", stopped.text)
    form = re.search(r'<form method="post" action="([^"]+)">(.*?)</form>', stopped.text, re.DOTALL)
    fields = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', form[2]))
    again = browser.request("POST", form[1], data=fields, headers={"origin": "http://localhost"})
    assert again.status_code == 303
    assert visits_kept.visit_of(sqlite_register, OFFICE, there.ids["visit_id"]).visit.system.mode == "heating"
