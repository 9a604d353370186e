"""Asks the app as a browser or a program would, without a server: `Client(app).get("/sites")`.

Starlette's own test client wants a package that is not among ours; httpx speaks to an app directly.
"""

import asyncio
from collections.abc import Mapping
from typing import Any

import httpx
from fastapi import FastAPI

from fifthwire.web.guard.form_key import FormKeys

ORIGIN = "http://localhost"


class Client:
    """Keeps its cookies from one request to the next and follows no redirect unless asked to.

    Parameters
    ----------
    app : FastAPI
        The app.
    origin : str
        Where it is served.
    headers : mapping
        Sent with every request.
    """

    def __init__(self, app: FastAPI, *, origin: str = ORIGIN, headers: Mapping[str, str] | None = None) -> None:
        self.app = app
        self.origin = origin
        self.headers = dict(headers or {})
        self.cookies = httpx.Cookies()

    def request(self, method: str, path: str, *, follow_redirects: bool = False, **given: Any) -> httpx.Response:
        """One request and its answer; a fault of the app is answered as a server would."""

        async def asked() -> httpx.Response:
            transport = httpx.ASGITransport(app=self.app, raise_app_exceptions=False)
            async with httpx.AsyncClient(
                transport=transport, base_url=self.origin, cookies=self.cookies, headers=self.headers
            ) as client:
                answer = await client.request(method, path, follow_redirects=follow_redirects, **given)
                self.cookies = client.cookies
                return answer

        return asyncio.run(asked())

    def get(self, path: str, **given: Any) -> httpx.Response:
        """Open a page."""
        return self.request("GET", path, **given)

    def post(self, path: str, data: Mapping[str, Any] | None = None, **given: Any) -> httpx.Response:
        """Send a form as a page of ours does: from the same origin, with the key of its forms."""
        headers = {"origin": self.origin, "x-form-key": self.form_key(), **given.pop("headers", {})}
        return self.request("POST", path, data=data, headers=headers, **given)

    def form_key(self) -> str:
        """The key of this browser's forms, as a page of ours would hold it."""
        keys: FormKeys = self.app.state.form_keys
        secret = next((self.cookies[name] for name in self.cookies if "fifthwire" in name), None)
        return keys.alone() if secret is None else keys.of(secret)
