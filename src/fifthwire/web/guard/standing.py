"""The guard before an app, and the pages of people.

app = FastAPI(..., dependencies=GUARDED)      every form shows that it comes from a page of ours
stand_guard(app)                              who asks, from where, how much; the headers of every answer
"""

from typing import Final

from fastapi import APIRouter, FastAPI

from fifthwire.model.errors import Conflict
from fifthwire.web.guard import own_account, people_pages, signing, trust
from fifthwire.web.guard.conflicts import answer_conflict
from fifthwire.web.guard.entrance import Entrance
from fifthwire.web.guard.form_key import FormKeys

PEOPLE_PAGES: Final[tuple[APIRouter, ...]] = (signing.router, own_account.router, people_pages.router, trust.router)
"""Sign in, one's own account, people and the audit list, trusting the register on a phone."""


def stand_guard(app: FastAPI) -> None:
    """Put the guard before an app whose `state` has `settings`, `alone` and `registers`."""
    app.state.form_keys = FormKeys()
    app.add_middleware(Entrance)
    app.add_exception_handler(Conflict, answer_conflict)
