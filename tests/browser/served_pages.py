"""The pages of a register, served at a free port of this machine for tests with a browser."""

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Thread

import uvicorn
from fastapi import FastAPI
from playwright.sync_api import Browser, BrowserContext, Request

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1440, "height": 900}


@contextmanager
def served(app: FastAPI) -> Iterator[str]:
    """The address of an app while it is served."""
    with socket.create_server(("127.0.0.1", 0)) as at:
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", lifespan="off"))
        thread = Thread(target=server.run, kwargs={"sockets": [at]}, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        yield f"http://127.0.0.1:{at.getsockname()[1]}"
        server.should_exit = True
        thread.join(timeout=10)


def _was_left(request: Request) -> bool:
    """Whether a page was left before everything it loads had come."""
    return request.failure == "net::ERR_ABORTED"


@contextmanager
def visited(browser: Browser, address: str, **options: object) -> Iterator[tuple[BrowserContext, list[str]]]:
    """A browser that reaches this address and nothing else, and every complaint it makes."""
    complaints: list[str] = []
    context = browser.new_context(base_url=address, **options)  # type: ignore[arg-type]
    context.route(lambda url: not url.startswith((address, "data:")), lambda route: route.abort())
    context.on("console", lambda message: complaints.append(message.text))
    context.on("weberror", lambda error: complaints.append(str(error.error)))
    context.on("requestfailed", lambda request: None if _was_left(request) else complaints.append(request.url))
    yield context, complaints
    context.close()
