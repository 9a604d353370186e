"""The oracle's answers on many heads, kept in a file: seconds each to find, at once to compare with.

python -m tests.oracle 400 3 --write      heads, seed: finds them anew (about 3 s each) and writes the file
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from random import Random
from typing import Any

from tests.oracle.posterior import Posterior, posterior

from fifthwire.demo.heads import DrawnHead, World, draw_head
from fifthwire.diagnosis.priors import parse_priors
from fifthwire.diagnosis.winding.case import WindingLaws

FILE = Path(__file__).with_name("posteriors.json")


def shipped_laws() -> WindingLaws:
    """The laws that come with the program."""
    return parse_priors(files("fifthwire.diagnosis").joinpath("priors.toml").read_text("utf-8")).winding


def drawn(seed: int, number: int, laws: WindingLaws) -> DrawnHead:
    """The head that a row of the file is about."""
    return draw_head(Random(seed * 100_000 + number), laws, World())


def digest(head: DrawnHead) -> str:
    """Of the case: a file of other heads than those drawn now is of no use."""
    return sha256(repr(head.case).encode()).hexdigest()[:16]


def row_of(seed: int, number: int, head: DrawnHead, found: Posterior | None) -> dict[str, Any]:
    """One row of the file."""
    row: dict[str, Any] = {"seed": seed, "number": number, "case": digest(head), "truth": head.cause}
    if found is None:
        return row | {"causes": None}
    causes = {cause: round(p, 7) for cause, p in sorted(found.causes.items()) if p > 1e-7}
    commons = [[list(wires), round(p, 7)] for wires, p in sorted(found.commons.items()) if p > 1e-4 and wires]
    return row | {"causes": causes, "commons": commons}


def write(n_heads: int, seed: int, laws: WindingLaws) -> None:
    """Find the posteriors and write the file."""
    rows = []
    for number in range(n_heads):
        head = drawn(seed, number, laws)
        rows.append(row_of(seed, number, head, posterior(head.case, laws)))
    save(rows)


def save(rows: list[dict[str, Any]]) -> None:
    """One row a line."""
    lines = ",\n".join(json.dumps(row, separators=(",", ":")) for row in rows)
    FILE.write_text(f"[\n{lines}\n]\n", "utf-8")


@dataclass(frozen=True)
class Stored:
    """A row of the file with its head."""

    head: DrawnHead
    causes: dict[str, float]
    commons: dict[frozenset[str], float]


def stored(laws: WindingLaws) -> Iterator[Stored]:
    """Rows of the file, each with its head drawn again.

    Raises
    ------
    ValueError
        If a head is not the one that the row was found for.
    """
    for row in json.loads(FILE.read_text("utf-8")):
        head = drawn(row["seed"], row["number"], laws)
        if digest(head) != row["case"]:
            raise ValueError(f"head {row['number']} is not the one in {FILE.name}: python -m tests.oracle ... --write")
        if row["causes"] is not None:
            yield Stored(head, row["causes"], {frozenset(wires): p for wires, p in row["commons"]})
