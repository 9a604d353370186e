"""The page that shows the HTTP interface for other programs, made from its OpenAPI."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from fifthwire.model.record import record
from fifthwire.web.asking import Asked

METHODS = ("get", "post", "put", "delete")

router = APIRouter()


@record
class Operation:
    """One thing that another program may ask."""

    method: str
    path: str
    summary: str


@router.get("/api")
def interface(asking: Asked) -> HTMLResponse:
    """What other programs may ask."""
    groups = operations(asking.request.app.openapi())
    return asking.page("interface.html", groups=groups, address=str(asking.request.base_url).rstrip("/"))


def operations(described: dict[str, Any]) -> dict[str, list[Operation]]:
    """What an OpenAPI describes, by its groups.

    Parameters
    ----------
    described : dict
        An OpenAPI document.
    """
    groups: dict[str, list[Operation]] = {}
    for path, methods in described["paths"].items():
        for method in METHODS:
            if method in methods:
                said = methods[method]
                one = Operation(method=method.upper(), path=path, summary=said.get("description") or said["summary"])
                groups.setdefault(next(iter(said.get("tags", ("",)))), []).append(one)
    return groups
