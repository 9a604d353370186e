"""Writes the generated parts of docs/how-a-verdict-is-reached.md: `make docs`. With --check it only says whether they
are current.

Generated are the table of likelihoods and the worked head's posterior, so that the page cannot say anything else than
the program does.
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from fifthwire.assessment.valve_case import gather
from fifthwire.diagnosis.faults.before import SYSTEM_PRIOR
from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS, behaves
from fifthwire.diagnosis.faults.checks import CATALOGUE
from fifthwire.diagnosis.faults.likelihoods import CAUSES, OUTCOMES, Row, likelihood_of
from fifthwire.diagnosis.faults.running_table import STATES, SUCTION_ROWS, SYSTEM_ROWS, VALVE_ROWS
from fifthwire.diagnosis.movement.service_state import service_state_of
from fifthwire.diagnosis.priors import parse_priors
from fifthwire.model.reasons import CHECKS, REASONS, RISKS
from fifthwire.model.words import word
from fifthwire.visitfile import read_visit

ROOT: Final = Path(__file__).parent.parent
PAGE: Final = ROOT / "docs" / "how-a-verdict-is-reached.md"
WORKED: Final = ROOT / "docs" / "worked-head.visit.toml"
SHORT: Final = (
    "sound",
    "winding",
    "jammed",
    "cracked",
    "unseated",
    "stuck open",
    "stuck shut",
    "leaks",
    "plug",
    "board",
    "sensor",
    "other head",
    "refr. side",
)
"""Heads of the columns, in the order of the causes."""


def likelihood_table() -> Iterator[str]:
    """The table of likelihoods, a look after the other."""
    yield f"| fact | mark | {' | '.join(SHORT)} | source |"
    yield "|---|---|" + "---|" * (len(SHORT) + 1)
    for rows in OUTCOMES.values():
        for row in rows:
            yield f"| {_fact(row)} | {row.mark} | {' | '.join(_figure(one) for one in row.likelihood)} | {row.source} |"


def _fact(row: Row) -> str:
    return f"`{row.code}`"


def _figure(one: float | None) -> str:
    return "–" if one is None else f"{one:.6f}".rstrip("0").rstrip(".")


def behaviours_table() -> Iterator[str]:
    """How often a valve with each cause behaves how."""
    yield f"| cause | {' | '.join(BEHAVIOURS)} |"
    yield "|---|" + "---|" * len(BEHAVIOURS)
    for cause in CAUSES:
        shares = dict(behaves(cause, "fine"))
        yield f"| {word(cause)} | {' | '.join(_figure(shares.get(b)) for b in range(len(BEHAVIOURS)))} |"


def running_table() -> Iterator[str]:
    """The table of the running facts of valves, a column a behaviour."""
    yield f"| fact | mark | {' | '.join(BEHAVIOURS)} | source |"
    yield "|---|---|" + "---|" * (len(BEHAVIOURS) + 1)
    for row in VALVE_ROWS.values():
        yield f"| `{row.code}` | {row.mark} | {' | '.join(_figure(one) for one in row.likelihood)} | {row.source} |"


def system_table() -> Iterator[str]:
    """The table of what the system as a whole shows, a column a state."""
    yield f"| fact | {' | '.join(STATES)} | source |"
    yield "|---|" + "---|" * (len(STATES) + 1)
    for row in SYSTEM_ROWS.values():
        yield f"| `{row.code}` | {' | '.join(_figure(one) for one in row.likelihood)} | {row.source} |"
    yield f"| before | {' | '.join(_figure(SYSTEM_PRIOR[one]) for one in STATES)} | judgement |"


def suction_table() -> Iterator[str]:
    """The table of what an outdoor unit's suction and discharge show."""
    yield "| fact | liquid comes | dry | source |"
    yield "|---|---|---|---|"
    for row in SUCTION_ROWS.values():
        yield f"| `{row.code}` | {' | '.join(_figure(one) for one in row.likelihood)} | {row.source} |"


def sentences() -> Iterator[str]:
    """What each code of the table says to people."""
    for rows in OUTCOMES.values():
        for row in rows:
            if row.code in REASONS:
                yield f"- `{row.code}`: {REASONS[row.code]}"
    for code in VALVE_ROWS:
        yield f"- `{code}`: {REASONS[code]}"


def checks() -> Iterator[str]:
    """The checks the trade has."""
    yield "| check | minutes | system stopped | shows movement | risk | tools |"
    yield "|---|---|---|---|---|---|"
    for one in CATALOGUE:
        risk = RISKS[one.risk] if one.risk else "–"
        stopped, moves = ("yes" if yes else "no" for yes in (one.is_system_stopped, one.shows_movement))
        yield f"| {CHECKS[one.code]} | {one.minutes:g} | {stopped} | {moves} | {risk} | {one.tools} |"


def worked_posterior() -> Iterator[str]:
    """The worked head's causes: before, each fact's likelihood, the product, and the share of it."""
    priors = parse_priors((ROOT / "src/fifthwire/diagnosis/priors.toml").read_text("utf-8"))
    visit = read_visit(WORKED.read_text("utf-8"), name=WORKED.name, syntax="toml").visit
    valve = next(one for one in visit.valves if one.id == "jammed")
    gathered = gather(visit, valve, priors, service_state_of(visit.system))
    codes = [fact.code for fact in gathered.facts if fact.weighs and likelihood_of(fact.code)]
    lines = [likelihood_of(code) or () for code in codes]
    node = gathered.node  # four decimals: what a calculator is fed with
    before = [round(sum(p * node.prior_by_state[s][i] for s, p in SYSTEM_PRIOR.items()), 4) for i in range(len(CAUSES))]
    product = []
    for i, one in enumerate(before):
        for line in lines:
            one *= line[i]
        product.append(one)
    yield f"| cause | before | {' | '.join(f'`{code}`' for code in codes)} | product | share |"
    yield "|---|---|" + "---|" * (len(codes) + 2)
    for i in sorted(range(len(CAUSES)), key=lambda i: -product[i]):
        if before[i] > 0.0:
            figures = " | ".join(_figure(line[i]) for line in lines)
            share = product[i] / sum(product)
            yield f"| {word(CAUSES[i])} | {before[i]:.4f} | {figures} | {product[i]:.7f} | {share:.4f} |"
    yield f"| sum | {sum(before):.4f} | {' | '.join('' for _ in codes)} | {sum(product):.7f} | 1 |"


PARTS: Final = {
    "likelihoods": likelihood_table,
    "behaviours": behaviours_table,
    "running likelihoods": running_table,
    "system likelihoods": system_table,
    "suction likelihoods": suction_table,
    "sentences": sentences,
    "checks": checks,
    "worked posterior": worked_posterior,
}
"""Name of a generated part -> what writes it."""


def page_with_parts(text: str) -> str:
    """The page with its generated parts written anew."""
    for name, lines in PARTS.items():
        begin, end = f"<!-- {name}: written by make docs -->", f"<!-- end of {name} -->"
        part = f"{begin}\n{chr(10).join(lines())}\n{end}"
        text = re.sub(f"{re.escape(begin)}.*?{re.escape(end)}", lambda _, part=part: part, text, flags=re.DOTALL)  # type: ignore[misc]
    return text


def main() -> int:
    """Write the parts, or say that they are not current."""
    text = PAGE.read_text("utf-8")
    new = page_with_parts(text)
    if "--check" in sys.argv[1:]:
        return int(new != text)
    PAGE.write_text(new, "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
