"""Accounts and invitations, as they are kept."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row, func, insert, select, update

from fifthwire.model.errors import Conflict, NotFound
from fifthwire.model.kept.people import Account, Invitation, Role, UnitSystem
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep
from fifthwire.register.tables.people import ACCOUNTS, INVITATIONS

SiteIds = Sequence[str] | None


def add_account(
    keep: Keep, *, sign_in: str, name: str, role: Role, site_ids: SiteIds, password_hash: str, units: UnitSystem = "si"
) -> Account:
    """Make an account.

    Raises
    ------
    Conflict
        If somebody has that sign-in name already.
    """
    if account_named(keep, sign_in) is not None:
        raise Conflict(f"The sign-in name {sign_in} is taken.", hint="Choose another one. Nothing was made.")
    account_id = new_id(keep.now_utc)
    row = {
        "id": account_id,
        "sign_in": sign_in,
        "name": name,
        "role": role,
        "site_ids": _as_list(site_ids),
        "units": units,
        "is_active": True,
        "password_hash": password_hash,
        "created_utc": keep.now_utc,
        "version": 1,
    }
    keep.connection.execute(insert(ACCOUNTS).values(row))
    return account_of(keep, account_id)


def account_of(keep: Keep, account_id: str) -> Account:
    """The account of an id.

    Raises
    ------
    NotFound
        If there is none.
    """
    row = keep.connection.execute(select(ACCOUNTS).where(ACCOUNTS.c.id == account_id)).one_or_none()
    if row is None:
        raise NotFound(f"There is no account {account_id[:40]}.", hint="Look in the list of people.")
    return account_from(row)


def account_named(keep: Keep, sign_in: str) -> Account | None:
    """The account of a sign-in name, if there is one."""
    row = keep.connection.execute(select(ACCOUNTS).where(ACCOUNTS.c.sign_in == sign_in)).one_or_none()
    return None if row is None else account_from(row)


def password_hash_of(keep: Keep, account_id: str) -> str:
    """The hash that a password is checked against."""
    found = select(ACCOUNTS.c.password_hash).where(ACCOUNTS.c.id == account_id)
    return str(keep.connection.execute(found).scalar_one())


def list_accounts(keep: Keep, *, hold: bool = False) -> tuple[Account, ...]:
    """Every account, by name.

    Parameters
    ----------
    keep : Keep
        The transaction.
    hold : bool
        Whether nobody else may change them until the transaction ends, as a check of them all together needs it.
    """
    found = select(ACCOUNTS).order_by(ACCOUNTS.c.name, ACCOUNTS.c.id)
    return tuple(map(account_from, keep.connection.execute(found.with_for_update() if hold else found)))


def count_accounts(keep: Keep) -> int:
    """How many accounts there are, closed ones too."""
    return int(keep.connection.execute(select(func.count()).select_from(ACCOUNTS)).scalar_one())


def change_account(keep: Keep, account_id: str, version: int, **values: Any) -> Account:
    """Change an account that nobody else has changed since it was read.

    Raises
    ------
    Conflict
        If somebody has: it holds theirs, and what was to be written.
    """
    if "site_ids" in values:
        values["site_ids"] = _as_list(values["site_ids"])
    done = keep.connection.execute(
        update(ACCOUNTS)
        .where(ACCOUNTS.c.id == account_id, ACCOUNTS.c.version == version)
        .values(**values, version=version + 1)
    )
    if done.rowcount != 1:
        raise Conflict(
            "Somebody else has changed this account meanwhile.",
            hint="Nothing of yours was written. Compare both, then write yours again or leave theirs.",
            theirs=account_of(keep, account_id),
            yours=values,
        )
    return account_of(keep, account_id)


def set_password(keep: Keep, account_id: str, password_hash: str) -> None:
    """Keep the hash of a new password."""
    keep.connection.execute(update(ACCOUNTS).where(ACCOUNTS.c.id == account_id).values(password_hash=password_hash))


def set_seen(keep: Keep, account_id: str) -> None:
    """Write down that the person was here."""
    keep.connection.execute(update(ACCOUNTS).where(ACCOUNTS.c.id == account_id).values(last_seen_utc=keep.now_utc))


def add_invitation(
    keep: Keep,
    *,
    secret_sha256: str,
    role: Role,
    site_ids: SiteIds,
    for_whom: str,
    by: str,
    expires_utc: datetime,
    account_id: str | None = None,
) -> Invitation:
    """Keep an invitation; its secret is known to whoever holds the link alone."""
    row = {
        "id": new_id(keep.now_utc),
        "secret_sha256": secret_sha256,
        "role": role,
        "site_ids": _as_list(site_ids),
        "for_whom": for_whom,
        "by": by,
        "at_utc": keep.now_utc,
        "expires_utc": expires_utc,
        "is_withdrawn": False,
        "account_id": account_id,
    }
    keep.connection.execute(insert(INVITATIONS).values(row))
    return _invitation(keep.connection.execute(select(INVITATIONS).where(INVITATIONS.c.id == row["id"])).one())


def invitation_with(keep: Keep, secret_sha256: str) -> Invitation | None:
    """The invitation whose link holds this secret."""
    found = select(INVITATIONS).where(INVITATIONS.c.secret_sha256 == secret_sha256)
    row = keep.connection.execute(found).one_or_none()
    return None if row is None else _invitation(row)


def list_invitations(keep: Keep) -> tuple[Invitation, ...]:
    """Every invitation, the newest first."""
    return tuple(map(_invitation, keep.connection.execute(select(INVITATIONS).order_by(INVITATIONS.c.id.desc()))))


def use_invitation(keep: Keep, invitation_id: str, used_by: str) -> bool:
    """Mark an invitation as used; False where somebody was quicker."""
    done = keep.connection.execute(
        update(INVITATIONS)
        .where(
            INVITATIONS.c.id == invitation_id, INVITATIONS.c.used_utc.is_(None), INVITATIONS.c.is_withdrawn.is_(False)
        )
        .values(used_utc=keep.now_utc, used_by=used_by)
    )
    return done.rowcount == 1


def withdraw_invitation(keep: Keep, invitation_id: str) -> Invitation:
    """Let an invitation be used no longer.

    Raises
    ------
    NotFound
        If there is none of that id, or it was used already.
    """
    done = keep.connection.execute(
        update(INVITATIONS)
        .where(INVITATIONS.c.id == invitation_id, INVITATIONS.c.used_utc.is_(None))
        .values(is_withdrawn=True)
    )
    if done.rowcount != 1:
        raise NotFound("There is no such open invitation.", hint="It may have been used; look in the list of people.")
    return _invitation(keep.connection.execute(select(INVITATIONS).where(INVITATIONS.c.id == invitation_id)).one())


def withdraw_invitations_of(keep: Keep, account_id: str) -> None:
    """Let no older link set this account's password."""
    keep.connection.execute(
        update(INVITATIONS)
        .where(INVITATIONS.c.account_id == account_id, INVITATIONS.c.used_utc.is_(None))
        .values(is_withdrawn=True)
    )


def account_from(row: Row[Any]) -> Account:
    """The record of a row; columns beside those of the record are left out."""
    return Account(
        id=row.id,
        sign_in=row.sign_in,
        name=row.name,
        role=row.role,
        site_ids=_as_tuple(row.site_ids),
        units=row.units,
        is_active=row.is_active,
        created_utc=row.created_utc,
        last_seen_utc=row.last_seen_utc,
        version=row.version,
    )


def _invitation(row: Row[Any]) -> Invitation:
    values = dict(row._mapping)
    del values["secret_sha256"]
    return Invitation(**{**values, "site_ids": _as_tuple(values["site_ids"])})


def _as_list(site_ids: SiteIds) -> list[str] | None:
    return None if site_ids is None else list(site_ids)


def _as_tuple(site_ids: list[str] | None) -> tuple[str, ...] | None:
    return None if site_ids is None else tuple(site_ids)
