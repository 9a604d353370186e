"""`fifthwire serve`: the register's pages in a browser, for one person or for several who sign in."""

import getpass
import sys
from argparse import Namespace
from typing import Final

from fifthwire import __version__
from fifthwire.cli.exits import DONE
from fifthwire.cli.terminal import terminal
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.serving import address_of, listening, require_own_machine, serve
from fifthwire.web.settings import LOCAL_HOSTS, Settings
from fifthwire.web.work import Progress
from fifthwire.workflow import people
from fifthwire.workflow.register_place import Register, data_file, open_place
from fifthwire.workflow.tls import Certificate, given_certificate, keys_directory, own_certificate

OWN_MACHINE: Final = "127.0.0.1"
EVERYWHERE: Final = "0.0.0.0"
"""Only where people sign in and the connection is encrypted."""


def run(arguments: Namespace) -> int:
    """Open the register and serve its pages until stopped."""
    certificate = _certificate(arguments)
    host = arguments.host or (EVERYWHERE if certificate else OWN_MACHINE)
    require_own_machine(host, is_shared=arguments.shared, is_secure=certificate is not None)
    settings = Settings(
        is_demo=arguments.demo,
        is_shared=arguments.shared,
        is_secure=certificate is not None,
        hosts=_hosts(certificate),
        certificate=certificate,
    )
    with listening(host, arguments.port) as at, _register(arguments) as register:
        who = None if arguments.shared else alone(_name())
        app = create_app(register, alone=who, settings=settings, make_demo=None if who is None else _demo_register)
        address = address_of(at, _shown_host(host, certificate), settings)

        def ready() -> None:
            _tell(f"{address}    register {register.where.shown}    stop with Ctrl-C")
            for line in _words_for_sharing(register, address, certificate) if arguments.shared else ():
                _tell(line)
            if not arguments.no_browser:
                _open_browser(address)

        serve(app, at, on_ready=ready)
        app.state.registers.close_demo()
    return DONE


def _register(arguments: Namespace) -> Register:
    """The register that is served.

    Raises
    ------
    InputError
        If the demo register is to be shared, or another one is named beside it.
    """
    if not arguments.demo:
        return open_place(arguments.register)
    if arguments.shared or arguments.register:
        raise InputError("The demo register is for one person to look around in.", "Leave --shared and --register out.")
    return _demo_register(_tell_progress)


def _demo_register(progress: Progress) -> Register:
    """The demo register of this version, made the first time."""
    from fifthwire.demo.register import open_demo_register

    return open_demo_register(data_file(f"demo-{__version__}.sqlite"), progress=progress)


def _tell_progress(n_done: int, n_all: int) -> None:
    screen = terminal(sys.stderr)
    if n_done == 1:
        screen.show(f"Making the demo register: {n_all} invented visits.")


def _certificate(arguments: Namespace) -> Certificate | None:
    """With what the connection is encrypted.

    Raises
    ------
    InputError
        If the options contradict one another.
    """
    wants = arguments.tls or arguments.certificate or arguments.key or arguments.name
    if wants and not arguments.shared:
        raise InputError("Only a shared register is served over TLS.", "Add --shared, or leave TLS out.")
    if arguments.tls and (arguments.certificate or arguments.key):
        raise InputError("--tls makes a certificate, --certificate takes one: not both.", "Leave one of them out.")
    if bool(arguments.certificate) != bool(arguments.key):
        raise InputError("--certificate and --key belong together.", "Give both.")
    if arguments.name and not arguments.tls:
        raise InputError("--name is for the certificate that --tls makes.", "Add --tls.")
    if arguments.certificate:
        return given_certificate(arguments.certificate, arguments.key)
    return own_certificate(keys_directory(), arguments.name or None) if arguments.tls else None


def _hosts(certificate: Certificate | None) -> tuple[str, ...]:
    """Names that are answered to: those of the own certificate. Those of a company's may hold patterns: all are."""
    if certificate is None or certificate.authority_path is None:
        return ()
    return tuple(dict.fromkeys((*(name.lower() for name in certificate.names), *LOCAL_HOSTS)))


def _shown_host(host: str, certificate: Certificate | None) -> str:
    """A name that the certificate is good for, where it listens everywhere: one that others know before our own."""
    if host != EVERYWHERE or certificate is None:
        return host
    known = [name for name in certificate.names if "*" not in name and name not in LOCAL_HOSTS]
    return next((name for name in known if "." in name), known[0] if known else "localhost")


def _words_for_sharing(register: Register, address: str, certificate: Certificate | None) -> list[str]:
    """What the one at the terminal has to pass on: the first owner's link, and how phones come to trust it."""
    lines = []
    if not people.has_accounts(register):
        invited = people.invite(register, alone(_name()), role="owner", for_whom="the first owner")
        lines += ["Nobody has an account yet. Open this link to make the first owner; it works once, for 72 hours:"]
        lines += [f"  {address}join/{invited.secret}"]
    if certificate is not None and certificate.authority_path is not None:
        lines += [f"On each phone, once: open {address}trust and compare the fingerprint there with this one:"]
        lines += [f"  {certificate.authority_fingerprint}"]
    if certificate is not None:
        lines += [f"The certificate is good until {certificate.not_after_utc:%d %B %Y}, for {_names(certificate)}."]
    return lines


def _names(certificate: Certificate) -> str:
    return ", ".join(certificate.names)


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
