"""Serve the pages: listen, say where, and go on until stopped."""

import logging
import socket
from collections.abc import Callable
from contextlib import suppress
from typing import Final

import uvicorn
from fastapi import FastAPI

from fifthwire.model.errors import InputError
from fifthwire.web.settings import LOCAL_HOSTS, Settings

IDLE_S: Final = 5
"""A browser's connection is kept this long between two pages.  [s]  Our choice."""
STOP_S: Final = 5
"""What is under way when the program is stopped may take this long.  [s]  Our choice."""


def require_own_machine(host: str, *, is_shared: bool = False, is_secure: bool = False) -> None:
    """Refuse to listen where others could reach pages that nobody signs in to, or read passwords on their way.

    Parameters
    ----------
    host : str
        Where to listen.
    is_shared : bool
        Whether people sign in.
    is_secure : bool
        Whether the connection is encrypted.

    Raises
    ------
    InputError
        If the host is not this machine alone and has to be.
    """
    if host in LOCAL_HOSTS or (is_shared and is_secure):
        return
    if is_shared:
        raise InputError(
            f"Passwords are not sent in the open: at {host} others on the network could read them.",
            "Add --tls, or --certificate and --key; or leave --host out, behind a server of your own.",
        )
    raise InputError(
        f"Pages of one person alone are not served at {host}: everybody who reaches it could change everything.",
        "Leave --host out, or serve it with --shared, where people sign in.",
    )


def listening(host: str, port: int) -> socket.socket:
    """A socket that listens there.

    Parameters
    ----------
    host : str
        A name or an address of this machine.
    port : int
        0 for any that is free.

    Raises
    ------
    InputError
        If another program listens there already, or nobody may.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    made = socket.socket(family, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
    except (OSError, OverflowError) as err:
        made.close()
        why = (getattr(err, "strerror", None) or str(err)).lower()
        raise InputError(
            f"{host}, port {port}: {why}.", "Choose another with --port; 0 takes any that is free."
        ) from err
    return made


def address_of(listening_at: socket.socket, host: str, settings: Settings) -> str:
    """What a person types into a browser."""
    shown = f"[{host}]" if ":" in host else host
    scheme = "https" if settings.is_secure else "http"
    return f"{scheme}://{shown}:{listening_at.getsockname()[1]}/"


def serve(app: FastAPI, at: socket.socket, *, on_ready: Callable[[], None]) -> None:
    """Serve until the program is stopped.

    Parameters
    ----------
    app : FastAPI
        The pages.
    at : socket
        From `listening`.
    on_ready : callable
        Called once, when the first page can be asked for.
    """
    certificate = app.state.settings.certificate
    config = uvicorn.Config(
        app,
        log_level=logging.WARNING,
        access_log=False,
        timeout_keep_alive=IDLE_S,
        timeout_graceful_shutdown=STOP_S,
        lifespan="off",
        server_header=False,
        proxy_headers=False,
        ssl_certfile=certificate.certificate_path if certificate else None,
        ssl_keyfile=certificate.key_path if certificate else None,
    )
    with suppress(KeyboardInterrupt):  # uvicorn has ended in order, then says so once more
        _Server(config, on_ready).run(sockets=[at])


class _Server(uvicorn.Server):
    """Says when it is ready."""

    def __init__(self, config: uvicorn.Config, on_ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._on_ready = on_ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self._on_ready()
