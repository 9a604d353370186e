"""Files in and out: what cannot be read is said with its name, and what is written is written whole or not at all.

Every failure of the file system becomes an `InputError` here, so that no door needs to know about `OSError`.
"""

import os
from typing import TYPE_CHECKING

from fifthwire.model.errors import Problem, VisitFileError

if TYPE_CHECKING:
    from pathlib import Path  # at run time only where a file is written: it costs 4 ms of every run

LARGEST_FILE_BYTES = 10_000_000
"""Our choice: a visit of 1,000 valves takes about 1 MB."""


def file_error(name: str, message: str, hint: str = "") -> VisitFileError:
    """An error about a file as a whole."""
    return VisitFileError(name, (Problem(place="", message=message, hint=hint),))


def read_file(path: "str | Path", *, largest_bytes: int = LARGEST_FILE_BYTES) -> bytes:
    """The bytes of a file.

    Parameters
    ----------
    path : str or Path
        The file.
    largest_bytes : int
        What it may have at most; left out: 10 MB, as a visit file.

    Raises
    ------
    VisitFileError
        If there is no such file, it is a directory, it may not be read, or it is larger.
    """
    try:
        with open(path, "rb") as stream:  # noqa: PTH123 - see the import of Path
            content = stream.read(largest_bytes + 1)
    except FileNotFoundError as err:
        raise file_error(str(path), "there is no such file", _like(str(path))) from err
    except IsADirectoryError as err:
        raise file_error(str(path), "is a directory, not a file", "Name the file in it.") from err
    except PermissionError as err:
        raise file_error(str(path), "may not be read", "Ask for the right to read it.") from err
    except (OSError, ValueError) as err:
        raise file_error(str(path), f"cannot be read: {_why(err)}") from err
    return checked_size(content, str(path), largest_bytes=largest_bytes)


def checked_size(content: bytes, name: str, *, largest_bytes: int = LARGEST_FILE_BYTES) -> bytes:
    """The content, unless it is too large to be a file of ours."""
    if len(content) > largest_bytes:
        hint = (
            "A visit file is text of a few kilobytes." if largest_bytes == LARGEST_FILE_BYTES else "Send a smaller one."
        )
        raise file_error(name, f"is larger than {largest_bytes // 1_000_000} MB", hint)
    return content


def refuse_existing(path: "str | Path", *, overwrite: bool) -> None:
    """Stop before a file that is already there; an empty one holds nothing to lose.

    Raises
    ------
    VisitFileError
        If the file is there and holds something, or is a directory, or its directory is missing.
    """
    from pathlib import Path

    target = Path(path)
    try:
        if target.is_dir():
            raise file_error(str(path), "is a directory, not a file", "Add a file name.")
        if not target.parent.is_dir():
            raise file_error(str(path), f"there is no directory {target.parent}", "Make it first.")
        if not overwrite and target.exists() and target.stat().st_size > 0:
            raise file_error(str(path), "is there already; it was left alone", "Add --overwrite to replace it.")
    except (OSError, ValueError) as err:
        if isinstance(err, VisitFileError):
            raise
        raise file_error(str(path), f"cannot be written: {_why(err)}") from err


def write_file(path: "str | Path", content: bytes, *, overwrite: bool = False) -> None:
    """Write a file whole or not at all: into a neighbour first, which then takes the name.

    Parameters
    ----------
    path : str or Path
        Where to.
    content : bytes
        The whole of it.
    overwrite : bool
        Whether a file that is already there is replaced.

    Raises
    ------
    VisitFileError
        If the file is already there, or the place cannot be written.
    """
    from pathlib import Path

    refuse_existing(path, overwrite=overwrite)
    try:
        target = Path(path).resolve()  # a link keeps pointing at the file it pointed at
        if target.exists() and not target.is_file():
            target.write_bytes(content)  # a pipe or a terminal has nothing to replace
        else:
            _replace(target, content)
    except PermissionError as err:
        raise file_error(str(path), "may not be written", "Ask for the right to write there.") from err
    except (OSError, ValueError) as err:
        raise file_error(str(path), f"cannot be written: {_why(err)}") from err


def _replace(target: "Path", content: bytes) -> None:
    neighbour = target.with_name(f".{target.name}.{os.getpid()}.tmp")
    try:
        with neighbour.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if target.exists():
            neighbour.chmod(target.stat().st_mode & 0o7777)
        neighbour.replace(target)
    finally:
        neighbour.unlink(missing_ok=True)


def _why(err: Exception) -> str:
    return (getattr(err, "strerror", None) or str(err)).lower()


def _like(path: str) -> str:
    """The file in the same directory whose name is nearest, as a hint."""
    from difflib import get_close_matches
    from pathlib import Path

    wanted = Path(path)
    try:
        beside = [entry.name for entry in wanted.parent.iterdir()]
    except (OSError, ValueError):
        return f"There is no directory {wanted.parent} either."
    near = get_close_matches(wanted.name, beside, n=1)
    return f"Did you mean {wanted.with_name(near[0])}?" if near else ""
