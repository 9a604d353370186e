"""How a register of an earlier version is brought up to this one; the newest version is named here."""

from typing import Final

HEAD: Final = "0001"
"""The version of the tables that this program writes."""
KNOWN: Final = ("0001",)
"""Every version that this program can bring up, oldest first."""
