"""The priors: the copy that the program ships, or a user's own file."""

import fifthwire.diagnosis
from fifthwire.diagnosis.priors import Priors, parse_priors
from fifthwire.model.errors import InputError
from fifthwire.workflow.files import file_error, read_file
from fifthwire.workflow.shipped import shipped_file

SHIPPED_PRIORS = "priors.toml"


def load_priors(path: str | None = None, *, with_checksum: bool = True) -> Priors:
    """The laws by which heads are judged.

    Parameters
    ----------
    path : str or None
        A user's priors file; None for the shipped one.
    with_checksum : bool
        Whether the checksum of the text is worked out, which only reports print: it costs 3 ms of every run.

    Raises
    ------
    VisitFileError
        If the file cannot be read or is not a priors file.
    """
    content = shipped_file(fifthwire.diagnosis, SHIPPED_PRIORS) if path is None else read_file(path)
    name = path or SHIPPED_PRIORS
    try:
        return parse_priors(content.decode("utf-8"), _checksum(content) if with_checksum else "")
    except UnicodeDecodeError as err:
        raise file_error(name, "is not UTF-8 text", "Start again from the file that came with the program.") from err
    except (InputError, ValueError, RecursionError) as err:
        message = getattr(err, "message", str(err)).removeprefix("priors: ")
        raise file_error(name, message, getattr(err, "hint", "")) from err


def _checksum(content: bytes) -> str:
    from hashlib import sha256

    return sha256(content).hexdigest()
