"""Ask at the terminal, or of a pipe: an answer that is not understood is said so and asked again."""

import sys
from collections.abc import Callable
from typing import TypeVar

from fifthwire.cli.terminal import Terminal, terminal
from fifthwire.model.errors import InputError

_T = TypeVar("_T")


class Ended(Exception):  # noqa: N818 - an end is no error
    """The person stopped, or the input is at its end."""

    def __init__(self, how: str) -> None:
        super().__init__(how)
        self.how = how


class Asker:
    """Asks questions on a screen and reads the answers from standard input."""

    def __init__(self, screen: Terminal) -> None:
        self.screen = screen
        self.was_misunderstood = False
        """Whether a line of a pipe was not understood: a person puts it right, a script has to be told."""
        if hasattr(sys.stdin, "reconfigure"):
            sys.stdin.reconfigure(errors="replace")
        self._is_typed = sys.stdin.isatty()

    def ask(self, question: str, meant: Callable[[str], _T]) -> _T:
        """Ask until the answer is understood.

        Raises
        ------
        Ended
            At the end of the input, and on Ctrl-C.
        """
        while True:
            line = self._line(question)
            try:
                return meant(line)
            except InputError as err:
                self.was_misunderstood = not self._is_typed
                self._tell(f"{err.message}. {err.hint}".strip())

    def _line(self, question: str) -> str:
        self.screen.stream.write(self.screen.printable(question) + " ")
        self.screen.stream.flush()
        try:
            line = sys.stdin.readline()
        except KeyboardInterrupt as err:
            self.screen.show()
            raise Ended("Stopped.") from err
        if not line:
            self.screen.show()
            raise Ended("The input ended.")
        if not self._is_typed:
            self.screen.show(line.rstrip("\r\n"))
        return line

    def _tell(self, message: str) -> None:
        to = self.screen if self._is_typed else terminal(sys.stderr)
        to.show(message[0].upper() + message[1:])
