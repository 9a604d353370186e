"""The pages on which a visit is filled in: each form posts one thing, is kept at once, and comes back to its place."""

from collections.abc import Mapping, Sequence
from typing import Any, Final
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from fifthwire.assessment.drawing_plug import PairRead, plug_picture
from fifthwire.assessment.figures import difference, percent, plain
from fifthwire.assessment.marks import mark_of
from fifthwire.assessment.stave.sheet import circuit_element
from fifthwire.assessment.valve_words import action_words, cause_words, leading_fault, place_words, with_wires
from fifthwire.diagnosis.faults.care import cautions_of_action
from fifthwire.model.cautions import CAUTIONS
from fifthwire.model.choices import (
    MEASURED_WHEN,
    PROOF_KINDS,
    PROOF_RESULTS,
    WINDING_ARRANGEMENTS,
    WORK_DONE,
)
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import UnitSystem
from fifthwire.model.record import record
from fifthwire.model.running import Opening, StepTest
from fifthwire.model.valve import Valve
from fifthwire.model.words import how_sure, word
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.labels import WINDING_WORDS
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.web.visit_form.questions import SELDOM, Question, answered, questions
from fifthwire.workflow import places, visit_fill, visit_say, visits_kept
from fifthwire.workflow.make_safe import CONFIRMED_BY
from fifthwire.workflow.visit_fill import Filling, ValveFilling

PARTS: Final = ("before", "look", "measure", "move", "running", "do", "prove")
"""Of a valve's page, from top to bottom."""
CAUTIONS_OF: Final[dict[str, tuple[str, ...]]] = {
    "before": ("head-off", "plug-live"),
    "board": ("live-board",),
    "clip-on": ("hold-body", "coil-off"),
    "bolt-on": ("motor-off",),
    "do": ("clean-can", "leak-check", "circuit"),
}
"""Codes of `model.cautions`, shown where the step is taken."""

_MARK_OF: Final = {"sound": "good", "faulty": "bad", "undecided": "not-proven", "not-measured": "not-checked"}
OUTDOOR_ROLES: Final = ("main", "subcooler-bypass", "injection", "hot-gas-bypass", "receiver")

router = APIRouter(prefix="/visits/{visit_id}/fill")


@router.get("")
def list_of_visit(asking: Asked, visit_id: str) -> HTMLResponse:
    """The visit's list: making safe, how the system stands, every valve with what is written down of it."""
    filling = visit_fill.filling(asking.register, asking.who, visit_id)
    system, snapshot = (visit_fill.standing(filling.whole, table) for table in ("system", "snapshot"))
    return asking.page(
        "visit_form/list.html",
        filling=filling,
        kept=filling.whole.kept,
        sentence_of=CAUTIONS,
        system_questions=questions("system", system, asking.units),
        snapshot_questions=questions("snapshot", snapshot, asking.units),
        outdoor_questions=_outdoor_questions(filling, snapshot, asking.units),
        seldom_keys=SELDOM,
        photograph_of=("visit", visit_id),
        photograph_zone=places.site(asking.register, asking.who, filling.whole.kept.site_id).time_zone,
        address=valve_address,
    )


@router.get("/valve")
def valve_page(asking: Asked, visit_id: str) -> HTMLResponse:
    """One valve: before, look, measure, move, running, do, prove."""
    arrangement = asking.query("wires")
    when = asking.query("when")
    of = visit_fill.valve_filling(
        asking.register,
        asking.who,
        visit_id,
        asking.query("label"),
        when=when if when in MEASURED_WHEN else None,
        arrangement=arrangement if arrangement in WINDING_ARRANGEMENTS else None,
    )
    return asking.page("visit_form/valve.html", **_of_valve(asking, of))


@router.post("/valve")
def say_of_valve(asking: Asked, visit_id: str, form: PostedForm) -> RedirectResponse:
    """Keep what one form of a valve's page says."""
    label, part = form.needed("label", "The valve"), form.text("part")
    said = _SAID_BY.get(part)
    if said is None:
        raise InputError(f"{part[:40]!r} is no part of a valve's page. Nothing was kept.", "Open the page again.")
    said(asking, visit_id, label, form)
    return _back(asking, visit_id, label, form, part)


@router.post("/confirm")
def confirm(asking: Asked, visit_id: str, form: PostedForm) -> RedirectResponse:
    """Keep that a step of making safe is done, by the person who did it."""
    body = {"what": form.needed("what", "The step"), **({"value": form.text("value")} if form.text("value") else {})}
    visits_kept.add_entry(asking.register, asking.who, visit_id, "confirmations", body)
    return RedirectResponse(f"/visits/{visit_id}/fill#safe", status_code=303)


@router.post("/system")
def say_of_system(asking: Asked, visit_id: str, form: PostedForm) -> RedirectResponse:
    """Keep how the system stands, or how it ran."""
    part = form.text("part") if form.text("part") in ("snapshot", "outdoor") else "system"
    said = _answers(form, part, {}, asking.units)
    if part == "outdoor" and form.text("unit"):
        said = {"outdoor": {form.text("unit"): said}}
    table = "system" if part == "system" else "snapshot"
    visit_say.say_of_system(asking.register, asking.who, visit_id, table, said, version=form.version())
    return RedirectResponse(f"/visits/{visit_id}/fill#{table}", status_code=303)


