"""Export: everything that is kept, in forms that other programs read."""

from datetime import UTC, datetime

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, StreamingResponse

from fifthwire.web.asking import Asked
from fifthwire.web.labels import EXPORT_WORDS
from fifthwire.workflow import lists, places

router = APIRouter(prefix="/export")


@router.get("")
def choose(asking: Asked) -> HTMLResponse:
    """What to export, of which site."""
    sites = [(site.id, site.name) for site in places.every_site(asking.register, asking.who)]
    whats = [(key, asking.text(label)) for key, label in EXPORT_WORDS.items()]
    return asking.page("export.html", sites=sites, whats=whats)


@router.get("/file")
def export(asking: Asked) -> StreamingResponse:
    """The export itself."""
    what = asking.query("what") if asking.query("what") in EXPORT_WORDS else "zip"
    content = lists.export_register(asking.register, asking.who, what, site_id=asking.query("site") or None)
    name = f"fifthwire-{what}-{datetime.now(UTC):%Y-%m-%d}.zip"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return StreamingResponse(content, media_type="application/zip", headers=headers)
