"""`fifthwire serve`: the register's pages in a browser."""

import getpass
import sys
from argparse import Namespace

from fifthwire.cli.exits import DONE
from fifthwire.cli.terminal import terminal
from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.serving import address_of, listening, require_own_machine, serve
from fifthwire.web.settings import Settings
from fifthwire.workflow.register_place import open_place


def run(arguments: Namespace) -> int:
    """Open the register and serve its pages until stopped."""
    require_own_machine(arguments.host)
    settings = Settings()
    with listening(arguments.host, arguments.port) as at, open_place(arguments.register) as register:
        app = create_app(register, alone=alone(_name()), settings=settings)
        address = address_of(at, arguments.host, settings)

        def ready() -> None:
            _tell(f"{address}    register {register.where.shown}    stop with Ctrl-C")
            if not arguments.no_browser:
                _open_browser(address)

        serve(app, at, on_ready=ready)
    return DONE


def _tell(line: str) -> None:
    terminal(sys.stdout).show(line)
    sys.stdout.flush()


def _name() -> str:
    """The name that the one person signs with: that of the machine's account."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):  # an account without a name
        return ""


def _open_browser(address: str) -> None:
    import webbrowser

    if sys.stdout.isatty():  # nobody sits before a service
        webbrowser.open(address)
