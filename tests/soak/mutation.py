"""Whether the tests notice a changed line: one small change at a time in a copy of the house, and its tests run.

    python -m tests.soak.mutation physics 150 1              room, mutants (a random sample), seed
    python -m tests.soak.mutation diagnosis/winding 150 1

Changes: a comparison, an arithmetic or a logical operator, a sign, a `not`, a number. A mutant survives when every test
passes; survivors are printed and judged by hand in docs/mutation.md.
"""

import ast
import copy
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

ROOT = Path(__file__).parent.parent.parent
TESTS = {
    "physics": (["tests/unit/physics", "src/fifthwire/physics"], ["tests/reference"]),
    "diagnosis/winding": (
        ["tests/unit/diagnosis/winding", "tests/property/test_winding.py", "src/fifthwire/diagnosis/winding"],
        ["tests/property/test_winding_against_oracle.py", "-k", "not stored", "tests/reference"],
    ),
}
"""Of each room: the quick tests, then those run only where the quick ones pass."""
LATEST_S = 120
OTHER: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.And: ast.Or, ast.Or: ast.And,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """One change: the file, the line, what stood there and what stands there now."""

    path: Path
    line: int
    before: str
    after: str
    source: str
    """Of the whole changed module."""


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Every change of one module."""
    tree = ast.parse(path.read_text("utf-8"))
    for number, node in enumerate(ast.walk(tree)):
        for changed in _changes(node):
            whole = copy.deepcopy(tree)
            target = next(n for i, n in enumerate(ast.walk(whole)) if i == number)
            before = ast.unparse(node)
            for name, value in changed.items():
                setattr(target, name, value)
            yield Mutant(path, getattr(node, "lineno", 0), before, ast.unparse(target), ast.unparse(whole))


def _changes(node: ast.AST) -> Iterator[dict[str, object]]:
    if isinstance(node, ast.BinOp | ast.BoolOp | ast.AugAssign) and type(node.op) in OTHER:
        yield {"op": OTHER[type(node.op)]()}
    elif isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in OTHER:
        yield {"ops": [OTHER[type(node.ops[0])]()]}
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield {"op": ast.UAdd()}
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield {"operand": ast.UnaryOp(ast.Not(), node.operand)}
    elif isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool):
        yield {"value": node.value + 1}


def survives(mutant: Mutant, house: Path, room: str) -> bool:
    """Whether all tests of the room pass with it."""
    place = house / mutant.path.relative_to(ROOT)
    original = place.read_text("utf-8")
    place.write_text(mutant.source, "utf-8")
    try:
        return all(_passes(house, tests) for tests in TESTS[room])
    finally:
        place.write_text(original, "utf-8")


def _passes(house: Path, tests: list[str]) -> bool:
    surroundings = os.environ | {"PYTHONPATH": f"{house / 'src'}", "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    try:
        ran = subprocess.run(command, cwd=house, env=surroundings, capture_output=True, timeout=LATEST_S, check=False)
    except subprocess.TimeoutExpired:
        return False
    return ran.returncode == 0


def main() -> int:
    """Try a sample and print the survivors."""
    room, n_mutants, seed = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    every = [m for path in sorted((ROOT / "src/fifthwire" / room).glob("*.py")) for m in mutants_of(path)]
    sample = Random(seed).sample(every, min(n_mutants, len(every)))
    with tempfile.TemporaryDirectory() as place:
        house = Path(place) / "house"
        for name in ("src", "tests", "benchmarks", "docs"):
            shutil.copytree(ROOT / name, house / name, ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copy(ROOT / "pyproject.toml", house)
        if not all(_passes(house, tests) for tests in TESTS[room]):
            print("the tests fail without a change")
            return 1
        alive = [mutant for mutant in sample if survives(mutant, house, room)]
    print(f"{room}: {len(every)} mutants, {len(sample)} tried, {len(alive)} survive")
    for mutant in sorted(alive, key=lambda m: (m.path.name, m.line)):
        print(f"  {mutant.path.name}:{mutant.line}: {mutant.before}  ->  {mutant.after}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
