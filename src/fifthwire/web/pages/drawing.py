"""The drawing of a system's circuit: the first thing its page shows."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from fifthwire.web.asking import Asked
from fifthwire.workflow import places

router = APIRouter(prefix="/systems")


@router.get("/{system_id}")
def drawing(asking: Asked, system_id: str) -> HTMLResponse:
    """A system as its circuit."""
    whole = places.system_whole(asking.register, asking.who, system_id)
    return asking.page("systems/drawing.html", whole=whole, tab=asking.text("Drawing"))
