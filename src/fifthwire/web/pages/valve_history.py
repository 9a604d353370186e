"""A valve's windings over the years: chart, drift, table; and the chart as a file to print."""

import json

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from fifthwire.assessment.history.picture import WIDTHS, history_picture
from fifthwire.assessment.history.said import drift_sentences
from fifthwire.assessment.history.series import ValveHistory, valve_history
from fifthwire.assessment.history.table import chart_data, history_rows
from fifthwire.assessment.stave.sheet import circuit_document, circuit_element
from fifthwire.model import history_words
from fifthwire.model.errors import NotFound
from fifthwire.model.kept.whole import ValveWhole
from fifthwire.web.asking import Asked
from fifthwire.web.labels import ACCESS_WORDS
from fifthwire.web.svg_file import svg_file
from fifthwire.workflow import valves

router = APIRouter(prefix="/valves")


@router.get("/{valve_id}/history")
def history(asking: Asked, valve_id: str) -> HTMLResponse:
    """Every winding of every head, with work and drift."""
    whole = valves.valve_whole(asking.register, asking.who, valve_id)
    of = history_of(whole)
    return asking.page(
        "valves/history.html",
        whole=whole,
        tab=asking.text("History"),
        access_words=ACCESS_WORDS,
        history=of,
        drawing="" if of.is_empty else Markup(_drawings(of, whole)),
        chart="" if of.is_empty else json.dumps(chart_data(of)),
        heads=[(head, drift_sentences(head.drift), history_rows(head)) for head in reversed(of.heads)],
        test=history_words.TEST,
    )


@router.get("/{valve_id}/history.svg")
def history_file(asking: Asked, valve_id: str) -> Response:
    """The chart as a file of its own, to print or to keep."""
    whole = valves.valve_whole(asking.register, asking.who, valve_id)
    of = history_of(whole)
    if of.is_empty:
        raise NotFound(f"{whole.valve.label} was never read.", hint="Measure its windings on a visit first.")
    return svg_file(circuit_document(history_picture(of, title=_title(whole))))


def history_of(whole: ValveWhole) -> ValveHistory:
    """The readings of a valve, sorted."""
    spec = whole.spec.spec if whole.spec is not None else None
    return valve_history(whole.points, whole.heads, whole.work, spec)


def drift_called(whole: ValveWhole) -> tuple[str, ...]:
    """What the test of drift says of the head that is on a valve; empty where it calls nothing out."""
    present = [head for head in history_of(whole).heads if head.head is not None and head.head.is_present]
    return tuple(said for head in present if head.drift.called for said in drift_sentences(head.drift)[:1])


def _drawings(of: ValveHistory, whole: ValveWhole) -> str:
    pictures = [history_picture(of, width=width, title=_title(whole)) for width in WIDTHS]
    return "".join(circuit_element(picture, name=f"h{width}") for picture, width in zip(pictures, WIDTHS, strict=True))


def _title(whole: ValveWhole) -> str:
    return f"{whole.valve.label}: its windings over the years"
