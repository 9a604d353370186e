"""What `systems draw`, `valves history` and `valves chart` show: the circuit, and the windings over the years."""

from argparse import Namespace

from fifthwire.assessment.history.picture import history_picture
from fifthwire.assessment.history.said import drift_sentences
from fifthwire.assessment.history.series import HeadSeries, ValveHistory, valve_history
from fifthwire.assessment.history.table import history_rows
from fifthwire.assessment.stave.plan import Circuit
from fifthwire.assessment.stave.sheet import circuit_document, circuit_picture
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, show_rows, tell
from fifthwire.cli.terminal import terminal
from fifthwire.model.errors import InputError
from fifthwire.model.kept.whole import SystemWhole, ValveWhole
from fifthwire.workflow.files import refuse_existing, write_file


def draw_circuit(whole: SystemWhole, arguments: Namespace) -> None:
    """Write the circuit of a system as SVG.

    Parameters
    ----------
    whole : SystemWhole
        The system.
    arguments : Namespace
        `things` ends with the file; `mode`, `overwrite`.
    """
    path = _svg(arguments)
    circuit = Circuit(system=whole.system, units=whole.units, valves=whole.valves, mode=arguments.mode)
    write_file(path, circuit_document(circuit_picture(circuit)).encode("utf-8"), overwrite=arguments.overwrite)
    tell(f"Written: {path}")


def draw_history(whole: ValveWhole, arguments: Namespace) -> None:
    """Write the windings of a valve over the years as SVG.

    Raises
    ------
    InputError
        If nothing was ever read of it.
    """
    path, history = _svg(arguments), _history(whole)
    if history.is_empty:
        raise InputError(f"{whole.valve.label} was never read.", "Measure its windings on a visit first.")
    picture = history_picture(history, title=f"{whole.valve.label}: its windings over the years")
    write_file(path, circuit_document(picture).encode("utf-8"), overwrite=arguments.overwrite)
    tell(f"Written: {path}")


def show_history(whole: ValveWhole, arguments: Namespace) -> None:
    """The windings of a valve over the years as a table, with the drift that is called out."""
    history = _history(whole)
    if arguments.json:
        heads = [
            {"head": as_plain(one.head), "drift": as_plain(one.drift), "windings": as_plain(one.windings)}
            for one in history.heads
        ]
        show_as_json({"valve_id": whole.valve.id, "at_c": history.at_c, "band_ohm": history.band_ohm, "heads": heads})
        return
    if history.is_empty:
        terminal().show(f"{whole.valve.label} was never read.")
    for head in reversed(history.heads):
        _show_head(head)


def _show_head(head: HeadSeries) -> None:
    since = "not known" if head.head is None or head.head.since is None else head.head.since
    terminal().show(f"Head since {since}")
    rows = [(row.day, *(cell or "–" for cell in row.cells)) for row in history_rows(head)]
    show_rows(("visit", *(winding.name for winding in head.windings)), rows, empty="")
    for sentence in drift_sentences(head.drift):
        terminal().show(sentence)


def _history(whole: ValveWhole) -> ValveHistory:
    return valve_history(whole.points, whole.heads, whole.work, whole.spec.spec if whole.spec is not None else None)


def _svg(arguments: Namespace) -> str:
    path: str = arguments.things[-1]
    if not path.lower().endswith(".svg"):
        raise InputError(f"{path} does not end with .svg.", "A drawing is written as SVG.")
    refuse_existing(path, overwrite=arguments.overwrite)
    return path
