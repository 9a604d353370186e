"""Browsers and keys that are signed in, and attempts that failed, as they are kept."""

from dataclasses import asdict
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Row, delete, func, insert, select, update

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.people import Account, SignedIn, SignInKind
from fifthwire.register.ids import new_id
from fifthwire.register.people import account_from
from fifthwire.register.store import Keep
from fifthwire.register.tables.people import ACCOUNTS, FAILED_SIGN_INS, SIGN_INS


def add_sign_in(
    keep: Keep, account_id: str, *, kind: SignInKind, label: str, secret_sha256: str, expires_utc: datetime
) -> SignedIn:
    """Keep that a browser has signed in or that a key was made."""
    made = SignedIn(
        id=new_id(keep.now_utc),
        account_id=account_id,
        kind=kind,
        label=label,
        created_utc=keep.now_utc,
        seen_utc=keep.now_utc,
        expires_utc=expires_utc,
    )
    keep.connection.execute(insert(SIGN_INS).values(**asdict(made), secret_sha256=secret_sha256))
    return made


def sign_in_with(keep: Keep, secret_sha256: str) -> tuple[SignedIn, Account] | None:
    """The sign-in of a secret and its account, in one query; None where there is none, or the account is closed."""
    sign_in = [column.label(f"sign_in_of_{column.name}") for column in SIGN_INS.c]
    found = (
        select(ACCOUNTS, *sign_in)
        .join(SIGN_INS, SIGN_INS.c.account_id == ACCOUNTS.c.id)
        .where(SIGN_INS.c.secret_sha256 == secret_sha256, ACCOUNTS.c.is_active)
    )
    row = keep.connection.execute(found).one_or_none()
    return None if row is None else (_signed_in(row, "sign_in_of_"), account_from(row))


def list_sign_ins(keep: Keep, account_id: str) -> tuple[SignedIn, ...]:
    """Browsers and keys of an account, the newest first."""
    found = select(SIGN_INS).where(SIGN_INS.c.account_id == account_id, SIGN_INS.c.expires_utc > keep.now_utc)
    return tuple(_signed_in(row) for row in keep.connection.execute(found.order_by(SIGN_INS.c.id.desc())))


def see_sign_in(keep: Keep, sign_in_id: str) -> None:
    """Write down that it was used just now."""
    keep.connection.execute(update(SIGN_INS).where(SIGN_INS.c.id == sign_in_id).values(seen_utc=keep.now_utc))


def end_sign_in(keep: Keep, account_id: str, sign_in_id: str) -> None:
    """End one sign-in of an account.

    Raises
    ------
    NotFound
        If the account has none of that id.
    """
    done = keep.connection.execute(
        delete(SIGN_INS).where(SIGN_INS.c.id == sign_in_id, SIGN_INS.c.account_id == account_id)
    )
    if done.rowcount != 1:
        raise NotFound("There is no such sign-in of yours.", hint="It may have ended already.")


def end_all_sign_ins(keep: Keep, account_id: str, *, but: str | None = None) -> None:
    """End every sign-in and key of an account, except one."""
    where = SIGN_INS.c.account_id == account_id
    keep.connection.execute(delete(SIGN_INS).where(where if but is None else where & (SIGN_INS.c.id != but)))


def forget_ended(keep: Keep, seen_before_utc: datetime) -> None:
    """Remove sign-ins that can be used no longer."""
    idle = (SIGN_INS.c.kind == "browser") & (SIGN_INS.c.seen_utc < seen_before_utc)
    keep.connection.execute(delete(SIGN_INS).where((SIGN_INS.c.expires_utc <= keep.now_utc) | idle))


def add_attempt(keep: Keep, sign_in: str, address: str) -> str:
    """Count an attempt as failed until it has succeeded; its id."""
    row = {"id": new_id(keep.now_utc), "at_utc": keep.now_utc, "sign_in": sign_in, "address": address}
    keep.connection.execute(insert(FAILED_SIGN_INS).values(row))
    return str(row["id"])


def count_attempts(
    keep: Keep, since_utc: datetime, *, sign_in: str | None = None, address: str | None = None
) -> tuple[int, datetime | None]:
    """Failed attempts since a moment, of a name, from an address or both; and when the earliest of them was."""
    where: list[ColumnElement[bool]] = [FAILED_SIGN_INS.c.at_utc > since_utc]
    if sign_in is not None:
        where.append(FAILED_SIGN_INS.c.sign_in == sign_in)
    if address is not None:
        where.append(FAILED_SIGN_INS.c.address == address)
    row = keep.connection.execute(select(func.count(), func.min(FAILED_SIGN_INS.c.at_utc)).where(*where)).one()
    return int(row[0]), row[1]


def forget_attempt(keep: Keep, attempt_id: str) -> None:
    """Forget one try: it was stopped."""
    keep.connection.execute(delete(FAILED_SIGN_INS).where(FAILED_SIGN_INS.c.id == attempt_id))


def forget_attempts(keep: Keep, sign_in: str, address: str) -> None:
    """Forget what failed before it succeeded, from the same address."""
    failed = FAILED_SIGN_INS.c
    keep.connection.execute(delete(FAILED_SIGN_INS).where(failed.sign_in == sign_in, failed.address == address))


def forget_attempts_before(keep: Keep, moment_utc: datetime) -> None:
    """Forget what is too old to count."""
    keep.connection.execute(delete(FAILED_SIGN_INS).where(FAILED_SIGN_INS.c.at_utc <= moment_utc))


def _signed_in(row: Row[Any], prefix: str = "") -> SignedIn:
    names = ("id", "account_id", "kind", "label", "created_utc", "seen_utc", "expires_utc")
    return SignedIn(**{name: row._mapping[f"{prefix}{name}"] for name in names})
