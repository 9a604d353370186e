"""The hidden key of every form: it proves that a form was filled in on a page of ours, by the one who is signed in.

The key is worked out from a secret that the browser alone holds (its cookie), so that nothing has to be kept; alone on
one machine, from a secret of the running program.
"""

import hmac
import secrets
from typing import Final

from fastapi import Depends, HTTPException, Request

from fifthwire.web.posted import LONGEST_TEXT, MOST_FIELDS, MOST_FILES

FIELD: Final = "form_key"
HEADER: Final = "x-form-key"
SAFE_METHODS: Final = ("GET", "HEAD", "OPTIONS")
NOT_OURS: Final = "What was sent did not come from a page of this register. Nothing was changed."


class FormKeys:
    """Keys of one running program."""

    def __init__(self) -> None:
        self._of_program = secrets.token_bytes(32)

    def alone(self) -> str:
        """The key of the one person who uses a register alone."""
        return hmac.new(self._of_program, b"alone", "sha256").hexdigest()

    @staticmethod
    def of(secret: str) -> str:
        """The key of a browser that holds this secret in its cookie."""
        return hmac.new(secret.encode("utf-8", "replace"), b"form", "sha256").hexdigest()


def fits(request: Request, given: object) -> bool:
    """Whether a key is that of the one who asks."""
    key: str = getattr(request.state, "form_key", "")
    return bool(key) and isinstance(given, str) and hmac.compare_digest(key.encode(), given.encode("utf-8", "replace"))


async def require_form_key(request: Request) -> None:
    """Refuse a form that was not filled in on a page of ours. Other programs' requests are looked at by the entrance.

    Raises
    ------
    HTTPException
        403 where the key is missing or another.
    """
    if request.method in SAFE_METHODS or request.url.path.startswith("/api/"):
        return
    given: object = request.headers.get(HEADER)
    if given is None:
        form = await request.form(max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=LONGEST_TEXT)
        given = form.get(FIELD)
    if not fits(request, given):
        raise HTTPException(status_code=403, detail=NOT_OURS)


GUARDED: Final = (Depends(require_form_key),)
"""Dependencies of the whole app."""