def _outdoor_questions(
    filling: Filling, snapshot: Mapping[str, Any], units: UnitSystem
) -> list[tuple[str, tuple[Question, ...]]]:
    """Pressures and lines of each outdoor unit; those of an only one stand in the snapshot itself."""
    names = list(dict.fromkeys(line.valve.unit for line in filling.lines if line.valve.role in OUTDOOR_ROLES))
    held = snapshot.get("outdoor", {})
    if len(names) < 2 and not held:
        return [("", questions("outdoor", snapshot, units))]
    return [(name, questions("outdoor", held.get(name, {}), units)) for name in dict.fromkeys((*names, *held))]


def valve_address(visit_id: str, label: str) -> str:
    """The page on which a valve of a visit is filled in."""
    return f"/visits/{visit_id}/fill/valve?label={quote(label, safe='')}"


def _back(asking: Asking, visit_id: str, label: str, form: Posted, part: str) -> RedirectResponse:
    """To the place of the page that the form stood on."""
    more = "".join(f"&{key}={quote(form.text(key))}" for key in ("when", "wires") if form.text(key))
    place = {"reading": "measure", "strike": "measure", "board": "move", "step": "running"}.get(part, part)
    return RedirectResponse(f"{valve_address(visit_id, label)}{more}#{place}", status_code=303)


def _answers(form: Posted, part: str, held: Mapping[str, Any], units: UnitSystem) -> dict[str, Any]:
    """Every question that the form held, answered or taken back."""
    asked = questions(part, held, units, head=form.given("head"), meters=form.many("meter"))
    return {one.key: answered(form.text(one.key), one, units) for one in asked if one.key in form.texts}


