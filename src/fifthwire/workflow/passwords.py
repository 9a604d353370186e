"""Passwords: hashed so that a stolen register gives none away, and refused where anybody would guess them."""

from functools import cache
from threading import BoundedSemaphore
from typing import Final

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from fifthwire.model.errors import InputError

HASHER: Final = PasswordHasher()
"""Argon2id with the library's parameters (RFC 9106, low-memory profile); a hash made with older ones is made anew."""
SHORTEST: Final = 12
"""Characters.  Our choice; length counts, not kinds of character (NIST SP 800-63B asks for 8, from memory)."""
LONGEST: Final = 200
"""Characters: a limit to what is hashed for strangers.  Our choice."""
FEWEST_DIFFERENT: Final = 5
"""Different characters.  Our choice: `aaaaaaaaaaaa` is long and worth nothing."""
AT_ONCE: Final = BoundedSemaphore(2)
"""Each hash takes 64 MB and every core: more of them at once would let strangers stop the machine."""
ROWS: Final = (
    "1234567890", "abcdefghijklmnopqrstuvwxyz", "qwertyuiop", "asdfghjkl", "zxcvbnm", "password", "fifthwire",
)  # fmt: skip
"""What people repeat until it is long enough."""


def hash_password(password: str, *others: str) -> str:
    """The hash to keep of a new password.

    Parameters
    ----------
    password : str
        As typed; spaces count.
    *others : str
        What it must not be: the sign-in name, the person's name.

    Raises
    ------
    InputError
        If it is too short, too long or what anybody would try.
    """
    why = _refused(password, others)
    if why:
        raise InputError(f"This password {why}.", hint="Take four or five words that do not belong together.")
    with AT_ONCE:
        return HASHER.hash(password)


def fits(password: str, hashed: str | None) -> bool:
    """Whether a password is the one that was hashed; as slow where there is no hash."""
    with AT_ONCE:
        try:
            return HASHER.verify(hashed or _of_nobody(), password[: LONGEST + 1]) and hashed is not None
        except (VerificationError, InvalidHashError):
            return False


def is_outdated(hashed: str) -> bool:
    """Whether a hash was made with weaker parameters than those of today."""
    return HASHER.check_needs_rehash(hashed)


def _refused(password: str, others: tuple[str, ...]) -> str:
    plain = password.strip().lower()
    if len(password) < SHORTEST:
        return f"has {len(password)} characters, fewer than {SHORTEST}"
    if len(password) > LONGEST:
        return f"is longer than {LONGEST} characters"
    if len(set(plain)) < FEWEST_DIFFERENT:
        return "has the same few characters again and again"
    if any(_goes_round(plain, row) for row in (*ROWS, *others)):
        return "is a name or a row of the keyboard, again and again"
    return ""


def _goes_round(plain: str, row: str) -> bool:
    """`123456789012`, `poiuytrewqpo`, `rt14rt14rt14`: a part of a row that is written again and again, either way."""
    row = row.strip().lower()
    return bool(row) and any(plain in way * (len(plain) // len(way) + 2) for way in (row, row[::-1]))


@cache
def _of_nobody() -> str:
    """Checked where there is no such account, so that the time of an answer does not tell which names exist."""
    return HASHER.hash("nobody has this password")
