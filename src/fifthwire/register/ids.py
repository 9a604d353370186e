"""Ids: texts of 26 characters that sort by when they were made."""

import secrets
from datetime import datetime

from fifthwire.model.canonical import ID_LENGTH, base32, derived_id, is_derived

__all__ = ["ID_LENGTH", "derived_id", "is_derived", "new_id"]


def new_id(now_utc: datetime) -> str:
    """A new id: 48 bits of milliseconds since 1970, then 80 random bits (the layout of a ULID).

    Parameters
    ----------
    now_utc : datetime
        The moment, aware.
    """
    milliseconds = int(now_utc.timestamp() * 1000.0)
    return base32((milliseconds << 80) | secrets.randbits(80), ID_LENGTH)
