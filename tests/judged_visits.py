"""Visits of one valve in a few lines, read and assessed: what the tests of the assessment are written with."""

import re
from pathlib import Path
from typing import Any

from fifthwire.assessment import assess, assessment_to_json
from fifthwire.diagnosis.priors import Priors, parse_priors
from fifthwire.model.assessment import Assessment
from fifthwire.visitfile import read_visit

PRIORS_TEXT = (Path(__file__).parents[1] / "src/fifthwire/diagnosis/priors.toml").read_text(encoding="utf-8")

GOOD_FIVE = '[["5","1",62.3],["5","2",62.2],["5","3",62.4],["5","4",62.3],["1","2",124.4],["3","4",124.5]]'
OPEN_THREE = '[["5","1",62.3],["5","2",62.2],["5","3","open"],["5","4",62.3],["1","3","open"]]'
OPEN_ONCE = '[["5","1",62.3],["5","2",62.2],["5","3","open"],["5","4",62.3]]'
HIGH_ONE = (
    '[["5","1",70.3],["5","2",62.2],["5","3",62.4],["5","4",62.3],["1","2",132.4],["1","3",132.5],["1","4",132.4],'
    '["2","3",124.5]]'
)
ALL_OPEN = '[["5","1","open"],["5","2","open"],["5","3","open"],["5","4","open"],["1","2","open"]]'

PREAMBLE = """
format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
site = "Invented House"
system = "S-1"
{visit}
[system]
{system}
[specs.five]
winding = "unipolar-5"
resistance = "62 ohm"
tolerance = "10 %"
at = "20 degC"
supply = "12 V"
[specs.coil]
winding = "single-2"
resistance = "900 ohm"
tolerance = "10 %"
[meters.handheld]
accuracy = "0.9 % + 2 digits"
resolution = "0.1 ohm"
{meter}
"""


def priors() -> Priors:
    """The shipped priors."""
    return parse_priors(PRIORS_TEXT)


def visit_text(
    valve: str,
    *,
    head: str = "clip-on",
    visit: str = "",
    system: str = "installed = 2014",
    meter: str = "",
    after: str = "",
) -> str:
    """A visit with one valve V1; `valve` holds its keys and tables, `after` the tables that follow it."""
    kind = 'kind = "solenoid"\nspec = "coil"' if head == "solenoid" else f'head = "{head}"\nspec = "five"'
    role = "" if re.search(r"^role", valve, re.MULTILINE) else 'role = "indoor"'
    return (
        PREAMBLE.format(visit=visit, system=system, meter=meter)
        + '[[valves]]\nid = "V1"\nunit = "IU1"\nmeter = "handheld"\nhead_temperature = "20 degC"\n'
        + f"{role}\n{kind}\n{valve}\n{after}\n"
    )


def assessed(text: str) -> Assessment:
    """The assessment of a visit's text."""
    read = read_visit(text, name="made.visit.toml", syntax="toml")
    return assess(read.visit, priors(), warnings=read.warnings)


def assessed_json(text: str) -> dict[str, Any]:
    """The assessment of a visit's text as JSON."""
    return assessment_to_json(assessed(text))
