"""One spelling for a value as JSON, and ids that are worked out from what they name."""

import json
from hashlib import sha256
from typing import Any, Final

DIGITS: Final = "0123456789abcdefghjkmnpqrstvwxyz"
"""Crockford's base 32: no i, l, o or u, so that an id read aloud is not misheard."""
ID_LENGTH: Final = 26
"""Characters of an id.  [1]"""
DERIVED: Final = "x"
"""First character of an id that was worked out; one that was made at a moment starts with 0 to 7."""


def canonical_json(value: Any) -> str:
    """JSON with sorted keys and no spaces.

    >>> canonical_json({"b": 1.5, "a": ["Ω", None]})
    '{"a":["Ω",null],"b":1.5}'
    """
    return json.dumps(value, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"))


def derived_id(*parts: str) -> str:
    """The id that these texts always have: 125 bits of their SHA-256.

    >>> derived_id("a", "b") == derived_id("a", "b") != derived_id("ab", "")
    True
    """
    digest = sha256("".join(f"{len(part)}:{part}" for part in parts).encode("utf-8", "surrogatepass")).digest()
    return DERIVED + base32(int.from_bytes(digest, "big") >> (256 - 125), ID_LENGTH - 1)


def is_derived(id_: str) -> bool:
    """Whether an id was worked out rather than made or given."""
    return len(id_) == ID_LENGTH and id_[0] == DERIVED


def base32(number: int, length: int) -> str:
    """The last `length` digits of a number to the base 32."""
    return "".join(DIGITS[(number >> shift) & 31] for shift in range(5 * (length - 1), -1, -5))
