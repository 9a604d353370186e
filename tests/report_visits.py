"""Visits made by hand for the tests of the report: every mark, every kind of head, names that try to break a page."""

from dataclasses import replace
from datetime import date
from typing import Any

from fifthwire.model.assessment import (
    Assessment,
    CauseProbability,
    CommonProbability,
    NextCheck,
    NextReading,
    Reason,
    ValveAssessment,
    WindingEstimate,
    WindingFinding,
)
from fifthwire.model.followup import Confirmation, Note, Proof, Work
from fifthwire.model.valve import Inspection, Measurement, Movement, PairReading, Valve
from fifthwire.model.visit import Accuracy, Meter, Spec, System, Tolerance, Visit, VisitHeader

OUTDOOR = Spec(
    winding="unipolar-5",
    resistance_ohm=62.0,
    tolerance=Tolerance(frac=0.10),
    at_c=20.0,
    full_stroke_pulses=480,
    supply_volt=12.0,
    source="manual of the outdoor unit, p. 212",
)
INDOOR = Spec(
    winding="unipolar-6", resistance_ohm=150.0, tolerance=Tolerance(ohm=15.0), at_c=25.0, source="indoor manual, p. 48"
)
HANDHELD = Meter(
    accuracy=Accuracy(of_reading_frac=0.009, digits=2.0),
    resolution_ohm=0.1,
    serial="A-117",
    leads_ohm=0.2,
    check_resistor_ohm=(100.0, 100.3),
    calibrated=date(2026, 1, 10),
)

STAR = (("5", "1", 64.9), ("5", "2", 64.8), ("5", "3", 65.0), ("5", "4", 64.8))
PARTIAL = (("1", "5", 73.4), ("1", "2", None))
OPEN_STAR = (("5", "1", 64.9), ("5", "2", 64.8), ("5", "3", None), ("5", "4", 64.8), ("1", "3", None))


AGREE = {"n_windings": 4, "spread_ohm": 0.2, "ohm_at_spec": 62.0, "u_ohm": 0.4, "at_c": 20.0, "spec_ohm": 62.0}
OPEN = {"wire": "3", "n_from": 2, "n_others": 3, "spread_ohm": 0.2}


def readings(rows: tuple[tuple[str, str, float | None], ...]) -> tuple[PairReading, ...]:
    """Rows of two wires and ohms, None for open."""
    return tuple(PairReading(*row) for row in rows)


def star_windings(*ohm: float | None, u: float = 0.41) -> tuple[WindingEstimate, ...]:
    """Windings 5-1, 5-2 ... of a head at 31 °C whose spec is stated at 20 °C."""
    to_spec = (234.5 + 20.0) / (234.5 + 31.0)
    return tuple(
        WindingEstimate(
            wires=("5", str(wire)),
            ohm=one,
            u_ohm=None if one is None else u,
            ohm_at_spec=None if one is None else one * to_spec,
            u_ohm_at_spec=None if one is None else u * 1.3,
        )
        for wire, one in enumerate(ohm, start=1)
    )


def causes(*rows: tuple[str, float]) -> tuple[CauseProbability, ...]:
    """Causes with their probabilities."""
    return tuple(CauseProbability(cause=cause, probability=probability) for cause, probability in rows)


def a_valve(label: str, **more: Any) -> Valve:
    """A clip-on valve measured from its common to each wire."""
    written: dict[str, Any] = {
        "unit": label.split("-")[0],
        "role": "indoor" if label.startswith("IU") else "main",
        "head": "clip-on",
        "spec": "outdoor-clip",
        "meter": "handheld",
        "head_temperature_c": 31.0,
        "head_temperature_within_k": 3.0,
        "head_temperature_from": "clamp",
        "common": ("5",),
        "plug_off": True,
        "readings": readings(STAR),
        "inspection": Inspection(rust="none", seated=True),
        "access": "ladder",
    }
    return Valve(id=label, **{**written, **more})


