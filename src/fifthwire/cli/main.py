"""The door: parse, run one command, turn what happened into an exit code."""

import os
import sys
from argparse import Namespace
from collections.abc import Callable

from fifthwire.cli.exits import BUG, INPUT, error_lines, exit_code
from fifthwire.cli.parser import build_parser
from fifthwire.model.errors import FifthwireError


def main(argv: list[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    argv : list[str] or None
        Words after the program's name; None for those of the process.

    Returns
    -------
    int
        0 done, 2 input of any kind, 3 no answer, 1 a fault of the program.
    """
    _open_missing_streams()
    try:
        return _run(argv)
    except SystemExit as stop:  # argparse: help, version, or words it does not know
        return stop.code if isinstance(stop.code, int) else INPUT
    except FifthwireError as error:
        for line in error_lines(error):
            _tell(line)
        return exit_code(error)
    except KeyboardInterrupt as error:
        _tell("Stopped.")
        return exit_code(error)
    except BrokenPipeError as error:
        _swallow_the_rest()
        return exit_code(error)
    except OSError as error:  # files are read and written by `workflow`, which says more; this is the output itself
        _swallow_the_rest()
        _tell(f"The output cannot be written: {(error.strerror or str(error)).lower()}.")
        return exit_code(error)
    except Exception:  # noqa: BLE001 - the last door: whatever comes here is a fault of the program, and is said so
        from traceback import print_exc

        print_exc()
        _tell("This is a fault of the program, not of your file. Nothing was written half.")
        return BUG


def _open_missing_streams() -> None:
    """Where the process was started without a stream, it reads nothing and writes nowhere."""
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: PTH123, SIM115 - pathlib costs 4 ms; open to the end
    if sys.stdout is None:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - as above
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - as above


def _run(argv: list[str] | None) -> int:
    words = sys.argv[1:] if argv is None else argv
    parser = build_parser()
    arguments = parser.parse_args(words)
    if arguments.command is None:
        parser.print_help(sys.stderr)
        return INPUT
    code = _command(arguments.command)(arguments)
    sys.stdout.flush()  # a closed pipe shows itself here, not while the interpreter ends
    return code


def _command(name: str) -> Callable[[Namespace], int]:  # noqa: C901 - a case a command
    """The function of a command; each is imported only when it runs."""
    match name:
        case "assess":
            from fifthwire.cli.assess import run
        case "new":
            from fifthwire.cli.new import run
        case "touch":
            from fifthwire.cli.touch import run
        case "saturation":
            from fifthwire.cli.saturation import run
        case "pt-chart":
            from fifthwire.cli.pt_chart import run
        case "sensor":
            from fifthwire.cli.sensor import run
        case "simulate":
            from fifthwire.cli.simulate import run
        case "atlas":
            from fifthwire.cli.atlas import run
        case "make-log":
            from fifthwire.cli.make_log import run
        case "demo":
            from fifthwire.cli.demo import run
        case _:
            from fifthwire.cli.completion import run
    return run


def _tell(line: str) -> None:
    from fifthwire.cli.terminal import terminal

    try:
        terminal(sys.stderr).show(line)
    except BrokenPipeError:
        _swallow_the_rest()


def _swallow_the_rest() -> None:
    """Point the closed stream elsewhere, so that the interpreter does not complain while it ends."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
