"""Who works in a shared register: invitations by link, accounts, roles and sites, and the audit list."""

import secrets
from collections.abc import Sequence
from datetime import timedelta
from typing import Any, Final

from fifthwire.model.errors import Conflict, InputError, NotAllowed, NotFound
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import (
    LONGEST_NAME,
    ROLES,
    UNIT_SYSTEMS,
    Account,
    AuditRow,
    Invitation,
    Person,
    Role,
    UnitSystem,
)
from fifthwire.model.record import record
from fifthwire.register import audit
from fifthwire.register import people as kept
from fifthwire.register import signing_in as kept_sign_ins
from fifthwire.register.store import Keep, Register
from fifthwire.workflow.passwords import fits, hash_password
from fifthwire.workflow.permission import require, require_everywhere
from fifthwire.workflow.sessions import SECRET_BYTES, digest, sign_in_name

INVITATION_HOURS: Final = 72
"""How long an invitation can be used.  [h]  Our choice: over a weekend."""
MOST_INVITATION_HOURS: Final = 720
SIGN_IN_CHARACTERS: Final = frozenset("abcdefghijklmnopqrstuvwxyz0123456789.-_@+")
NOT_OPEN: Final = "This link is used, withdrawn, out of date or mistyped."
NOT_OPEN_HINT: Final = "Ask whoever sent it for a new one."


@record
class Invited:
    """An invitation and the secret of its link: shown this once."""

    secret: str
    invitation: Invitation


def invite(
    register: Register,
    who: Person,
    *,
    role: Role,
    site_ids: Sequence[str] | None = None,
    for_whom: str = "",
    hours: int = INVITATION_HOURS,
) -> Invited:
    """A link with which one person makes one account.

    Parameters
    ----------
    register : Register
        A shared one.
    who : Person
        An owner of all sites; or the one who starts a register that has no account yet.
    role : str
        What the account may do.
    site_ids : sequence of str, optional
        The sites that it looks after; left out: all.
    for_whom : str
        A name to know the invitation by.
    hours : int
        How long the link can be used.  [h]
    """
    require_everywhere(who, "own")
    role = _role(role)
    if not 1 <= hours <= MOST_INVITATION_HOURS:
        raise InputError(f"An invitation lasts 1 to {MOST_INVITATION_HOURS} hours, not {hours}.")
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with register.adding() as keep:
        invitation = kept.add_invitation(
            keep,
            secret_sha256=digest(secret),
            role=role,
            site_ids=site_ids,
            for_whom=for_whom.strip()[:LONGEST_NAME],
            by=who.name[:LONGEST_NAME],
            expires_utc=keep.now_utc + timedelta(hours=hours),
        )
        audit.write_down(keep, who, "invited", for_whom.strip() or role, f"{role}, {_sites_in_words(site_ids)}")
    return Invited(secret=secret, invitation=invitation)


def new_password_link(register: Register, who: Person, account_id: str) -> Invited:
    """A link with which the owner of an account sets a new password; older ones of that account work no longer."""
    require_everywhere(who, "own")
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with register.adding() as keep:
        account = kept.account_of(keep, account_id)
        kept.withdraw_invitations_of(keep, account.id)
        invitation = kept.add_invitation(
            keep,
            secret_sha256=digest(secret),
            role=account.role,
            site_ids=account.site_ids,
            for_whom=account.name,
            by=who.name[:LONGEST_NAME],
            expires_utc=keep.now_utc + timedelta(hours=INVITATION_HOURS),
            account_id=account.id,
        )
        audit.write_down(keep, who, "invited", account.sign_in, "a new password")
    return Invited(secret=secret, invitation=invitation)


def invitation_of(register: Register, secret: str) -> Invitation:
    """The open invitation of a link.

    Raises
    ------
    NotFound
        If the link is used, withdrawn, out of date or mistyped.
    """
    with register.reading() as keep:
        return _open_invitation(keep, secret)