def _say_part(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    part = form.text("part")
    said = _answers(form, part, {}, asking.units)
    visit_say.say_of_valve(asking.register, asking.who, visit_id, label, part, said, version=form.version())


def _say_reading(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    pins = (form.needed("pin_a", "The first pin"), form.needed("pin_b", "The second pin"))
    is_open = form.text("shown") == "open"
    typed = "open" if is_open else form.needed("ohm", "What the meter showed")
    shown = answered(typed, Question(key="ohm", text="", kind="text", unit="ohm"), asking.units)
    when = form.text("when")
    if when not in MEASURED_WHEN:
        raise InputError(f"{when[:40]!r} is no state of a head. Nothing was kept.", "Open the page again.")
    visit_say.take_reading(asking.register, asking.who, visit_id, label, pins, shown, when=when)


def _say_struck(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    visits_kept.void_entry(asking.register, asking.who, visit_id, form.text("entry"), form.needed("why", "Why"))


def _say_running(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    kind = "unit" if form.text("kind") == "unit" else "valve"
    said = _answers(form, kind, {}, asking.units)
    visit_say.say_how_it_runs(asking.register, asking.who, visit_id, label, said)


def _say_step(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    opening = Question(key="opening", text="", kind="text", unit="number")
    kelvin = Question(key="superheat", text="", kind="text", unit="K")
    body: dict[str, Any] = {"valve": label}
    for key, of in (("opening", opening), ("superheat", kelvin)):
        pair = [answered(form.text(f"{key}_{end}"), of, asking.units) for end in ("before", "after")]
        if any(one is not None for one in pair):
            if None in pair:
                raise InputError("A step test has a value before and one after. Nothing was kept.", "Fill in both.")
            body[key] = [_kelvin(one, asking.units) for one in pair] if key == "superheat" else pair
    minutes = answered(form.text("minutes"), Question(key="minutes", text="", kind="text", unit="min"), asking.units)
    body |= {} if minutes is None else {"minutes": minutes}
    visits_kept.add_entry(asking.register, asking.who, visit_id, "step_tests", body)


def _kelvin(value: Any, units: UnitSystem) -> Any:
    """A bare difference in the person's unit."""
    return f"{plain(value)} delta_degF" if units == "us" and isinstance(value, float) else value


def _say_work(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    body = {"valve": label, "done": form.needed("done", "What was done")}
    body |= {"part": form.text("part_printed")} if form.text("part_printed") else {}
    visits_kept.add_entry(asking.register, asking.who, visit_id, "work", body)


def _say_proof(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    body = {
        "valve": label,
        "kind": form.needed("kind", "The proof"),
        "result": form.needed("result", "What came of it"),
    }
    visits_kept.add_entry(asking.register, asking.who, visit_id, "proofs", body)


def _say_note(asking: Asking, visit_id: str, label: str, form: Posted) -> None:
    body = {"about": label, "text": form.needed("text", "The note")}
    visits_kept.add_entry(asking.register, asking.who, visit_id, "notes", body)


_SAID_BY: Final = {
    "before": _say_part,
    "look": _say_part,
    "move": _say_part,
    "board": _say_part,
    "reading": _say_reading,
    "strike": _say_struck,
    "running": _say_running,
    "step": _say_step,
    "do": _say_work,
    "prove": _say_proof,
    "note": _say_note,
}
"""By the part that a form names."""


def _of_valve(asking: Asking, of: ValveFilling) -> dict[str, Any]:
    """What the page of a valve shows."""
    units, head = asking.units, of.valve.head
    kind = visit_fill.running_path(of.valve)[0].removesuffix("s")
    visit = of.whole.visit
    return {
        "of": of,
        "kept": of.whole.kept,
        "valve": of.valve,
        "valve_id": of.whole.valve_ids.get(of.valve.id),
        "place": place_words(of.valve),
        "parts": PARTS,
        "before_questions": questions("before", of.body, units, head=head, meters=tuple(visit.meters)),
        "look_questions": questions("look", of.parts["inspection"], units, head=head),
        "move_questions": questions("move", of.parts["movement"], units, head=head),
        "board_questions": questions("board", of.parts["board"], units, head=head),
        "running_questions": questions(kind, of.running, units),
        "running_kind": kind,
        "plug": _plug(of),
        "mark": mark_of(of.step.assessed) if of.step is not None and of.session and of.session.readings else None,
        "windings": _windings_said(of),
        "cause": _cause(of),
        "action": "" if of.step is None else action_words(of.step.assessed, of.valve),
        "whens": MEASURED_WHEN,
        "arrangements": [(one, asking.text(WINDING_WORDS[one])) for one in WINDING_ARRANGEMENTS],
        "work": [one for one in visit.work if one.valve == of.valve.id],
        "proofs": [one for one in visit.proofs if one.valve == of.valve.id],
        "notes": [one for one in visit.notes if one.about == of.valve.id],
        "step_tests": [(_step_words(one, units), one.is_void) for one in visit.step_tests if one.valve == of.valve.id],
        "work_done": WORK_DONE,
        "proof_kinds": PROOF_KINDS,
        "proof_results": PROOF_RESULTS,
        "cautions": cautions_at(of.valve),
        "unsafe": [CAUTIONS[code] for code in of.unsafe if code in CONFIRMED_BY],
        "next_cautions": _next_cautions(of),
        "address": valve_address,
        "seldom_keys": SELDOM,
    }


def cautions_at(valve: Valve) -> Mapping[str, Sequence[str]]:
    """The usual cautions by part of the page."""
    own = CAUTIONS_OF.get(valve.head or "", ())
    never = ("never-removed",) if valve.last_removed == "never" else ()
    return {
        "before": [CAUTIONS[code] for code in (*CAUTIONS_OF["before"], *own, *never)],
        "board": [CAUTIONS[code] for code in CAUTIONS_OF["board"]],
        "do": [CAUTIONS[code] for code in CAUTIONS_OF["do"]],
    }


def _next_cautions(of: ValveFilling) -> Sequence[str]:
    if of.step is None:
        return []
    return [CAUTIONS[code] for code in cautions_of_action(of.step.assessed.action, of.valve.head)]


def _plug(of: ValveFilling) -> Markup | None:
    """The plug with what was read at it, and the next two pins in the colour that means "here"."""
    if of.session is None or of.step is None:
        return None
    pairs = [
        PairRead(one.wire_a, one.wire_b, "open" if one.ohm is None else plain(one.ohm)) for one in of.session.readings
    ]
    title = f"{of.valve.id}: its plug"
    picture = plug_picture(of.session.pins, pairs, of.step.next_pins, "Plug", title)
    return Markup(circuit_element(picture, name="plug"))


@record
class WindingsSaid:
    """What the readings so far say of the windings."""

    mark: str
    word: str
    cause: str
    """The leading cause with its wires; empty where they are good."""


def _windings_said(of: ValveFilling) -> WindingsSaid | None:
    """None before the first reading."""
    if of.session is None or of.step is None or not of.session.readings:
        return None
    finding = of.step.winding
    leading = finding.causes[0] if finding.causes else None
    is_fault = leading is not None and leading.cause not in ("sound", "other")
    return WindingsSaid(
        mark=_MARK_OF[finding.verdict],
        word=word(finding.verdict),
        cause=f"{how_sure(leading.probability)}: {with_wires(leading)}" if leading is not None and is_fault else "",
    )


def _cause(of: ValveFilling) -> str:
    """The leading cause in words, where there is one."""
    return "" if of.step is None or leading_fault(of.step.assessed) is None else cause_words(of.step.assessed, of.valve)


def _step_words(test: StepTest, units: UnitSystem) -> str:
    """A step test in one line: "210 to 190 pulses, superheat 5.1 K to 10.8 K, 8 minutes"."""
    said = []
    if test.opening is not None:
        said.append(" to ".join(_opening_words(one) for one in test.opening))
    if test.superheat_k is not None:
        said.append("superheat " + " to ".join(difference(one, units, 1) for one in test.superheat_k))
    if test.minutes is not None:
        said.append(f"{plain(test.minutes)} minutes")
    return ", ".join(said) or "nothing said"


def _opening_words(opening: Opening) -> str:
    return percent(opening.frac) if opening.frac is not None else f"{plain(opening.pulses or 0.0)} pulses"
