"""Sign in, be known by the secret in a cookie or a key, sign out: only where a register is shared.

What is wrong is counted before the password is even looked at, so that many tries at once are as slow as one after
the other.
"""

import secrets
from collections.abc import Iterator
from datetime import datetime, timedelta
from hashlib import sha256
from typing import Final

from fifthwire.model.errors import InputError, NotAllowed, RegisterError, TooOften
from fifthwire.model.kept.people import Account, Person, SignedIn
from fifthwire.model.record import record
from fifthwire.register import people as kept_people
from fifthwire.register import signing_in as kept
from fifthwire.register.audit import write_down
from fifthwire.register.store import Keep, Register
from fifthwire.workflow.passwords import fits, hash_password, is_outdated
from fifthwire.workflow.permission import require

IDLE: Final = timedelta(hours=12)
"""A browser that was not used for so long has to sign in again.  Our choice: a long working day."""
BROWSER_LASTS: Final = timedelta(days=14)
"""However often it is used.  Our choice."""
KEY_DAYS: Final = 90
"""How long another program's key lasts unless told.  [days]  Our choice."""
MOST_KEY_DAYS: Final = 366
SEEN_EVERY: Final = timedelta(minutes=5)
"""How often it is written down that a browser is in use: not at each of its requests."""
LIMITS: Final = (
    (("sign_in", "address"), timedelta(minutes=15), 5),
    (("sign_in",), timedelta(minutes=15), 20),
    (("address",), timedelta(minutes=15), 50),
)
"""Of what, in how long, how many wrong passwords: then it waits.  Our choice."""
WRONG: Final = "The name or the password is wrong."
WRONG_HINT: Final = "Try again; where the password is lost, an owner can make a link for a new one."
SECRET_BYTES: Final = 32


@record
class Entered:
    """A browser or a program that is now signed in, and the secret by which it is known: shown this once."""

    secret: str
    signed_in: SignedIn
    person: Person


@record
class Known:
    """Whose secret it was."""

    signed_in: SignedIn
    account: Account

    @property
    def person(self) -> Person:
        """The actor of what is asked."""
        return self.account.person


def sign_in(register: Register, name: str, password: str, *, address: str, device: str = "") -> Entered:
    """Sign a browser in.

    Parameters
    ----------
    register : Register
        A shared one.
    name, password : str
        As typed.
    address : str
        Where the request comes from: wrong passwords are counted by it too.
    device : str
        What the browser says of itself.

    Raises
    ------
    TooOften
        After too many wrong passwords, right or not.
    NotAllowed
        If the name or the password is wrong, or the account is closed.
    """
    name = sign_in_name(name)
    with register.adding() as keep:  # kept before it is counted: of many tries at once each counts those before it
        attempt_id = kept.add_attempt(keep, name, address)
    _refuse_too_often(register, attempt_id, name, address)
    with register.reading() as keep:
        account = kept_people.account_named(keep, name)
        hashed = kept_people.password_hash_of(keep, account.id) if account else None
    if not fits(password, hashed) or account is None or not account.is_active:
        _write_down_if_last(register, name, address)
        raise NotAllowed(WRONG, hint=WRONG_HINT)
    with register.adding() as keep:
        if hashed is not None and is_outdated(hashed):
            kept_people.set_password(keep, account.id, hash_password(password))
        done = entered(keep, account, device)
    _tidy(register, account.id, name, address)
    return done


def entered(keep: Keep, account: Account, device: str) -> Entered:
    """A new secret for a browser of an account; the one that it may have had before is worth nothing here."""
    secret = secrets.token_urlsafe(SECRET_BYTES)
    signed_in = kept.add_sign_in(
        keep,
        account.id,
        kind="browser",
        label=device.strip()[:200],
        secret_sha256=digest(secret),
        expires_utc=keep.now_utc + BROWSER_LASTS,
    )
    write_down(keep, account.person, "signed-in", account.sign_in, device[:200])
    return Entered(secret=secret, signed_in=signed_in, person=account.person)


def known_by(register: Register, secret: str, *, kind: str = "browser") -> Known | None:
    """Whose secret this is; None where it is nobody's, has expired, or was not used for too long."""
    if not 20 <= len(secret) <= 100:
        return None
    with register.reading() as keep:
        found = kept.sign_in_with(keep, digest(secret))
        now = keep.now_utc
    if found is None or found[0].kind != kind or not _lasts(found[0], now):
        return None
    if now - found[0].seen_utc > SEEN_EVERY:
        _see(register, found[0])
    return Known(signed_in=found[0], account=found[1])


def sign_out(register: Register, known: Known) -> None:
    """End the sign-in of this browser."""
    with register.adding() as keep:
        kept.end_sign_in(keep, known.account.id, known.signed_in.id)
        write_down(keep, known.person, "signed-out", known.account.sign_in)


