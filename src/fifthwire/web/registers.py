"""The registers that are served: one's own, and the demo register beside it while somebody wants to see it."""

from collections.abc import Callable
from threading import Lock

from fifthwire.web.work import Progress
from fifthwire.workflow.register_place import Register

MakeDemo = Callable[[Progress], Register]
"""Opens the demo register, making it the first time; tells its progress."""


class Registers:
    """The registers of one running program.

    Parameters
    ----------
    own : Register
        The one that is worked in.
    make_demo : callable or None
        Opens the demo register, making it the first time; None where it is not offered.
    """

    def __init__(self, own: Register, make_demo: MakeDemo | None = None) -> None:
        self._own = own
        self._make_demo = make_demo
        self._demo: Register | None = None
        self._lock = Lock()

    def of(self, *, is_demo: bool) -> Register:
        """The register to look at."""
        return self._demo if is_demo and self._demo is not None else self._own

    @property
    def has_demo(self) -> bool:
        """Whether the demo register is open."""
        return self._demo is not None

    @property
    def offers_demo(self) -> bool:
        """Whether it may be opened."""
        return self._make_demo is not None

    def open_demo(self, progress: Progress) -> None:
        """Open the demo register; it is made the first time, which takes a while."""
        with self._lock:
            if self._demo is None and self._make_demo is not None:
                self._demo = self._make_demo(progress)

    def close_demo(self) -> None:
        """Close it when the program ends; one's own is closed by whoever opened it."""
        if self._demo is not None:
            self._demo.close()
