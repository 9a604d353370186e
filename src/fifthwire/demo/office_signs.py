"""How each fault of the invented sites shows on a visit: in the readings, to the eye, to the hand, at the board."""

from collections.abc import Callable, Mapping
from typing import Any, Final

from fifthwire.demo.office_heads import SOUND, WIRES, Electrical
from fifthwire.demo.office_story import Trouble
from fifthwire.model.record import record
from fifthwire.model.valve import Board, Inspection, Movement


@record
class Signs:
    """What a technician meets at one valve."""

    electrical: Electrical = SOUND
    reads_every_pair: bool = False
    """Something looked wrong: every pair was tried."""
    missed: str = ""
    """Wire at which the probe did not touch the first time."""
    inspection: Inspection | None = None
    movement: Movement | None = None
    board: Board | None = None
    fails_in_harness: bool = False
    """Good at its own plug, open through the harness."""
    in_harness: Electrical = SOUND
    is_suspected: bool = False
    held_superheat_k: float | None = None
    """What its unit runs at, where it was seen running. [K]"""
    sensor_off_k: float = 0.0
    """How far the unit's liquid-pipe sensor is off. [K]"""


def sound(head: str | None) -> Signs:
    """A good valve."""
    if head == "bolt-on":
        return Signs(
            inspection=Inspection(cracks=False, connector="dry"),
            movement=Movement(stem="retracted", stem_mm=0.3, felt="steps"),
        )
    return Signs(inspection=Inspection(rust="none", seated=True, connector="dry"))


def signs_of(trouble: Trouble, arrangement: str, before: Signs) -> Signs:
    """What shows of a fault, in place of what a good valve shows."""
    changed: Mapping[str, Any] = _SHOWS[trouble.shows](trouble, arrangement)
    return Signs(**{**{name: getattr(before, name) for name in Signs.__dataclass_fields__}, **changed})


def _jammed(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    swings = dict.fromkeys((wire for wire in WIRES[arrangement] if wire not in ("2", "5")), True)
    return {
        "movement": Movement(stem="part-way", stem_mm=6.0, felt="rocking"),
        "board": Board(when="commanded", supply_volt=12.1, pulses=swings),
    }


def _open_winding(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"electrical": Electrical(open_wire=trouble.wire), "reads_every_pair": True}


def _open_coil(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"electrical": Electrical(open_common="1"), "reads_every_pair": True}


def _shorted_turns(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"electrical": Electrical(shorted=(trouble.wire, trouble.size)), "reads_every_pair": True}


def _bad_pin(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {
        "electrical": Electrical(contact_ohm={trouble.wire: trouble.size}),
        "reads_every_pair": True,
        "inspection": Inspection(rust="none", seated=True, connector="corroded"),
    }


def _harness(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"fails_in_harness": True, "in_harness": Electrical(open_common=trouble.wire)}


def _missed_probe(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"missed": trouble.wire}


def _wrong_head(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"reads_every_pair": True}


def _cracked(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"inspection": Inspection(cracks=True, connector="wet"), "movement": None}


def _unseated(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"inspection": Inspection(rust="heavy", pitted=False, seated=False, connector="dry")}


def _stuck(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {
        "movement": Movement(hand_magnet="stuck", known_good_head="stuck"),
        "board": Board(when="commanded", pulses=True),
        "is_suspected": True,
        "held_superheat_k": 17.0,
    }


def _stuck_open(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {**_stuck(trouble, arrangement), "held_superheat_k": 0.2}


def _board(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    swings = {wire: wire != trouble.wire for wire in WIRES[arrangement]}
    return {
        "movement": Movement(felt="nothing", plug_swap="fault-stays"),
        "board": Board(when="commanded", supply_volt=12.0, pulses=swings),
    }


def _sensor(trouble: Trouble, arrangement: str) -> dict[str, Any]:
    return {"sensor_off_k": trouble.size, "is_suspected": True}


_SHOWS: Final[dict[str, Callable[[Trouble, str], dict[str, Any]]]] = {
    "jammed": _jammed,
    "open_winding": _open_winding,
    "open_coil": _open_coil,
    "shorted_turns": _shorted_turns,
    "bad_pin": _bad_pin,
    "harness": _harness,
    "missed_probe": _missed_probe,
    "wrong_head": _wrong_head,
    "cracked": _cracked,
    "unseated": _unseated,
    "stuck": _stuck,
    "stuck_open": _stuck_open,
    "board": _board,
    "sensor": _sensor,
}