def join(register: Register, secret: str, *, sign_in: str, name: str, password: str) -> Account:
    """Make the account, or set the new password, that a link is for. The link is then used up.

    Parameters
    ----------
    register : Register
        A shared one.
    secret : str
        Of the link.
    sign_in : str
        The name to sign in with; not looked at where the link is for a new password.
    name : str
        The name that stands beside what the person does; as before.
    password : str
        The new one.
    """
    with register.reading() as keep:
        invitation = _open_invitation(keep, secret)
        account = kept.account_of(keep, invitation.account_id) if invitation.account_id else None
    sign_in = account.sign_in if account else _checked_sign_in(sign_in)
    name = account.name if account else _checked_name(name)
    hashed = hash_password(password, sign_in, name)
    with register.adding() as keep:
        invitation = _open_invitation(keep, secret)
        if not kept.use_invitation(keep, invitation.id, sign_in):
            raise NotFound(NOT_OPEN, hint=NOT_OPEN_HINT)
        if account is not None:
            return _with_new_password(keep, account, hashed)
        _refuse_taken_name(keep, name)
        made = kept.add_account(
            keep, sign_in=sign_in, name=name, role=invitation.role, site_ids=invitation.site_ids, password_hash=hashed
        )
        audit.write_down(keep, made.person, "joined", made.sign_in, f"invited by {invitation.by}")
    return made


def invitations(register: Register, who: Person) -> tuple[Invitation, ...]:
    """Every invitation, the newest first."""
    require_everywhere(who, "own")
    with register.reading() as keep:
        return kept.list_invitations(keep)


def open_invitations(register: Register, who: Person) -> tuple[Invitation, ...]:
    """The invitations that can still be used, the newest first."""
    require_everywhere(who, "own")
    with register.reading() as keep:
        return tuple(one for one in kept.list_invitations(keep) if one.is_open(keep.now_utc))


def withdraw_invitation(register: Register, who: Person, invitation_id: str) -> None:
    """Let a link be used no longer."""
    require_everywhere(who, "own")
    with register.adding() as keep:
        gone = kept.withdraw_invitation(keep, invitation_id)
        audit.write_down(keep, who, "invitation-withdrawn", gone.for_whom or gone.id)


def accounts(register: Register, who: Person) -> tuple[Account, ...]:
    """Everybody who may sign in, and who once could."""
    require_everywhere(who, "own")
    with register.reading() as keep:
        return kept.list_accounts(keep)


def has_accounts(register: Register) -> bool:
    """Whether anybody can sign in at all; else the door shows the first invitation at the terminal."""
    with register.reading() as keep:
        return kept.count_accounts(keep) > 0


def account(register: Register, who: Person, account_id: str) -> Account:
    """One account: an owner sees all, everybody their own."""
    if account_id != who.id:
        require_everywhere(who, "own")
    with register.reading() as keep:
        return kept.account_of(keep, account_id)


def change_account(
    register: Register,
    who: Person,
    account_id: str,
    *,
    version: int,
    role: Role,
    site_ids: Sequence[str] | None,
    is_active: bool,
) -> Account:
    """Give an account another role or other sites, close it, or open it again.

    Raises
    ------
    Conflict
        If somebody else has changed it since `version`.
    NotAllowed
        If nobody would be left who looks after people.
    """
    require_everywhere(who, "own")
    role = _role(role)
    with register.adding() as keep:
        _refuse_last_owner(keep, account_id, still_owner=is_active and role == "owner" and site_ids is None)
        changed = kept.change_account(keep, account_id, version, role=role, site_ids=site_ids, is_active=is_active)
        if not is_active:
            kept_sign_ins.end_all_sign_ins(keep, account_id)
            kept.withdraw_invitations_of(keep, account_id)
        said = f"{role}, {_sites_in_words(site_ids)}, {'open' if is_active else 'closed'}"
        audit.write_down(keep, who, "account-changed", changed.sign_in, said)
    return changed


