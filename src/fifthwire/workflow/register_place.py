"""Where the register is, and what is done with it as a whole: open it, back it up, check it, move it."""

import os
from pathlib import Path
from typing import Final

from fifthwire.model.errors import InputError, RegisterError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.register_reports import MoveReport, RegisterCheck
from fifthwire.register import audit, whole
from fifthwire.register.store import Keep, Register, open_register
from fifthwire.register.wheres import where_of
from fifthwire.workflow.permission import require_everywhere

__all__ = ["Keep", "Register", "backup", "check", "data_file", "move", "open_place", "register_url", "restore"]

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
    if create and url == str(_data_directory() / REGISTER_NAME):
        _make_directory(_data_directory())
    return open_register(url, create=create)


def data_file(name: str) -> str:
    """A file of the program's own in the directory for a user's data, which is made where it is missing.

    Raises
    ------
    RegisterError
        If the directory cannot be made.
    """
    _make_directory(_data_directory())
    return str(_data_directory() / name)


def _make_directory(path: Path) -> None:
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        why = (err.strerror or str(err)).lower()
        raise RegisterError(
            f"The directory {path} cannot be made: {why}.", "Name a register: --register PATH."
        ) from err


def backup(register: Register, who: Person, path: str) -> RegisterCheck:
    """Copy the register into a new file while it is in use; the copy is looked through before it is kept.

    Parameters
    ----------
    register : Register
        As it is open.
    who : Person
        An owner of all sites.
    path : str
        The file to write; it may not be there yet.

    Raises
    ------
    InputError
        If the file is there already, or its directory is not.
    RegisterError
        If the copy is not whole: it is not kept.
    """
    require_everywhere(who, "own")
    found = whole.back_up(register, path)
    with register.adding() as keep:
        audit.write_down(keep, who, "backed-up", Path(path).name)
    return found


def restore(url: str, path: str) -> MoveReport:
    """Make a register out of a backup, which is looked through first.

    Parameters
    ----------
    url : str
        Where the register shall be: a file that is not there yet, or an empty database.
    path : str
        The backup.

    Raises
    ------
    RegisterError
        If the backup is damaged, or there is something at the register's place already.
    """
    if where_of(path).path is None:
        raise InputError(f"{path} is no file.", "A backup is one file: fifthwire register backup FILE.")
    return whole.restore(path, url)


def check(url: str) -> RegisterCheck:
    """Look a register through from end to end: what is damaged is told, not raised.

    Raises
    ------
    NotFound
        If there is none.
    """
    return whole.check(url)


def move(from_url: str, to_url: str) -> MoveReport:
    """Carry a register over into another place, and read it again there; the one it comes from stays as it is.

    Parameters
    ----------
    from_url : str
        Where it is.
    to_url : str
        A file that is not there yet, or an empty database.

    Raises
    ------
    NotFound
        If there is none to move.
    RegisterError
        If there is something at the new place already, or what is read there again differs: nothing is kept then.
    """
    with open_register(from_url, create=False) as register:
        return whole.move(register, to_url)


def _data_directory() -> Path:
    from platformdirs import user_data_path

    return user_data_path("fifthwire", appauthor=False)
