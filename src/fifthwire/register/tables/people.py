"""Tables of people: accounts, invitations, sign-ins, failed ones, and the audit list.

No secret is kept: of a password its argon2 hash, of every link, cookie and key its SHA-256.
"""

from typing import Final

from sqlalchemy import Boolean, Column, Index, Integer, String, Table, Text

from fifthwire.register.tables.schema import METADATA, JsonText, UtcTime, id_column, id_of

SHA256_LENGTH: Final = 64
"""Hexadecimal digits."""

ACCOUNTS: Final = Table(
    "accounts",
    METADATA,
    id_column(),
    Column("sign_in", String(100), nullable=False, unique=True),
    Column("name", String(100), nullable=False),
    Column("role", String(20), nullable=False),
    Column("site_ids", JsonText),
    Column("units", String(2), nullable=False),
    Column("is_active", Boolean, nullable=False),
    Column("password_hash", Text, nullable=False),
    Column("created_utc", UtcTime, nullable=False),
    Column("last_seen_utc", UtcTime),
    Column("version", Integer, nullable=False),
)

INVITATIONS: Final = Table(
    "invitations",
    METADATA,
    id_column(),
    Column("secret_sha256", String(SHA256_LENGTH), nullable=False, unique=True),
    Column("role", String(20), nullable=False),
    Column("site_ids", JsonText),
    Column("for_whom", String(100), nullable=False),
    Column("by", String(100), nullable=False),
    Column("at_utc", UtcTime, nullable=False),
    Column("expires_utc", UtcTime, nullable=False),
    Column("used_utc", UtcTime),
    Column("used_by", String(100)),
    Column("is_withdrawn", Boolean, nullable=False),
    id_of("account_id", "accounts.id", nullable=True),
)

SIGN_INS: Final = Table(
    "sign_ins",
    METADATA,
    id_column(),
    Column("secret_sha256", String(SHA256_LENGTH), nullable=False, unique=True),
    id_of("account_id", "accounts.id"),
    Column("kind", String(10), nullable=False),
    Column("label", String(200), nullable=False),
    Column("created_utc", UtcTime, nullable=False),
    Column("seen_utc", UtcTime, nullable=False),
    Column("expires_utc", UtcTime, nullable=False),
)
Index(None, SIGN_INS.c.account_id)

FAILED_SIGN_INS: Final = Table(
    "failed_sign_ins",
    METADATA,
    id_column(),
    Column("at_utc", UtcTime, nullable=False),
    Column("sign_in", String(100), nullable=False),
    Column("address", String(100), nullable=False),
)
Index(None, FAILED_SIGN_INS.c.at_utc)

AUDIT: Final = Table(
    "audit",
    METADATA,
    id_column(),
    Column("at_utc", UtcTime, nullable=False),
    Column("by", String(100), nullable=False),
    Column("by_id", String(100), nullable=False),
    Column("what", String(40), nullable=False),
    Column("about", String(200), nullable=False),
    Column("detail", Text, nullable=False),
)
