"""Work that takes longer than a page may: done beside the pages, its progress shown until it has ended."""

import logging
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from secrets import token_urlsafe
from threading import Lock, Thread
from typing import Final

from fifthwire.model.errors import FifthwireError, NotFound

KEPT_FOR: Final = timedelta(hours=1)
"""What has ended is told for this long.  Our choice."""

Progress = Callable[[int, int], None]
"""Told how much is done, and of how much."""


class Work:
    """One piece of work that is under way, or has ended.

    Parameters
    ----------
    person_id : str
        Whose it is.
    title : str
        What is done, as the page says it.
    """

    def __init__(self, person_id: str, title: str) -> None:
        self.person_id = person_id
        self.title = title
        self.begun_utc = datetime.now(UTC)
        self.n_done = 0
        self.n_all = 0
        self.went_to: str | None = None
        """The page that shows the result, once it has ended well."""
        self.error: FifthwireError | None = None
        """Why it did not end well."""

    def progress(self, n_done: int, n_all: int) -> None:
        """Note how far it is."""
        self.n_done, self.n_all = n_done, n_all

    def run(self, does: Callable[[Progress], str]) -> None:
        """Do it; a fault of the program ends it with words, not with silence."""
        try:
            self.went_to = does(self.progress)
        except FifthwireError as error:
            self.error = error
        except Exception:
            logging.getLogger("fifthwire.web").exception("fault in %s", self.title)
            self.error = FifthwireError("This is a fault of the program. Nothing of it was kept.", "Try it once more.")


class RunningWork:
    """All work of one running program."""

    def __init__(self) -> None:
        self._work: dict[str, Work] = {}
        self._lock = Lock()

    def begin(self, person_id: str, title: str, does: Callable[[Progress], str]) -> str:
        """Begin a piece of work; the answer names it.

        Parameters
        ----------
        person_id : str
            Whose it is.
        title : str
            What is done.
        does : callable
            Does it, tells its progress, and answers the page that shows the result.
        """
        name, work = token_urlsafe(18), Work(person_id, title)
        with self._lock:
            old = datetime.now(UTC) - KEPT_FOR
            self._work = {key: one for key, one in self._work.items() if one.begun_utc > old}
            self._work[name] = work
        Thread(target=work.run, args=(does,), name=title, daemon=True).start()
        return name

    def of(self, name: str, person_id: str) -> Work:
        """A piece of work of this person.

        Raises
        ------
        NotFound
            If there is none of that name.
        """
        with self._lock:
            found = self._work.get(name)
        if found is None or found.person_id != person_id:
            raise NotFound("This work has ended long ago, or was begun by somebody else.", "Look for its result.")
        return found
