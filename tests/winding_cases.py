"""Builders of winding cases for tests: a 62 ohm head, read with a handheld meter, unless a test says otherwise."""

from importlib.resources import files
from itertools import combinations

from fifthwire.diagnosis.priors import parse_priors
from fifthwire.diagnosis.winding import (
    HeadTemperature,
    MeterLaw,
    RangeLaw,
    SpecLaw,
    WindingCase,
    judge_windings,
)
from fifthwire.model.assessment import WindingFinding
from fifthwire.model.valve import PairReading

LAWS = parse_priors((files("fifthwire.diagnosis") / "priors.toml").read_text(encoding="utf-8")).winding
HANDHELD = MeterLaw(ranges=(RangeLaw(of_reading_frac=0.009, digits=2.0, resolution_ohm=0.1),))


def spec(ohm=62.0, tolerance_frac=0.10, at_c=20.0):
    return SpecLaw(resistance_ohm=ohm, tolerance_frac=tolerance_frac, at_c=at_c)


def a_case(readings, **changes):
    """A case of readings written (wire, wire, ohm or "open")."""
    pairs = tuple(PairReading(a, b, None if ohm == "open" else float(ohm)) for a, b, ohm in readings)
    fields = {
        "meter": HANDHELD,
        "head": HeadTemperature(centre_c=20.0, sd_k=1.0),
        "arrangement": "unipolar-5",
        "spec": spec(),
        "sound_prior": 0.70,
    }
    return WindingCase(readings=pairs, **(fields | changes))


def judged(readings, **changes) -> WindingFinding:
    return judge_windings(a_case(readings, **changes), LAWS)


def star(windings=(62.0, 62.0, 62.0, 62.0), common="5"):
    """All ten readings of a five-wire head, ends named 1 to 4."""
    ohm = dict(zip("1234", windings, strict=True))
    pairs = [(common, end, ohm[end]) for end in "1234"]
    return pairs + [(a, b, round(ohm[a] + ohm[b], 3)) for a, b in combinations("1234", 2)]


def two_stars(ohm=62.0):
    """All fifteen readings of a six-wire head: 2 is the common of 1 and 3, 5 that of 4 and 6."""
    within = {("1", "2"): ohm, ("2", "3"): ohm, ("1", "3"): 2 * ohm, ("4", "5"): ohm, ("5", "6"): ohm}
    within["4", "6"] = 2 * ohm
    return [(a, b, within.get((a, b), "open")) for a, b in combinations("123456", 2)]


def probability(finding, cause, wires=None):
    return sum(
        row.probability
        for row in finding.causes
        if row.cause == cause and (wires is None or set(row.wires) == set(wires))
    )
