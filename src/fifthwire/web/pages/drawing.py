"""The drawing of a system's circuit: the first thing its page shows, and the same as a file to print."""

from typing import Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from fifthwire.assessment.stave.on_page import circuit_on_page
from fifthwire.assessment.stave.plan import Circuit
from fifthwire.assessment.stave.sheet import circuit_document, circuit_picture
from fifthwire.assessment.stave.valves import mark_key
from fifthwire.model.kept.places import VALVE_MARKS, ValvePlace
from fifthwire.model.kept.whole import SystemWhole
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.svg_file import svg_file
from fifthwire.workflow import places

PAPER_PX: Final = 1040
"""Width that the file is set to: a sheet of A4 on its side.  [px]"""
_COOLING, _HEATING, _MIXED = "cooling", "heating", "mixed"

router = APIRouter(prefix="/systems")


@router.get("/{system_id}")
def drawing(asking: Asked, system_id: str) -> HTMLResponse:
    """A system as its circuit."""
    whole = places.system_whole(asking.register, asking.who, system_id)
    modes = modes_of(whole)
    mode = mode_asked(asking, modes)
    return asking.page(
        "systems/drawing.html",
        whole=whole,
        tab=asking.text("Drawing"),
        circuit=Markup(circuit_on_page(circuit_of(whole, mode), valve_address)),
        modes=modes,
        mode=mode,
        lonely=lonely_branches(whole),
        keys=[key for key in VALVE_MARKS if key in {mark_key(row) for row in whole.valves}],
    )


@router.get("/{system_id}/circuit.svg")
def drawing_file(asking: Asked, system_id: str) -> Response:
    """The circuit as a file of its own, to print or to keep."""
    whole = places.system_whole(asking.register, asking.who, system_id)
    circuit = circuit_of(whole, mode_asked(asking, modes_of(whole)))
    return svg_file(circuit_document(circuit_picture(circuit, width=PAPER_PX)))


def circuit_of(whole: SystemWhole, mode: str) -> Circuit:
    """What is drawn of a system."""
    return Circuit(system=whole.system, units=whole.units, valves=whole.valves, mode=mode)


def lonely_branches(whole: SystemWhole) -> list[str]:
    """Branch units that no indoor unit is known to hang behind."""
    behind = {unit.branch_unit for unit in whole.units if unit.kind == "indoor"}
    return [unit.name for unit in whole.units if unit.kind == "branch" and unit.name not in behind]


def modes_of(whole: SystemWhole) -> tuple[str, ...]:
    """Ways in which a system can run."""
    return (_COOLING, _HEATING, _MIXED) if whole.system.is_heat_recovery else (_COOLING, _HEATING)


def mode_asked(asking: Asking, modes: tuple[str, ...]) -> str:
    """Which way the arrows point."""
    asked = asking.query("mode")
    return asked if asked in modes else modes[0]


def valve_address(valve: ValvePlace) -> str:
    """The page of a valve."""
    return f"/valves/{valve.id}"
