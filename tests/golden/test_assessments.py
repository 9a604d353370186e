"""Whole assessments as they were once printed: what changes in them is looked at, not only counted.

After a change that is meant: `python -m tests.golden.test_assessments` writes them anew; read the difference.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from tests.judged_visits import assessed_json

HERE = Path(__file__).parent / "assessments"
VISITS = sorted(HERE.glob("*.visit.toml"))
PROBABILITY_WITHIN = 2e-3
SIZE_WITHIN = 2e-3


def golden_of(visit: Path) -> Path:
    return visit.with_name(visit.name.replace(".visit.toml", ".assessment.json"))


def differences(found: Any, expected: Any, place: str = "") -> list[str]:
    """Where two values differ; figures may differ by what a finer inference changes in them."""
    if isinstance(expected, dict) and isinstance(found, dict):
        if list(found) != list(expected):
            return [f"{place}: keys {list(found)}"]
        return [one for key in expected for one in differences(found[key], expected[key], f"{place}.{key}")]
    if isinstance(expected, list) and isinstance(found, list):
        if place.endswith(".causes"):
            found, expected = weighty(found), weighty(expected)
        if len(found) != len(expected):
            return [f"{place}: {len(found)} rows"]
        pairs = enumerate(zip(found, expected, strict=True))
        return [one for i, (a, b) in pairs for one in differences(a, b, f"{place}[{i}]")]
    if isinstance(expected, float) and isinstance(found, int | float):
        near = abs(found - expected) <= PROBABILITY_WITHIN + SIZE_WITHIN * abs(expected)
        return [] if near or ".values." in place or place.endswith(".log_odds") else [f"{place}: {found}"]
    return [] if found == expected else [f"{place}: {found!r}"]


def weighty(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Causes of at least one percent: below, their order is a matter of digits."""
    return [row for row in rows if row["probability"] >= 0.01]


@pytest.mark.parametrize("visit", VISITS, ids=[one.name for one in VISITS])
def test_the_assessment_is_what_it_was(visit: Path) -> None:
    expected = json.loads(golden_of(visit).read_text(encoding="utf-8"))

    assert differences(assessed_json(visit.read_text(encoding="utf-8")), expected) == []


def test_there_are_visits_to_compare() -> None:
    assert len(VISITS) >= 2


if __name__ == "__main__":
    for one in VISITS:
        out = assessed_json(one.read_text(encoding="utf-8"))
        golden_of(one).write_text(json.dumps(out, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
