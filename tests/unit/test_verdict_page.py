"""The page that lets a technician argue with a verdict says what the program does."""

import re
from math import log2, sqrt
from typing import Any

import pytest
from tests.judged_visits import assessed_json
from tools.verdict_page import PAGE, WORKED, page_with_parts

TEXT = PAGE.read_text("utf-8")


def state(name: str) -> dict[str, Any]:
    out = assessed_json(WORKED.read_text("utf-8"))
    return next(valve for valve in out["valves"] if valve["id"] == name)  # type: ignore[no-any-return]


def test_the_generated_parts_are_current() -> None:
    assert page_with_parts(TEXT) == TEXT, "run make docs"


def test_one_open_is_worked_out_by_hand_as_the_program_does() -> None:
    winding, missed = 0.20 / 4, 0.10 * 0.40 / 4
    by_hand = winding / (winding + missed)
    finding = state("open-once")["winding"]

    assert finding["causes"][0]["probability"] == pytest.approx(by_hand, abs=1e-3)
    bits = -by_hand * log2(by_hand) - (1 - by_hand) * log2(1 - by_hand)
    assert finding["next_reading"] == {"wires": ["1", "3"], "gain_bits": pytest.approx(bits, abs=0.005)}
    assert finding["verdict"] == "undecided"
    assert f"**{by_hand:.4f}**" in TEXT and f"{bits:.2f} bit" in TEXT


def test_an_open_from_a_second_wire_and_the_other_windings_are_worked_out_by_hand() -> None:
    valve = state("open-twice")
    one = valve["winding"]["windings"][0]
    u = sqrt((64.7 * 0.009 / sqrt(3)) ** 2 + (0.2 / sqrt(3)) ** 2 + 0.048**2 + (0.05 / sqrt(3)) ** 2 + 0.1**2 / 12)
    u_at_spec = sqrt((u / 1.0432) ** 2 + (62 * 0.00393) ** 2)

    assert valve["action"] == "replace-head"
    assert one["ohm"] == pytest.approx(65.0 - 0.264, abs=0.02)
    assert (one["u_ohm"], one["u_ohm_at_spec"]) == (pytest.approx(u, abs=0.01), pytest.approx(u_at_spec, abs=0.01))
    assert one["ohm_at_spec"] == pytest.approx(62.05, abs=0.01)
    assert all(figure in TEXT for figure in ("**64.74 Ω**", "**0.36 Ω**", "**62.05 Ω**", "**0.42 Ω**"))


def test_the_posterior_of_the_page_is_that_of_the_assessment() -> None:
    valve = state("jammed")
    shares = [
        float(row.split("|")[-2])
        for row in re.findall(r"^\| (?:head|good|plug).*", TEXT, re.MULTILINE)
        if row.count("|") == 7
    ]

    assert shares[:4] == pytest.approx([row["probability"] for row in valve["causes"][:4]], abs=2e-3)
    assert valve["action"] == "replace-head"


def test_a_product_of_the_page_is_its_figures_multiplied() -> None:
    worked = TEXT.partition("<!-- worked posterior")[2]
    row = next(line for line in worked.splitlines() if line.startswith("| head jammed |"))
    before, stem, swings, product = (float(cell) for cell in row.split("|")[2:6])

    assert before * stem * swings == pytest.approx(product, rel=1e-4)
