"""Where the register is, and what is done with it as a whole: open it, back it up, check it, move it."""

import os
from pathlib import Path
from typing import Final

from fifthwire.register.store import Keep, Register, open_register

__all__ = ["Keep", "Register", "open_place", "register_url"]

REGISTER_VARIABLE: Final = "FIFTHWIRE_REGISTER"
"""Environment variable that names the register where no option does."""
REGISTER_NAME: Final = "register.sqlite"


def register_url(given: str | None) -> str:
    """Where the register is: as given, else as the environment says, else in the directory for a user's data.

    Parameters
    ----------
    given : str or None
        A path, `sqlite:///PATH` or `postgresql://...`; None where nothing was said.
    """
    written = given or os.environ.get(REGISTER_VARIABLE)
    return written or str(_data_directory() / REGISTER_NAME)


def open_place(given: str | None, *, create: bool = True) -> Register:
    """Open the register there, and make it where there is none.

    Raises
    ------
    NotFound
        If there is none and none is to be made.
    RegisterError
        If it is damaged, of a later version, or cannot be reached.
    """
    url = register_url(given)
    if given is None and create and url == str(_data_directory() / REGISTER_NAME):
        _data_directory().mkdir(parents=True, exist_ok=True)
    return open_register(url, create=create)


def _data_directory() -> Path:
    from platformdirs import user_data_path

    return user_data_path("fifthwire", appauthor=False)
