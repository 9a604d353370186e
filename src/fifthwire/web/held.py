"""Files that were looked at in a preview and not yet kept: held in memory for a while, each for the one who sent it."""

from datetime import UTC, datetime, timedelta
from secrets import token_urlsafe
from threading import Lock
from typing import Final

from fifthwire.model.errors import NotFound
from fifthwire.model.record import record
from fifthwire.web.posted import PostedFile

HELD_FOR: Final = timedelta(minutes=30)
"""Long enough to answer the questions of a preview.  Our choice."""
MOST_BYTES: Final = 200_000_000
"""Of all files held; the oldest give way.  Our choice."""


@record
class _Held:
    """A file and whose it is."""

    file: PostedFile
    person_id: str
    until_utc: datetime


class HeldFiles:
    """The files of all previews that are open."""

    def __init__(self) -> None:
        self._held: dict[str, _Held] = {}
        self._lock = Lock()

    def hold(self, file: PostedFile, person_id: str) -> str:
        """Hold a file; the answer names it."""
        name = token_urlsafe(18)
        with self._lock:
            self._forget_old()
            self._held[name] = _Held(file=file, person_id=person_id, until_utc=datetime.now(UTC) + HELD_FOR)
            while sum(len(one.file.content) for one in self._held.values()) > MOST_BYTES and len(self._held) > 1:
                del self._held[next(iter(self._held))]
        return name

    def held(self, name: str, person_id: str) -> PostedFile:
        """A file that is held for this person.

        Raises
        ------
        NotFound
            If it is held no longer, or for somebody else.
        """
        with self._lock:
            self._forget_old()
            found = self._held.get(name)
        if found is None or found.person_id != person_id:
            raise NotFound("The file is no longer held here. Nothing of it was kept.", "Choose the file again.")
        return found.file

    def forget(self, name: str) -> None:
        """Let a file go."""
        with self._lock:
            self._held.pop(name, None)

    def _forget_old(self) -> None:
        now = datetime.now(UTC)
        for name in [name for name, one in self._held.items() if one.until_utc < now]:
            del self._held[name]
