"""A shared register for the tests of its pages: two sites, and a browser signed in for every role."""

from typing import Final

from tests.people_fixtures import OFFICE, PASSWORD, an_account
from tests.web_client import Client

from fifthwire.model.kept.people import ROLES, Role
from fifthwire.register.store import Register
from fifthwire.web.app import create_app
from fifthwire.web.settings import Settings
from fifthwire.workflow import places

SHARED: Final = Settings(is_shared=True)
WHO: Final = (*ROLES, "lead-of-none")
"""Each role at all sites, and a lead who looks after another site only."""


class Office:
    """An app of a shared register, with its people.

    Parameters
    ----------
    register : Register
        A fresh one.
    settings : Settings
        How it is served.
    """

    def __init__(self, register: Register, settings: Settings = SHARED) -> None:
        self.register = register
        self.app = create_app(register, alone=None, settings=settings)
        self.site = places.add_site(register, OFFICE, name="Quayside House", time_zone="Europe/London")
        self.other_site = places.add_site(register, OFFICE, name="Mill Lane", time_zone="Europe/London")

    def stranger(self) -> Client:
        """A browser that is not signed in."""
        return Client(self.app)

    def account(self, who: str) -> None:
        """Make the account of one of `WHO`."""
        role: Role = "lead" if who == "lead-of-none" else who  # type: ignore[assignment]
        sites = (self.other_site.id,) if who == "lead-of-none" else None
        an_account(self.register, who, role, sites, name=who.title())

    def browser(self, who: str) -> Client:
        """A browser of one of `WHO`, signed in as people sign in."""
        self.account(who)
        return self.signed_in(who)

    def signed_in(self, who: str, password: str = PASSWORD) -> Client:
        """A browser signed in with an account that is there."""
        client = self.stranger()
        client.get("/sign-in")
        answer = client.post("/sign-in", {"name": who, "password": password})
        assert answer.status_code == 303, answer.text
        return client
