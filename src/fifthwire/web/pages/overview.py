"""The first page: what is to do now, the last visits, the sites."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from fifthwire.web.asking import Asked
from fifthwire.workflow.places import list_sites
from fifthwire.workflow.todo import list_actions
from fifthwire.workflow.visits_kept import list_visits

N_ACTIONS = 8
"""What is to do, as far as the first page shows it."""
N_VISITS = 5

router = APIRouter()


@router.get("/")
def overview(asking: Asked) -> HTMLResponse:
    """What is to do over all sites."""
    sites = list_sites(asking.register, asking.who)
    actions = list_actions(asking.register, asking.who, state="open")
    visits = list_visits(asking.register, asking.who)
    return asking.page(
        "overview.html",
        sites=sites,
        actions=actions.rows[:N_ACTIONS],
        n_actions=actions.n_rows,
        visits=visits.rows[:N_VISITS],
    )
