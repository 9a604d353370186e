"""How the house is kept: what no single room can test of itself."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

from fifthwire.cli.completion import described_commands
from fifthwire.cli.parser import COMMANDS, build_parser

ROOT = Path(__file__).parent.parent
SOURCES = sorted((ROOT / "src").rglob("*.py"))
PAGES = [
    ROOT / "README.md",
    ROOT / "CHANGELOG.md",
    *sorted((ROOT / "docs").rglob("*.md")),
    *ROOT.glob("benchmarks/*.md"),
]
HEAVY = (
    "numpy", "scipy", "pydantic", "fastapi", "sqlalchemy", "typst", "tomlkit", "rich", "importlib.resources", "asyncio",
    "urllib.parse", "pathlib", "shutil", "hashlib", "fifthwire.reports", "fifthwire.demo", "fifthwire.assessment.page",
)  # fmt: skip
VISIT = ROOT / "tests" / "unit" / "cli" / "quayside.visit.toml"


def modules_of(*words: str) -> set[str]:
    """The modules that a command has imported when it ends."""
    code = (
        "import sys\nfrom fifthwire.cli.main import main\n"
        f"code = main({list(words)!r})\nprint('\\n'.join(sys.modules), file=sys.stderr)\nsys.exit(code)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(ran.stderr.splitlines())


def test_assess_imports_nothing_heavy():
    imported = modules_of("assess", str(VISIT))

    assert "fifthwire.assessment.assess" in imported
    assert sorted(imported.intersection(HEAVY)) == []


def test_assess_as_json_imports_nothing_heavy_either():
    assert sorted(modules_of("assess", str(VISIT), "--json").intersection(HEAVY)) == []


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_and_option_is_on_its_page(command):
    page = (ROOT / "docs" / "commands" / f"{command}.md").read_text("utf-8")
    described = next(of for of in described_commands() if of.name == command)

    assert page.startswith(f"# fifthwire {command}\n")
    for option in described.options:
        for name in option.names:
            assert f"`{name}" in page, name


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_in_the_readme_and_the_index(command):
    assert f"docs/commands/{command}.md" in (ROOT / "README.md").read_text("utf-8")
    assert f"commands/{command}.md" in (ROOT / "docs" / "index.md").read_text("utf-8")


def test_every_page_of_the_documentation_is_reached_from_the_index():
    index = ROOT / "docs" / "index.md"
    reached, left = set(), [index]
    while left:
        page = left.pop()
        if page not in reached and page.suffix == ".md":
            reached.add(page)
            left += [target for target, _ in links_of(page) if target.exists()]

    assert sorted(str(page) for page in (ROOT / "docs").rglob("*.md") if page not in reached) == []


def links_of(page: Path) -> list[tuple[Path, str]]:
    """The files that a page links to, with the part named after `#`."""
    text = re.sub(r"```.*?```", "", page.read_text("utf-8"), flags=re.DOTALL)
    found = re.findall(r"\]\(([^)\s]+)\)", text)
    local = [link.partition("#") for link in found if not re.match(r"[a-z]+:", link)]
    return [((page.parent / path).resolve() if path else page, part) for path, _, part in local]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_leads_somewhere(page):
    for target, part in links_of(page):
        assert target.exists(), target
        if part and target.suffix == ".md":
            headings = re.findall(r"^#+ (.*)$", target.read_text("utf-8"), re.MULTILINE)
            assert part in [slug(heading) for heading in headings], f"{target}#{part}"


def slug(heading: str) -> str:
    return re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def test_the_generated_parts_of_the_documentation_are_current():
    ran = subprocess.run(
        [sys.executable, "tools/docs.py", "--check"], cwd=ROOT, capture_output=True, text=True, check=False
    )

    assert (ran.returncode, ran.stderr) == (0, "")


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(ROOT / "src")))
def test_no_module_is_too_long(path):
    assert len(path.read_text("utf-8").splitlines()) <= 400


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(ROOT / "src")))
def test_no_function_is_too_long_and_every_public_one_says_what_it_is_for(path):
    tree = ast.parse(path.read_text("utf-8"))

    assert ast.get_docstring(tree) or path.stat().st_size == 0, "the module says nothing"
    for of in ast.walk(tree):
        if isinstance(of, ast.FunctionDef | ast.AsyncFunctionDef):
            assert lines_of_code(of) <= 40, f"{of.name} has {lines_of_code(of)} lines"
    named = {
        of.name: of for of in tree.body if isinstance(of, ast.FunctionDef | ast.ClassDef)
    }  # an overload's last one
    for name, of in named.items():
        assert name.startswith("_") or ast.get_docstring(of), f"{name} says nothing"


def lines_of_code(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function's body without its docstring."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (function.end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_no_room_is_called_by_a_name_that_says_nothing():
    nothing = {"utils", "util", "helpers", "helper", "common", "manager", "base", "misc"}

    assert [path for path in SOURCES if nothing & {path.stem, *(part for part in path.relative_to(ROOT).parts)}] == []


def test_the_targets_of_the_makefile_are_those_of_the_documentation():
    phony = re.search(r"^\.PHONY: (.*)$", (ROOT / "Makefile").read_text("utf-8"), re.MULTILINE)
    assert phony is not None
    targets = phony[1].split()

    assert targets == ["setup", "check", "demo", "docs", "bench", "soak"]
    for target in targets:
        assert f"make {target}" in (ROOT / "docs" / "contributing.md").read_text("utf-8")


def test_the_checks_of_the_repository_are_make_check():
    assert "make check" in (ROOT / ".ci" / "run").read_text("utf-8")


def test_a_decision_is_forty_lines_at_most():
    for page in (ROOT / "docs" / "decisions").glob("*.md"):
        assert len(page.read_text("utf-8").splitlines()) <= 40, page.name


def test_the_parser_describes_every_command():
    assert [command.name for command in described_commands()] == list(COMMANDS)
    assert "COMMAND" in build_parser().format_usage()
