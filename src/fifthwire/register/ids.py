"""Ids: texts of 26 characters that sort by when they were made, and those that are worked out from what they name."""

import secrets
from datetime import datetime
from hashlib import sha256
from typing import Final

DIGITS: Final = "0123456789abcdefghjkmnpqrstvwxyz"
"""Crockford's base 32: no i, l, o or u, so that an id read aloud is not misheard."""
LENGTH: Final = 26
DERIVED: Final = "x"
"""First character of an id that was worked out; one that was made at a moment starts with 0 to 7."""


def new_id(now_utc: datetime) -> str:
    """A new id: 48 bits of milliseconds since 1970, then 80 random bits (the layout of a ULID).

    Parameters
    ----------
    now_utc : datetime
        The moment, aware.
    """
    milliseconds = int(now_utc.timestamp() * 1000.0)
    return _base32((milliseconds << 80) | secrets.randbits(80), LENGTH)


def derived_id(*parts: str) -> str:
    """The id that these texts always have.

    >>> derived_id("a", "b") == derived_id("a", "b") != derived_id("ab", "")
    True
    """
    digest = sha256("".join(f"{len(part)}:{part}" for part in parts).encode("utf-8", "surrogatepass")).digest()
    return DERIVED + _base32(int.from_bytes(digest, "big") >> (256 - 125), LENGTH - 1)


def is_derived(id_: str) -> bool:
    """Whether an id was worked out rather than made or given."""
    return len(id_) == LENGTH and id_[0] == DERIVED


def _base32(number: int, length: int) -> str:
    return "".join(DIGITS[(number >> shift) & 31] for shift in range(5 * (length - 1), -1, -5))
