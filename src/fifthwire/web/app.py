"""The app: pages for people, the interface for other programs, what both load."""

from typing import Final

from fastapi import APIRouter, FastAPI

from fifthwire import __version__
from fifthwire.model.kept.people import Person
from fifthwire.web import static_files
from fifthwire.web.api import files as api_files
from fifthwire.web.api import manuals as api_manuals
from fifthwire.web.api import places as api_places
from fifthwire.web.api import todo as api_todo
from fifthwire.web.api import visits as api_visits
from fifthwire.web.errors import ERRORS_TOLD, answer_errors
from fifthwire.web.guard.form_key import GUARDED
from fifthwire.web.guard.standing import PEOPLE_PAGES, stand_guard
from fifthwire.web.held import HeldFiles
from fifthwire.web.pages import (
    drawing,
    exporting,
    importing,
    interface,
    manuals,
    meters,
    notes,
    overview,
    pictures,
    screen,
    searching,
    sites,
    systems,
    todo,
    units,
    valve_history,
    valve_lists,
    valves,
    visits,
    working,
)
from fifthwire.web.registers import MakeDemo, Registers
from fifthwire.web.settings import Settings
from fifthwire.web.visit_form import pages as filling
from fifthwire.web.work import RunningWork
from fifthwire.workflow.register_place import Register

PAGES: Final[tuple[APIRouter, ...]] = (
    overview.router,
    todo.router,
    sites.router,
    systems.router,
    drawing.router,
    units.router,
    valve_history.router,
    valves.router,
    visits.router,
    filling.router,
    manuals.router,
    meters.router,
    notes.router,
    pictures.router,
    searching.router,
    importing.router,
    valve_lists.router,
    exporting.router,
    interface.router,
    working.router,
    screen.router,
    *PEOPLE_PAGES,
)
"""Everything that a person may open."""
INTERFACE: Final[tuple[APIRouter, ...]] = (
    api_places.router,
    api_visits.router,
    api_todo.router,
    api_manuals.router,
    api_files.router,
)
"""Everything that another program may ask."""


def create_app(
    register: Register,
    *,
    alone: Person | None,
    settings: Settings | None = None,
    make_demo: MakeDemo | None = None,
) -> FastAPI:
    """The pages of a register.

    Parameters
    ----------
    register : Register
        The one that is worked in.
    alone : Person or None
        The one person who uses it; None where people sign in.
    settings : Settings, optional
        How it is served.
    make_demo : callable, optional
        Opens the demo register, making it the first time; left out where it is not offered.
    """
    app = FastAPI(
        title="Fifthwire",
        version=__version__,
        summary="What is kept of the expansion valves of variable-refrigerant-flow systems.",
        docs_url=None,  # pages that load scripts from elsewhere
        redoc_url=None,
        openapi_url="/api/openapi.json",
        dependencies=GUARDED,
    )
    app.state.alone = alone
    app.state.settings = settings or Settings()
    app.state.registers = Registers(register, make_demo)
    app.state.held = HeldFiles()
    app.state.work = RunningWork()
    answer_errors(app)
    stand_guard(app)
    app.include_router(static_files.router)
    for router in PAGES:
        app.include_router(router, include_in_schema=False)
    for router in INTERFACE:
        app.include_router(
            router, prefix="/api", responses=ERRORS_TOLD, generate_unique_id_function=lambda route: route.name
        )
    return app
