"""A shared register in a browser, phone and desk: come in by a link, invite, see both of two changes, sign out."""

import shutil
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page, expect
from tests.browser.served_pages import DESK, PHONE, served, visited
from tests.browser.test_office_in_a_browser import OVERLAPPING, SMALL, serious_faults
from tests.people_fixtures import OFFICE, PASSWORD, an_account

from fifthwire.register.store import open_register
from fifthwire.web.app import create_app
from fifthwire.web.settings import Settings
from fifthwire.workflow import people, places
from fifthwire.workflow.tls import Certificate

SIZES = {"phone": PHONE, "desk": DESK}
OWN_AUTHORITY = Certificate(
    certificate_path="certificate.pem",
    key_path="key.pem",
    names=("office.local", "192.168.7.20"),
    not_after_utc=datetime(2027, 5, 12, tzinfo=UTC),
    authority_path="authority.pem",
    authority_fingerprint=":".join(["A1"] * 32),
)
"""What the page about trust shows; no key is looked at."""
pytestmark = pytest.mark.usefixtures("fast_hashes")


@pytest.fixture(params=SIZES)
def size(request):
    return SIZES[request.param]


@pytest.fixture
def register(sqlite_template, tmp_path):
    path = tmp_path / "register.sqlite"
    shutil.copyfile(sqlite_template, path)
    with open_register(str(path), create=False) as opened:
        places.add_site(opened, OFFICE, name="Quayside House (invented)", time_zone="Europe/London")
        yield opened


@pytest.fixture
def address(register):
    with served(create_app(register, alone=None, settings=Settings(is_shared=True))) as at:
        yield at


def sign_in(page: Page, name: str, password: str = PASSWORD) -> None:
    page.goto("/")
    page.get_by_label("Sign-in name").fill(name)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", level=1)).not_to_have_text("Sign in")


def require_fit(page: Page, size) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    assert page.evaluate(OVERLAPPING) == []
    if size == PHONE:
        assert page.evaluate(SMALL) == []
    assert serious_faults(page) == []


@pytest.mark.parametrize(("scheme", "size"), [("light", DESK), ("light", PHONE), ("dark", PHONE), ("sun", PHONE)])
def test_every_page_of_people_is_fit_to_read_and_to_touch(browser, register, address, size, scheme):
    account = an_account(register, "boss", "owner", name="B. Oss")
    an_account(register)
    secret = people.invite(register, OFFICE, role="technician", for_whom="K. B.").secret
    with visited(browser, address, viewport=size, reduced_motion="reduce") as (context, complaints):
        context.add_cookies([{"name": "scheme", "value": scheme, "url": address}])
        page = context.new_page()
        for path in ("/sign-in", f"/join/{secret}", "/join/nothing"):
            page.goto(path)
            require_fit(page, size)
        sign_in(page, "boss")
        for path in ("/more", "/me", "/people", f"/people/{account.id}", "/audit", "/trust"):
            page.goto(path)
            require_fit(page, size)
    assert [one for one in complaints if "404" not in one] == []


def test_the_page_about_trust_is_fit_to_read(browser, sqlite_register, size):
    app = create_app(sqlite_register, alone=None, settings=Settings(is_shared=True, certificate=OWN_AUTHORITY))
    with served(app) as address, visited(browser, address, viewport=size) as (context, complaints):
        page = context.new_page()
        page.goto("/trust")
        expect(page.get_by_text(OWN_AUTHORITY.authority_fingerprint)).to_be_visible()
        require_fit(page, size)
    assert complaints == []


@pytest.mark.parametrize("has_scripts", [True, False])
def test_people_come_in_by_link_work_together_and_sign_out(browser, register, address, size, has_scripts):
    first = people.invite(register, OFFICE, role="owner").secret
    with visited(browser, address, viewport=size, java_script_enabled=has_scripts) as (context, complaints):
        owner = context.new_page()
        owner.goto(f"/join/{first}")
        owner.get_by_label("Sign-in name").fill("boss")
        owner.get_by_label("Name", exact=True).fill("B. Oss")
        owner.get_by_label("New password").fill(PASSWORD)
        owner.get_by_label("The same again").fill(PASSWORD)
        owner.get_by_role("button", name="Make the account").click()
        expect(owner.get_by_text("Your account is made, and you are signed in.")).to_be_visible()
        link = invite(owner, "lead", "K. B.")

        with visited(browser, address, viewport=size, java_script_enabled=has_scripts) as (other, _):
            lead = other.new_page()
            lead.goto(link)
            lead.get_by_label("Sign-in name").fill("kb")
            lead.get_by_label("New password").fill(PASSWORD)
            lead.get_by_label("The same again").fill(PASSWORD)
            lead.get_by_role("button", name="Make the account").click()
            expect(lead.get_by_text("Your account is made, and you are signed in.")).to_be_visible()
            both_change_one_site(owner, lead, size)
            lead.goto("/more")
            lead.get_by_role("button", name="Sign out of this browser").click()
            expect(lead.get_by_role("heading", level=1)).to_have_text("Sign in")
            lead.goto("/sites")
            expect(lead.get_by_role("heading", level=1)).to_have_text("Sign in")
        owner.goto("/audit")
        expect(owner.get_by_text("signed out")).to_be_visible()
    assert [one for one in complaints if "404" not in one and "409" not in one] == []


def invite(owner: Page, role: str, for_whom: str) -> str:
    """The link that the page shows."""
    owner.goto("/people")
    owner.get_by_label("For whom").fill(for_whom)
    owner.get_by_label(role).check()
    owner.get_by_role("button", name="Make the link").click()
    link = owner.locator("a.secret").get_attribute("href")
    assert link is not None
    return link


def both_change_one_site(first: Page, second: Page, size) -> None:
    """The second is shown both, and writes theirs over the first's having seen it."""
    for page in (first, second):
        page.goto("/sites")
        page.get_by_role("link", name="Quayside House (invented)").first.click()
        page.get_by_role("link", name="Change").first.click()
    first.get_by_label("Address").fill("1 First Street")
    first.get_by_role("button", name="Keep it").click()
    expect(first.get_by_text("The change is kept.")).to_be_visible()
    second.get_by_label("Address").fill("2 Second Street")
    second.get_by_role("button", name="Keep it").click()
    expect(second.get_by_role("heading", level=1)).to_have_text("Changed by two people")
    for words in ("1 First Street", "2 Second Street"):
        expect(second.get_by_role("cell", name=words)).to_be_visible()
    assert second.evaluate("document.documentElement.scrollWidth") <= size["width"]
    second.get_by_role("button", name="Write yours over theirs").click()
    expect(second.get_by_text("The change is kept.")).to_be_visible()
    expect(second.get_by_text("2 Second Street")).to_be_visible()
