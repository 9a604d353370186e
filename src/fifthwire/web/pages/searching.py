"""The one search box over everything that is kept."""

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from fifthwire.model.kept.notes import Hit
from fifthwire.web.asking import Asked
from fifthwire.web.labels import HIT_WORDS
from fifthwire.workflow.search import search

ADDRESSES = {
    "site": "/sites/{}",
    "system": "/systems/{}",
    "unit": "/units/{}/change",
    "valve": "/valves/{}",
    "visit": "/visits/{}",
    "spec": "/manuals/{}",
    "meter": "/meters/{}",
    "action": "/todo/{}",
}
"""Kind of what was found -> its page."""

router = APIRouter()


@router.get("/search")
def found(asking: Asked) -> HTMLResponse:
    """What holds the words that were typed."""
    words = asking.query("q")
    hits = search(asking.register, asking.who, words, asking.page_number()) if words else None
    return asking.page("search.html", hits=hits, kind_words=HIT_WORDS, address_of=address_of)


def address_of(hit: Hit) -> str:
    """The page of what was found; of a note, that of what it is about."""
    kind, id_ = (hit.about_kind or "", hit.about_id or "") if hit.kind == "note" else (hit.kind, hit.id)
    return ADDRESSES[kind].format(id_)
