"""Every way the readings may have come about: arrangement, bobbins, cause, place, as a form that predicts readings.

A form is what is left when names are taken away: which windings each reading holds, and what the fault adds. Forms
that are alike under an exchange of names have one evidence.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations, product
from math import log

import numpy as np
from tests.oracle.laws import TAIL_SHARE

from fifthwire.diagnosis.winding.case import WindingCase, WindingLaws
from fifthwire.model.valve import PairReading

N_WIRES = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4, "single-2": 2}


@dataclass(frozen=True)
class Size:
    """Law of a fault's size: pieces of even density in `t`, the size itself or its logarithm."""

    is_logarithm: bool
    pieces: tuple[tuple[float, float, float], ...]
    """(low, high, density in t) of each."""


@dataclass(frozen=True)
class Form:
    """What the readings are, given windings w and a fault's size x: see `predicted`."""

    kind: str
    """plain | add | scale | bridge | wrong"""
    paths: tuple[tuple[float, ...], ...]
    """For each finite reading: how often it holds each winding."""
    partner: tuple[int, ...]
    """For each winding: the number of its bobbin."""
    read: tuple[int, ...]
    """Which readings are used, by number."""
    added: tuple[float, ...] = ()
    """add: how often each reading holds x."""
    struck: int = -1
    """scale: the winding that is (1 - x) of what it was."""
    around: tuple[tuple[float, ...], ...] = ()
    """bridge: each reading's windings shared with the loop, signed."""
    loop: tuple[float, ...] = ()
    """bridge: windings of the loop."""
    size: Size | None = None

    def predicted(self, w: np.ndarray, x: float) -> np.ndarray:
        """Noiseless readings without leads, for rows of windings."""
        if self.kind == "scale":
            w = w.copy()
            w[:, self.struck] *= 1.0 - x
        reads = w @ np.array(self.paths).T
        if self.kind == "add":
            return reads + x * np.array(self.added)
        if self.kind == "bridge":
            loop = w @ np.array(self.loop) + x
            return reads - (w @ np.array(self.around).T) ** 2 / loop[:, None]
        return reads


@dataclass(frozen=True)
class Explanation:
    """A form with its names and its prior."""

    cause: str
    wires: tuple[str, ...]
    common: tuple[str, ...]
    log_prior: float
    form: Form = field(repr=False)


@dataclass(frozen=True)
class Head:
    """An arrangement with names: which two wires each winding lies between, and its bobbin."""

    commons: tuple[str, ...]
    windings: tuple[tuple[str, str], ...]
    """(hub, end); four wires: either way."""
    bobbins: tuple[int, ...]
    wires: tuple[str, ...]

    def path(self, a: str, b: str) -> dict[int, float] | None:
        """Windings from a to b with the sign of their direction hub to end; None where nothing joins them."""
        down, up = self._to_hub(a), self._to_hub(b)
        if down is None or up is None or down[0] != up[0]:
            return None
        path: dict[int, float] = {}
        if a == b:
            return path
        if down[1] is not None:
            path[down[1]] = -1.0
        if up[1] is not None:
            path[up[1]] = 1.0
        return path

    def _to_hub(self, wire: str) -> tuple[str, int | None] | None:
        for j, (hub, end) in enumerate(self.windings):
            if wire == end:
                return hub, j
            if wire == hub:
                return hub, None
        return None


def heads_of(arrangement: str, wires: tuple[str, ...], stated: tuple[str, ...]) -> list[tuple[float, Head]]:
    """Every head that the wires allow, with its prior."""
    heads: list[Head] = []
    if arrangement == "unipolar-5":
        for common in wires:
            ends = [wire for wire in wires if wire != common]
            heads += [
                Head((common,), tuple((common, end) for end in ends), bobbins, wires)
                for bobbins in ((0, 0, 1, 1), (0, 1, 0, 1), (0, 1, 1, 0))
            ]
    elif arrangement == "unipolar-6":
        for one in combinations(wires, 3):
            other = tuple(wire for wire in wires if wire not in one)
            if wires[0] in one:
                for c1, c2 in product(one, other):
                    windings = [(c1, end) for end in one if end != c1] + [(c2, end) for end in other if end != c2]
                    heads.append(Head((c1, c2), tuple(windings), (0, 0, 1, 1), wires))
    elif arrangement == "bipolar-4":
        for partner in wires[1:]:
            rest = tuple(wire for wire in wires[1:] if wire != partner)
            heads.append(Head((), ((wires[0], partner), rest), (0, 1), wires))  # type: ignore[arg-type]
    else:
        heads.append(Head((), ((wires[0], wires[1]),), (0,), wires))
    allowed = [head for head in heads if set(stated) <= set(head.commons)] if stated else heads
    return [(1.0 / len(allowed), head) for head in allowed]