def sign_ins(register: Register, who: Person) -> tuple[SignedIn, ...]:
    """The person's own browsers and keys."""
    require(who, "read")
    with register.reading() as keep:
        found = kept.list_sign_ins(keep, who.id)
        return tuple(one for one in found if _lasts(one, keep.now_utc))


def end_sign_in(register: Register, who: Person, sign_in_id: str) -> None:
    """End one of the person's own sign-ins or keys: a phone that was lost, a program that is used no longer."""
    require(who, "read")
    with register.adding() as keep:
        kept.end_sign_in(keep, who.id, sign_in_id)
        write_down(keep, who, "sign-in-ended", sign_in_id)


def make_key(register: Register, who: Person, label: str, *, days: int = KEY_DAYS) -> Entered:
    """A key with which another program asks on the person's behalf: it may what the person may.

    Raises
    ------
    InputError
        If it has no label or would last longer than a year.
    """
    require(who, "read")
    if not label.strip() or not 1 <= days <= MOST_KEY_DAYS:
        raise InputError(
            f"A key needs a name and lasts 1 to {MOST_KEY_DAYS} days; {label[:40]!r} and {days} were given.",
            hint="Name the program that will use it. Nothing was made.",
        )
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with register.adding() as keep:
        account = kept_people.account_of(keep, who.id)
        signed_in = kept.add_sign_in(
            keep,
            account.id,
            kind="program",
            label=label.strip()[:200],
            secret_sha256=digest(secret),
            expires_utc=keep.now_utc + timedelta(days=days),
        )
        write_down(keep, who, "key-made", label.strip()[:200])
    return Entered(secret=secret, signed_in=signed_in, person=who)


def sign_in_name(typed: str) -> str:
    """A sign-in name as it is kept: case and spaces around it do not matter."""
    return typed.strip().lower()[:100]


def digest(secret: str) -> str:
    """What is kept of a secret. It is random and long, so that one round of SHA-256 gives nothing away."""
    return sha256(secret.encode("utf-8", "replace")).hexdigest()


def _lasts(signed_in: SignedIn, now_utc: datetime) -> bool:
    is_idle = signed_in.kind == "browser" and now_utc - signed_in.seen_utc > IDLE
    return now_utc < signed_in.expires_utc and not is_idle


def _see(register: Register, signed_in: SignedIn) -> None:
    """Where it cannot be written (a full disk), the sign-in ends sooner and nothing else happens."""
    try:
        with register.adding() as keep:
            kept.see_sign_in(keep, signed_in.id)
            kept_people.set_seen(keep, signed_in.account_id)
    except RegisterError:
        return


def _tidy(register: Register, account_id: str, name: str, address: str) -> None:
    """Forget what failed before it succeeded and what is too old to count; another time will do as well."""
    try:
        with register.adding() as keep:
            kept.forget_attempts(keep, name, address)
            kept.forget_attempts_before(keep, keep.now_utc - max(window for _, window, _ in LIMITS))
            kept.forget_ended(keep, keep.now_utc - IDLE)
            kept_people.set_seen(keep, account_id)
    except RegisterError:
        return


def _refuse_too_often(register: Register, attempt_id: str, name: str, address: str) -> None:
    """Stop a try that comes too soon; it does not count, or hammering on would keep the door shut for ever."""
    with register.adding() as keep:
        waits = [until - keep.now_utc for n, most, until in _counted(keep, name, address) if n > most]
        if waits:
            kept.forget_attempt(keep, attempt_id)
    if waits:
        wait_s = max(1, round(max(waits).total_seconds()))
        raise TooOften(
            "Too many wrong passwords. This one was not looked at.",
            hint=f"Try again in {-(-wait_s // 60)} min, or ask an owner for a link for a new password.",
            wait_s=wait_s,
        )


def _write_down_if_last(register: Register, name: str, address: str) -> None:
    """The audit list shows that somebody was stopped, once a stop."""
    stranger = Person(id="nobody", name="somebody", role="reader", site_ids=())
    with register.adding() as keep:
        if any(n == most for n, most, _ in _counted(keep, name, address)):
            write_down(keep, stranger, "sign-in-stopped", name, f"from {address}")


def _counted(keep: Keep, name: str, address: str) -> Iterator[tuple[int, int, datetime]]:
    """Of each limit: wrong passwords, how many may be, and when the earliest of them counts no longer."""
    of = {"sign_in": name, "address": address}
    for keys, window, most in LIMITS:
        n, since = kept.count_attempts(keep, keep.now_utc - window, **{key: of[key] for key in keys})
        yield n, most, (since or keep.now_utc) + window
