"""Texts of small visit files, and reading them in one line."""

from pathlib import Path
from typing import Any

import pytest

from fifthwire.model.errors import Problem, VisitFileError
from fifthwire.model.visit import Visit
from fifthwire.visitfile import read_visit

EVERY_KEY = (Path(__file__).parent.parent / "docs" / "formats" / "every-key.visit.toml").read_text(encoding="utf-8")
START = """format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
site = "Quayside House"
system = "QH-1"
"""
VALVE = """[[valves]]
id = "OU1-main"
unit = "OU1"
role = "main"
head = "clip-on"
"""


def read(more: str = "", start: str = START) -> Visit:
    return read_visit(start + more, name="a.visit.toml", syntax="toml").visit


def problems(more: str = "", start: str = START, syntax: Any = "toml") -> tuple[Problem, ...]:
    with pytest.raises(VisitFileError) as caught:
        read_visit(start + more, name="a.visit.toml", syntax=syntax)
    return caught.value.problems


def the_problem(more: str = "", start: str = START, syntax: Any = "toml") -> Problem:
    (one,) = problems(more, start, syntax)
    return one


def warnings(more: str) -> dict[str, str]:
    return {one.code: one.values["place"] for one in read_visit(START + more, name="a", syntax="toml").warnings}