def all_wires(arrangement: str, readings: tuple[PairReading, ...], stated: tuple[str, ...]) -> tuple[str, ...]:
    """Wires that were named, and as many more as the arrangement has."""
    named = list(dict.fromkeys([*stated, *(wire for r in readings for wire in (r.wire_a, r.wire_b))]))
    return tuple(named + [f"untouched {i}" for i in range(N_WIRES[arrangement] - len(named))])


def explanations(case: WindingCase, laws: WindingLaws) -> Iterator[Explanation]:
    """Every explanation that fits which readings are open; an impossible one is left out."""
    arrangement = case.arrangement
    assert arrangement is not None
    shares = {c: s for c, s in laws.fault_shares.items() if arrangement.startswith("unipolar") or c != "open-common"}
    if arrangement == "single-2":
        shares.pop("bridged")
    whole = sum(shares.values())
    shares = {cause: (1.0 - case.sound_prior) * share / whole for cause, share in shares.items()}
    wires = all_wires(arrangement, case.readings, case.common)
    for prior, head in heads_of(arrangement, wires, case.common):
        for cause, named, share, form in _of_head(case, laws, head):
            if form is not None:
                weight = prior * share * (case.sound_prior if cause == "sound" else shares[cause])
                yield Explanation(cause, named, head.commons, log(weight), form)


Found = Iterator[tuple[str, tuple[str, ...], float, Form | None]]


def _of_head(case: WindingCase, laws: WindingLaws, head: Head) -> Found:
    """Cause, wires, share of that place, form; the form is None where the opens do not fit."""
    build = _Builder(case, head)
    yield "sound", (), 1.0, build.form("plain")
    yield "wrong-head", (), 1.0, build.form("wrong")
    n = len(head.windings)
    for j, (hub, end) in enumerate(head.windings):
        named = (end,) if head.commons else (hub, end)
        yield "open-winding", named, 1.0 / n, build.form("plain", missing_winding=j)
        size = Size(False, (_even(laws.shorted_fraction),))
        yield "shorted-turns", named, 1.0 / n, build.form("scale", struck=j, size=size)
    for common in head.commons:
        yield "open-common", (common,), 1.0 / len(head.commons), build.form("plain", missing_wire=common)
    for wire in head.wires:
        size = Size(True, (_even_log(laws.contact_ohm),))
        yield "bad-contact", (wire,), 1.0 / len(head.wires), build.form("add", contact=wire, size=size)
    yield from _bridges(laws, head, build)
    yield from _bad_readings(case, laws, build)


def _bridges(laws: WindingLaws, head: Head, build: "_Builder") -> Found:
    low, high = laws.bridge_ohm
    tail = (high, laws.bridge_tail_ohm)
    size = Size(True, (_even_log((low, high), 1.0 - TAIL_SHARE), _even_log(tail, TAIL_SHARE)))
    pairs = list(combinations(range(len(head.windings)), 2))
    for i, j in pairs:
        if head.commons:
            ends = [(head.windings[i][1], head.windings[j][1])]
        else:
            ends = list(product(head.windings[i], head.windings[j]))
        for p, q in ends:
            share = 1.0 / (len(pairs) * len(ends))
            same = head.commons and head.windings[i][0] == head.windings[j][0]
            form = build.bridged_star(i, j, size) if same else build.bridged_groups(p, q, size)
            yield "bridged", tuple(sorted((p, q))), share, form


def _bad_readings(case: WindingCase, laws: WindingLaws, build: "_Builder") -> Found:
    joined = [k for k, path in enumerate(build.paths) if path is not None]
    if not joined:
        yield "bad-reading", (), 1.0, build.form("plain")
    for k in joined:
        reading = case.readings[k]
        named = tuple(sorted((reading.wire_a, reading.wire_b)))
        size = Size(True, (_even_log(laws.bad_reading_adds_ohm),))
        stray, opened = 1.0 - laws.bad_reading_open_share, laws.bad_reading_open_share
        yield "bad-reading", named, stray / len(joined), build.form("add", stray=k, size=size)
        yield "bad-reading", named, opened / len(joined), build.form("plain", false_open=k)


def _even(limits: tuple[float, float], share: float = 1.0) -> tuple[float, float, float]:
    return limits[0], limits[1], share / (limits[1] - limits[0])


def _even_log(limits: tuple[float, float], share: float = 1.0) -> tuple[float, float, float]:
    return _even((log(limits[0]), log(limits[1])), share)