def change_self(register: Register, who: Person, *, version: int, name: str, units: UnitSystem) -> Account:
    """Change one's own name or units."""
    require(who, "read")
    if units not in UNIT_SYSTEMS:
        raise InputError(f"Units are si or us, not {str(units)[:20]!r}.")
    with register.adding() as keep:
        checked = _checked_name(name)
        _refuse_taken_name(keep, checked, but=who.id)
        changed = kept.change_account(keep, who.id, version, name=checked, units=units)
        audit.write_down(keep, who, "account-changed", changed.sign_in, f"{changed.name}, {units}")
    return changed


def change_password(register: Register, who: Person, old: str, new: str, *, keep_sign_in: str | None = None) -> None:
    """Change one's own password; every other browser and key of the account has to sign in again.

    Raises
    ------
    NotAllowed
        If the old one is wrong.
    """
    require(who, "read")
    with register.reading() as keep:
        account = kept.account_of(keep, who.id)
        hashed = kept.password_hash_of(keep, who.id)
    if not fits(old, hashed):
        raise NotAllowed("The old password is wrong. Nothing was changed.", hint="Type it again.")
    fresh = hash_password(new, account.sign_in, account.name)
    with register.adding() as keep:
        kept.set_password(keep, who.id, fresh)
        kept_sign_ins.end_all_sign_ins(keep, who.id, but=keep_sign_in)
        audit.write_down(keep, who, "password-changed", account.sign_in)


def audit_list(register: Register, who: Person, page: int = 1) -> Page[AuditRow]:
    """Who did what, the newest first."""
    require_everywhere(who, "own")
    with register.reading() as keep:
        return audit.audit_page(keep, page)


def _open_invitation(keep: Keep, secret: str) -> Invitation:
    found = kept.invitation_with(keep, digest(secret)) if 20 <= len(secret) <= 100 else None
    if found is None or not found.is_open(keep.now_utc):
        raise NotFound(NOT_OPEN, hint=NOT_OPEN_HINT)
    return found


def _with_new_password(keep: Keep, account: Account, hashed: str) -> Account:
    kept.set_password(keep, account.id, hashed)
    kept_sign_ins.end_all_sign_ins(keep, account.id)
    audit.write_down(keep, account.person, "password-changed", account.sign_in, "by link")
    return account


def _refuse_last_owner(keep: Keep, account_id: str, *, still_owner: bool) -> None:
    others = [
        one
        for one in kept.list_accounts(keep, hold=True)
        if one.id != account_id and one.is_active and one.role == "owner" and one.site_ids is None
    ]
    if not others and not still_owner:
        raise NotAllowed(
            "Nobody would be left who looks after people. Nothing was changed.",
            hint="Make somebody else an owner of all sites first.",
        )


def _role(given: Any) -> Role:
    found = next((role for role in ROLES if role == given), None)
    if found is None:
        raise InputError(f"There is no role {str(given)[:20]!r}.", hint=f"Choose one of {', '.join(ROLES)}.")
    return found


def _checked_sign_in(typed: str) -> str:
    name = sign_in_name(typed)
    if not 2 <= len(typed.strip()) <= 60 or not set(name) <= SIGN_IN_CHARACTERS:
        raise InputError(
            f"{typed[:60]!r} cannot be a sign-in name.", hint="2 to 60 letters a to z, digits, . - _ @ or +."
        )
    return name


def _checked_name(typed: str) -> str:
    name = " ".join(typed.split())
    if not 1 <= len(name) <= LONGEST_NAME or not name.isprintable():
        raise InputError(f"A name has 1 to {LONGEST_NAME} characters.", hint="Write your initials or your name.")
    return name


def _refuse_taken_name(keep: Keep, name: str, *, but: str | None = None) -> None:
    """What is kept is signed with a name: nobody signs with another's."""
    if any(one.name.casefold() == name.casefold() and one.id != but for one in kept.list_accounts(keep)):
        raise Conflict(f"Somebody else signs as {name}.", hint="Choose another name. Nothing was changed.")


def _sites_in_words(site_ids: Sequence[str] | None) -> str:
    return "all sites" if site_ids is None else f"{len(site_ids)} site{'' if len(site_ids) == 1 else 's'}"