def a_good_one(label: str) -> ValveAssessment:
    """A valve with good windings and a look that found nothing."""
    return ValveAssessment(
        id=label,
        winding=WindingFinding(
            verdict="sound",
            causes=causes(("sound", 0.999)),
            common=(CommonProbability(wires=("5",), probability=1.0),),
            windings=star_windings(64.7, 64.6, 64.8, 64.6),
        ),
        causes=causes(("sound", 0.98)),
        action="keep",
        urgency="none",
        reasons=(Reason(code="winding.sound-spec", values=AGREE), Reason(code="felt.motor.steps")),
    )


def an_open_winding(label: str) -> ValveAssessment:
    """Wire 3 open from two wires."""
    return ValveAssessment(
        id=label,
        winding=WindingFinding(
            verdict="faulty",
            causes=(
                CauseProbability(cause="open-winding", wires=("3",), probability=0.9996),
                CauseProbability(cause="bad-reading", wires=("3",), probability=0.0004),
            ),
            common=(CommonProbability(wires=("5",), probability=1.0),),
            windings=star_windings(64.7, 64.6, None, 64.6),
        ),
        causes=causes(("winding", 0.9996), ("sound", 0.0004)),
        action="replace-head",
        urgency="now",
        meanwhile="valve-held-shut",
        reasons=(Reason(code="winding.open", values=OPEN, log_odds=9.2), Reason(code="board.all-swing")),
        cautions=("head-off", "hold-body"),
    )


def a_jammed_motor(label: str) -> ValveAssessment:
    """All windings good, the stem out in the service state."""
    good = a_good_one(label)
    return replace(
        good,
        causes=causes(("head-jammed", 0.81), ("plug-or-harness", 0.12), ("sound", 0.07)),
        action="check-more",
        urgency="planned",
        meanwhile="unit-off",
        reasons=(
            Reason(code="stem.out", values={"how_far": ", 9 mm"}),
            Reason(code="winding.sound-spec", values=AGREE),
        ),
        next_check=NextCheck(check="feel-under-command", minutes=12, is_system_stopped=True, risk="body-left-open"),
        cautions=("head-off", "motor-off"),
    )


def an_undecided_one(label: str) -> ValveAssessment:
    """Two readings, the common not known."""
    return ValveAssessment(
        id=label,
        winding=WindingFinding(
            verdict="undecided",
            causes=causes(("sound", 0.70), ("bad-contact", 0.25), ("shorted-turns", 0.05)),
            common=(CommonProbability(wires=("5",), probability=0.55),),
            windings=star_windings(73.2, None, None, None, u=1.6),
            next_reading=NextReading(wires=("2", "5"), gain_bits=0.65),
            arrangement="unipolar-5",
        ),
        causes=causes(("sound", 0.66), ("plug-or-harness", 0.30), ("winding", 0.04)),
        action="check-more",
        urgency="none",
        reasons=(Reason(code="winding.unread", values={"wires": ["2", "3", "4"]}),),
        next_check=NextCheck(check="measure-pair", values={"wires": ["2", "5"]}, minutes=1),
        doubts=(Reason(code="meter.calibration-old", values={"meter": "handheld", "calibrated": "2025-01-10"}),),
        not_checked=(Reason(code="not-checked.movement"),),
    )


def an_unproven_one(label: str) -> ValveAssessment:
    """Good windings alone."""
    return replace(
        a_good_one(label),
        causes=causes(("sound", 0.93), ("head-unseated", 0.05)),
        action="check-more",
        next_check=NextCheck(check="hand-magnet", minutes=4),
        not_checked=(Reason(code="not-checked.movement"),),
    )


def an_untouched_one(label: str) -> ValveAssessment:
    """Listed, and nothing else."""
    return ValveAssessment(
        id=label,
        winding=WindingFinding(verdict="not-measured"),
        causes=causes(("sound", 0.93)),
        action="check-more",
        urgency="none",
        not_checked=(Reason(code="not-checked.windings"), Reason(code="not-checked.inspection")),
    )


def a_visit(valves: tuple[Valve, ...], **more: Any) -> Visit:
    """A visit to an invented site."""
    return Visit(
        header=VisitHeader(date=date(2026, 5, 12), technician="RT-14", site="Quayside House", system="QH-1"),
        system=System(refrigerant="R410A", installed=2014, service_state=True, service_state_minutes=10),
        specs={"outdoor-clip": OUTDOOR, "indoor": INDOOR},
        meters={"handheld": HANDHELD},
        valves=valves,
        confirmations=(Confirmation(what="locked-out", by="RT-14"), Confirmation(what="bus-measured", value="3 V")),
        notes=(Note(about="OU1-subcooler", text="Insulation torn at the elbow."), Note(text="Key at the desk.")),
        **more,
    )