class _Builder:
    """Makes the forms of one head."""

    def __init__(self, case: WindingCase, head: Head) -> None:
        self.readings, self.head = case.readings, head
        self.paths = [head.path(r.wire_a, r.wire_b) for r in case.readings]

    def form(
        self,
        kind: str,
        *,
        missing_winding: int = -1,
        missing_wire: str = "",
        false_open: int = -1,
        contact: str = "",
        stray: int = -1,
        struck: int = -1,
        size: Size | None = None,
    ) -> Form | None:
        """Of a head whose groups stay apart."""
        used, paths, added = [], [], []
        for k, (reading, path) in enumerate(zip(self.readings, self.paths, strict=True)):
            ends = (reading.wire_a, reading.wire_b)
            joined = path is not None and missing_winding not in path and missing_wire not in ends and k != false_open
            if joined == reading.is_open:
                return None
            if joined and path is not None:
                used.append(k)
                paths.append(dict.fromkeys(path, 1.0))
                added.append(float(k == stray or (contact != "" and contact in ends)))
        return self._made(kind, used, paths, added=added if kind == "add" else [], struck=struck, size=size)

    def bridged_groups(self, p: str, q: str, size: Size) -> Form | None:
        """A bridge between two groups joins every wire of one with every wire of the other."""
        used, paths, added = [], [], []
        for k, (reading, path) in enumerate(zip(self.readings, self.paths, strict=True)):
            if reading.is_open:
                return None
            used.append(k)
            if path is not None:
                paths.append(dict.fromkeys(path, 1.0))
                added.append(0.0)
            else:
                near, far = (p, q) if self.head.path(reading.wire_a, p) is not None else (q, p)
                first, second = self.head.path(reading.wire_a, near), self.head.path(far, reading.wire_b)
                assert first is not None and second is not None
                paths.append(dict.fromkeys((*first, *second), 1.0))
                added.append(1.0)
        return self._made("add", used, paths, added=added, size=size)

    def bridged_star(self, i: int, j: int, size: Size) -> Form | None:
        """A bridge between two ends of one hub makes a loop with their windings."""
        used, paths, around = [], [], []
        for k, (reading, path) in enumerate(zip(self.readings, self.paths, strict=True)):
            if (path is not None) == reading.is_open:
                return None
            if path is not None:
                used.append(k)
                paths.append(dict.fromkeys(path, 1.0))
                around.append({w: sign * (1.0 if w == j else -1.0) for w, sign in path.items() if w in (i, j)})
        return self._made("bridge", used, paths, around=around, loop=(i, j), size=size)

    def _made(
        self,
        kind: str,
        used: list[int],
        paths: list[dict[int, float]],
        *,
        added: list[float] | None = None,
        around: list[dict[int, float]] | None = None,
        loop: tuple[int, ...] = (),
        struck: int = -1,
        size: Size | None = None,
    ) -> Form:
        """Names taken away, windings that no reading holds left out, the rest in one order."""
        held = sorted({j for path in paths for j in path} | ({*loop} if any(around or []) else set()))
        if (kind == "scale" and struck not in held) or (kind == "add" and not any(added or [])):
            kind, added, struck, size = "plain", [], -1, None
        if kind == "bridge" and not any(around or []):
            kind, around, loop, size = "plain", None, (), None

        def signature(j: int) -> tuple[object, ...]:
            rows = tuple(path.get(j, 0.0) for path in paths)
            rounds = tuple(abs(row.get(j, 0.0)) for row in around or [])
            return (rows, j == struck, j in loop, rounds)

        held.sort(key=signature)
        bobbin_number: dict[int, int] = {}
        partner = tuple(bobbin_number.setdefault(self.head.bobbins[j], len(bobbin_number)) for j in held)
        rows = [tuple(row.get(j, 0.0) for j in held) for row in around or []]
        return Form(
            kind=kind,
            paths=tuple(tuple(path.get(j, 0.0) for j in held) for path in paths),
            partner=partner,
            read=tuple(used),
            added=tuple(added or ()),
            struck=held.index(struck) if struck in held else -1,
            around=tuple(_positive(row) for row in rows),
            loop=tuple(1.0 if j in loop else 0.0 for j in held) if loop else (),
            size=size,
        )


def _positive(row: tuple[float, ...]) -> tuple[float, ...]:
    """The sign of a whole row does not matter, it is squared."""
    first = next((value for value in row if value != 0.0), 0.0)
    return tuple(value * (-1.0 if first < 0.0 else 1.0) + 0.0 for value in row)
