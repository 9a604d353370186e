"""Who may do what: asked by every function of the workflow that opens the register, before anything else.

| may | reader | technician | lead | owner |
|---|---|---|---|---|
| read | yes | yes | yes | yes |
| add (visits, notes, photographs, findings) | | yes | yes | yes |
| change (places, manuals, meters, imports, closing) | | | yes | yes |
| sign (sign a visit off) | | | yes | yes |
| own (people, backup, the register itself) | | | | yes |
"""

from typing import Final, Literal

from fifthwire.model.errors import NotAllowed, NotFound
from fifthwire.model.kept.people import ROLES, Person, Role

Deed = Literal["read", "add", "change", "sign", "own"]
LEAST_ROLE: Final[dict[Deed, Role]] = {
    "read": "reader",
    "add": "technician",
    "change": "lead",
    "sign": "lead",
    "own": "owner",
}
"""The first role, in the order of `ROLES`, that may."""
DEED_WORDS: Final[dict[Deed, str]] = {
    "read": "read this",
    "add": "add to visits, notes, photographs or findings",
    "change": "change places, manuals or meters, import, or close",
    "sign": "sign a visit off",
    "own": "look after people, backups or the register itself",
}
NOT_YOURS: Final = "Nothing of that name or id is kept at the sites that you look after."
NOT_YOURS_HINT: Final = "Look for it in the list; an owner can give you another site."


def may(who: Person, deed: Deed) -> bool:
    """Whether the person's role allows it, at a site of theirs.

    Examples
    --------
    >>> reader = Person(id="r", name="R", role="reader")
    >>> may(reader, "read"), may(reader, "add")
    (True, False)
    """
    return ROLES.index(who.role) >= ROLES.index(LEAST_ROLE[deed])


def sees_site(who: Person, site_id: str) -> bool:
    """Whether the site is one that the person looks after."""
    return who.site_ids is None or site_id in who.site_ids


def require(who: Person, deed: Deed, *, site_id: str | None = None) -> None:
    """Refuse what the person may not do.

    A site that is not theirs answers as one that does not exist, so that nobody learns by asking what others keep.

    Parameters
    ----------
    who : Person
        The actor.
    deed : str
        `read`, `add`, `change`, `sign` or `own`.
    site_id : str, optional
        The site it concerns; left out for what belongs to no site (manuals, meters, people).

    Raises
    ------
    NotFound
        If the site is not one of theirs.
    NotAllowed
        If their role may not.
    """
    if site_id is not None and not sees_site(who, site_id):
        raise NotFound(NOT_YOURS, hint=NOT_YOURS_HINT)
    if not may(who, deed):
        raise NotAllowed(
            f"A {who.role} may not {DEED_WORDS[deed]}. Nothing was changed.",
            hint=f"Ask a {LEAST_ROLE[deed]} to do it, or an owner to change your role.",
        )


def require_everywhere(who: Person, deed: Deed) -> None:
    """Refuse what concerns all sites (a new site, a whole export or backup) to one who looks after only some.

    Raises
    ------
    NotAllowed
        If their role may not, or they look after some sites only.
    """
    require(who, deed)
    if who.site_ids is not None:
        raise NotAllowed(
            "This concerns every site, and you look after some of them only. Nothing was changed.",
            hint="Ask somebody who looks after all sites, or choose one of yours.",
        )