def an_assessment(*valves: ValveAssessment, **more: Any) -> Assessment:
    """Of that visit."""
    return Assessment(
        program="0.1.0", site="Quayside House", system="QH-1", date="2026-05-12", valves=valves,
        warnings=(Reason(code="running.not-steady", values={"state": "start"}),), **more,
    )  # fmt: skip


def every_mark() -> tuple[Visit, Assessment]:
    """One valve of each state, and three good ones."""
    valves = (
        a_valve("OU1-main"),
        a_valve("OU1-subcooler", role="subcooler-bypass", readings=readings(OPEN_STAR), measurements=(
            Measurement(measured_at="through-harness", readings=readings((("5", "3", None),))),
            Measurement(when="after-cleaning", readings=readings((("5", "3", 1.0),)), is_void=True),
        )),
        a_valve("IU07-valve", head="bolt-on", movement=Movement(stem="extended", stem_mm=9.0), part_label="M-12 / 7F"),
        a_valve("IU08-valve", common=(), head_temperature_c=None, readings=readings(PARTIAL)),
        a_valve("IU09-valve"),
        a_valve("IU10-valve", readings=(), inspection=None),
        a_valve("IU11-valve", readings=(), inspection=None),
        a_valve("OU2-main"),
        a_valve("OU2-injection", role="injection"),
    )  # fmt: skip
    work = (Work(valve="OU2-main", done="cleaned"), Work(valve="OU2-main", done="replaced-head", is_void=True))
    visit = a_visit(valves, work=work, proofs=(Proof(valve="OU2-main", kind="start-up-heard", result="passed"),))
    return visit, an_assessment(
        a_good_one("OU1-main"),
        an_open_winding("OU1-subcooler"),
        a_jammed_motor("IU07-valve"),
        an_undecided_one("IU08-valve"),
        an_unproven_one("IU09-valve"),
        an_untouched_one("IU10-valve"),
        replace(an_untouched_one("IU11-valve"), not_checked=(Reason(code="not-checked.plug-on"),)),
        a_good_one("OU2-main"),
        a_good_one("OU2-injection"),
    )


def a_large_system(n_good: int = 40) -> tuple[Visit, Assessment]:
    """48 valves: the nine of `every_mark` less one, and good ones."""
    visit, assessment = every_mark()
    labels = [f"IU{number:02}-valve" for number in range(20, 20 + n_good)]
    keep = 8
    return (
        replace(visit, valves=(*visit.valves[:keep], *(a_valve(label) for label in labels))),
        replace(assessment, valves=(*assessment.valves[:keep], *(a_good_one(label) for label in labels))),
    )


HOSTILE = {
    "script": "<script>alert('x')</script>",
    "right-to-left": "צפון 7 \u202egnp.exe",
    "long": "L" * 180,
    "emoji": "Roof 🧊🔥 unit",
    "han": "東京支店",
    "markup": "#set text(99pt) *x* $a_b$ `c` // & \"quoted\" 'n'",
    "control": "bell\x07 and\x00 null",
}


def hostile_names() -> tuple[Visit, Assessment]:
    """Labels, notes and names that try to break a layout or to be run."""
    visit, assessment = every_mark()
    bad = [an_open_winding(label) for label in HOSTILE.values()]
    valves = [
        a_valve(
            label,
            unit=label,
            readings=readings(tuple((f"{label[:14]} {a}", f"{label[:14]} {b}", ohm) for a, b, ohm in OPEN_STAR)),
            common=(),
            part_label=label,
        )
        for label in HOSTILE.values()
    ]
    header = replace(visit.header, site=HOSTILE["script"] + HOSTILE["long"], system=HOSTILE["right-to-left"])
    notes = tuple(Note(text=text, about=None) for text in HOSTILE.values())
    return (
        replace(visit, header=header, valves=tuple(valves), notes=notes),
        replace(assessment, valves=tuple(bad)),
    )
