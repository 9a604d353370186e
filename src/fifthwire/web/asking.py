"""One request: who asks, of which register, in which units and language, and how it is answered."""

from collections.abc import Mapping
from typing import Annotated, Any, Final
from urllib.parse import urlencode

from fastapi import Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.errors import NotAllowed
from fifthwire.model.kept.people import UNIT_SYSTEMS, Person, UnitSystem
from fifthwire.web.settings import Settings
from fifthwire.web.texts import language_for, texts_of
from fifthwire.workflow.register_place import Register

UNITS_COOKIE: Final = "units"
SCHEME_COOKIE: Final = "scheme"
SCHEMES: Final = ("auto", "light", "dark", "sun")
DEMO_COOKIE: Final = "demo"


class Asking:
    """A request and everything a page needs to answer it.

    Parameters
    ----------
    request : Request
        As it came in; `request.state.who` is the signed-in person where the register is shared.
    """

    def __init__(self, request: Request) -> None:
        self.request = request
        self.settings: Settings = request.app.state.settings

    @property
    def who(self) -> Person:
        """The person on whose behalf the page acts.

        Raises
        ------
        NotAllowed
            If nobody is signed in.
        """
        who: Person | None = getattr(self.request.state, "who", None) or self.request.app.state.alone
        if who is None:
            raise NotAllowed("Nobody is signed in.", hint="Sign in, then open the page again.")
        return who

    @property
    def register(self) -> Register:
        """The register that is looked at: the person's own, or the demo register while that is open."""
        held: Register = self.request.app.state.registers.of(is_demo=self.is_demo)
        return held

    @property
    def is_demo(self) -> bool:
        """Whether what is seen is invented."""
        if self.settings.is_demo:
            return True
        is_open: bool = self.request.app.state.registers.has_demo
        return is_open and self.request.cookies.get(DEMO_COOKIE) == "open"

    @property
    def units(self) -> UnitSystem:
        """SI or US: what was chosen on this device, else the person's."""
        chosen = self.request.cookies.get(UNITS_COOKIE)
        return next((one for one in UNIT_SYSTEMS if one == chosen), self.who.units)

    @property
    def scheme(self) -> str:
        """The screen as it was chosen on this device."""
        chosen = self.request.cookies.get(SCHEME_COOKIE, "")
        return chosen if chosen in SCHEMES else "auto"

    @property
    def language(self) -> str:
        """That of the page."""
        return language_for(self.request.headers.get("accept-language", ""))

    def text(self, message: str) -> str:
        """A text of the catalogue in the language of the page."""
        return texts_of(self.language).gettext(message)

    def page(self, template: str, *, status: int = 200, **values: Any) -> HTMLResponse:
        """A page made of a template."""
        from fifthwire.web.rendering import render

        return HTMLResponse(render(self, template, values), status_code=status)

    def go(self, path: str, *, done: str = "", **query: str) -> RedirectResponse:
        """On to another page after a change; `done` names what that page says of it (`said.SAID`)."""
        query = {**query, **({"done": done} if done else {})}
        return RedirectResponse(f"{path}?{urlencode(query)}" if query else path, status_code=303)

    def query(self, name: str) -> str:
        """A word of the address, without spaces around it; empty where it is not there."""
        return self.request.query_params.get(name, "").strip()

    def page_number(self) -> int:
        """Which page of a list: `page` of the address, 1 where it makes no sense."""
        given = self.query("page")
        return max(1, min(int(given), 1_000_000)) if given.isascii() and given.isdigit() and len(given) < 8 else 1

    def link(self, changes: Mapping[str, str | int | None]) -> str:
        """This page's own address with some words of its query changed."""
        kept = {key: value for key, value in self.request.query_params.items() if key != "done"}
        query = {key: str(value) for key, value in {**kept, **changes}.items() if value not in (None, "")}
        return f"{self.request.url.path}?{urlencode(query)}" if query else self.request.url.path


Asked = Annotated[Asking, Depends(Asking)]
"""Annotation of a route's parameter."""
