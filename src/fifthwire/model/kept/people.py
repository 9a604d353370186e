"""Who may do what: the person behind a call, accounts, invitations and the audit list."""

from datetime import datetime
from typing import Final, Literal

from fifthwire.model.record import record

Role = Literal["reader", "technician", "lead", "owner"]
ROLES: Final[tuple[Role, ...]] = ("reader", "technician", "lead", "owner")
"""From the one who only reads to the one who may do everything; each may do what those before it may."""
ROLE_WORDS: Final[dict[Role, str]] = {
    "reader": "reads",
    "technician": "reads; adds visits, notes, photographs and what was found",
    "lead": "also changes places, manuals and meters, imports, signs off and closes",
    "owner": "also looks after people, backups and the register itself",
}
"""What each role may do, as a page says it."""
UnitSystem = Literal["si", "us"]
UNIT_SYSTEMS: Final[tuple[UnitSystem, ...]] = ("si", "us")

LONGEST_NAME: Final = 100
"""Characters of a person's name or sign-in name; our own limit."""


@record
class Person:
    """The one on whose behalf the program acts, and what they may see."""

    id: str
    name: str
    role: Role
    site_ids: tuple[str, ...] | None = None
    """The sites that they look after; None: all of them."""
    units: UnitSystem = "si"


ALONE_ID: Final = "alone"


def alone(name: str) -> Person:
    """The one person of a register that nobody shares: may do everything, and signs with their own name.

    Examples
    --------
    >>> alone("rt").role, alone("").name
    ('owner', 'alone')
    """
    return Person(id=ALONE_ID, name=name.strip() or ALONE_ID, role="owner")


@record
class Account:
    """A person who signs in to a shared register. The password is nowhere in it."""

    id: str
    sign_in: str
    """What they type to sign in: lower case, without spaces around it."""
    name: str
    role: Role
    site_ids: tuple[str, ...] | None
    units: UnitSystem
    is_active: bool
    created_utc: datetime
    last_seen_utc: datetime | None
    version: int

    @property
    def person(self) -> Person:
        """The account as the actor of a call."""
        return Person(id=self.id, name=self.name, role=self.role, site_ids=self.site_ids, units=self.units)


@record
class Invitation:
    """A link that lets one person make one account, until it expires. The secret in the link is nowhere in it."""

    id: str
    role: Role
    site_ids: tuple[str, ...] | None
    for_whom: str
    """As the one who invites calls them; may be empty."""
    by: str
    at_utc: datetime
    expires_utc: datetime
    used_utc: datetime | None = None
    used_by: str | None = None
    """The sign-in name that was made with it."""
    is_withdrawn: bool = False
    account_id: str | None = None
    """The account that it gives a new password; None where it makes a new one."""

    def is_open(self, now_utc: datetime) -> bool:
        """Whether it can still be used."""
        return self.used_utc is None and not self.is_withdrawn and now_utc < self.expires_utc


SignInKind = Literal["browser", "program"]


@record
class SignedIn:
    """A browser that is signed in, or a key with which another program asks; and until when."""

    id: str
    account_id: str
    kind: SignInKind
    label: str
    """What the browser says of itself, or what its owner called the key: to know it by."""
    created_utc: datetime
    seen_utc: datetime
    expires_utc: datetime


AUDITED: Final[dict[str, str]] = {
    "signed-in": "signed in",
    "sign-in-stopped": "too many wrong passwords",
    "signed-out": "signed out",
    "invited": "invited somebody",
    "invitation-withdrawn": "withdrew an invitation",
    "joined": "made an account",
    "password-changed": "changed a password",
    "account-changed": "changed an account",
    "key-made": "made a key for a program",
    "sign-in-ended": "ended a sign-in or a key",
    "place-added": "added a place",
    "place-changed": "changed a place",
    "list-imported": "imported a list of valves",
    "manual-changed": "changed what heads should measure",
    "manual-checked": "checked what heads should measure",
    "meter-changed": "changed a meter",
    "visit-imported": "imported a visit",
    "visit-begun": "began a visit",
    "visit-judged": "judged a visit",
    "signed-off": "signed a visit off",
    "finding-added": "wrote down what was found",
    "note-added": "added a note",
    "note-struck": "struck a note out",
    "photograph-added": "added a photograph",
    "exported": "took a copy out",
    "backed-up": "backed the register up",
}
"""What the audit list knows, and its words."""


@record
class AuditRow:
    """Who did what, when, and about what: added, never changed."""

    id: str
    at_utc: datetime
    by: str
    """The person's name at that time."""
    by_id: str
    what: str
    """A code of `AUDITED`."""
    about: str
    """What it was done to: an id or a name."""
    detail: str = ""
