"""How the pages are served."""

from typing import Final

from fifthwire.model.record import record
from fifthwire.workflow.tls import Certificate

DEFAULT_PORT: Final = 8470
"""Free of well-known uses.  Our choice."""
LOCAL_HOSTS: Final = ("127.0.0.1", "localhost", "::1")
"""Where the pages of one person alone may listen."""


@record
class Settings:
    """How the pages are served."""

    is_shared: bool = False
    """Whether people sign in; alone on one machine nobody does."""
    is_secure: bool = False
    """Whether the pages travel over TLS: cookies are then sent over nothing else."""
    is_demo: bool = False
    """Whether the register that is served is the demo register itself."""
    hosts: tuple[str, ...] = ()
    """Names and addresses that are answered to; empty: those of this machine alone, or where it is shared all."""
    certificate: Certificate | None = None
    """Of the own local authority, or of certificate files; None without TLS."""
