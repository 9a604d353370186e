"""The answer never depends on the order of the evidence, and an uninformative fact changes nothing."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.judged_visits import GOOD_FIVE, OPEN_ONCE, priors, visit_text

from fifthwire.assessment import assess, assessment_to_json
from fifthwire.diagnosis.faults.before import SYSTEM_PRIOR
from fifthwire.diagnosis.faults.likelihoods import CAUSES, ROWS, likelihood_of
from fifthwire.diagnosis.faults.network import ValveNode, combine
from fifthwire.visitfile import read_visit

CODES = sorted(ROWS)
EVEN = {state: tuple(1.0 / len(CAUSES) for _ in CAUSES) for state in SYSTEM_PRIOR}


def lines(codes: list[str]) -> list[tuple[float, ...]]:
    return [line for code in codes if (line := likelihood_of(code)) is not None]


@given(st.lists(st.sampled_from(CODES), min_size=1, max_size=9, unique=True), st.randoms(use_true_random=False))
def test_the_order_of_facts_changes_no_digit(codes: list[str], rng) -> None:  # type: ignore[no-untyped-def]
    shuffled = rng.sample(codes, len(codes))

    one = combine(SYSTEM_PRIOR, [ValveNode(EVEN, lines(codes))])
    other = combine(SYSTEM_PRIOR, [ValveNode(EVEN, lines(shuffled))])

    assert one.causes == other.causes


@given(st.lists(st.sampled_from(CODES), max_size=6, unique=True), st.floats(1e-6, 1.0))
def test_a_fact_as_probable_under_every_cause_changes_nothing(codes: list[str], flat: float) -> None:
    facts = lines(codes)

    without = combine(SYSTEM_PRIOR, [ValveNode(EVEN, facts)]).causes[0]
    with_it = combine(SYSTEM_PRIOR, [ValveNode(EVEN, [*facts, (flat,) * len(CAUSES)])]).causes[0]

    assert all(abs(without[cause] - with_it[cause]) < 1e-12 for cause in without)


@given(st.lists(st.lists(st.sampled_from(CODES), max_size=4), min_size=2, max_size=4))
def test_the_order_of_valves_does_not_matter(codes: list[list[str]]) -> None:
    valves = [ValveNode(EVEN, lines(one)) for one in codes]

    there = combine(SYSTEM_PRIOR, valves)
    back = combine(SYSTEM_PRIOR, valves[::-1])

    for one, other in zip(there.causes, reversed(back.causes), strict=True):
        assert all(abs(one[cause] - other[cause]) < 1e-9 for cause in one)


@settings(max_examples=20, deadline=None)
@given(st.sampled_from([GOOD_FIVE, OPEN_ONCE]), st.permutations(list(range(4))), st.booleans())
def test_the_order_of_a_visits_rows_does_not_matter(readings: str, order: list[int], turned: bool) -> None:
    after = (
        '[[work]]\nvalve = "V1"\ndone = "cleaned"\n[[work]]\nvalve = "V1"\ndone = "reseated"\n'
        '[[proofs]]\nvalve = "V1"\nkind = "shut-off"\nresult = "passed"\n'
        '[[proofs]]\nvalve = "V1"\nkind = "start-up-heard"\nresult = "passed"\n'
    )
    visit = read_visit(visit_text(f"readings = {readings}", after=after), name="v.toml", syntax="toml").visit
    rows = visit.valves[0].readings
    shuffled = (*[rows[i] for i in order], *rows[4:])
    valve = replace(visit.valves[0], readings=shuffled)
    other = replace(visit, valves=(valve,), work=visit.work[:: -1 if turned else 1], proofs=visit.proofs[::-1])

    one, two = (assessment_to_json(assess(made, priors()))["valves"][0] for made in (visit, other))

    assert (one["causes"], one["action"]) == (two["causes"], two["action"])


@settings(max_examples=10, deadline=None)
@given(st.sampled_from(["retracted", "part-way", "extended"]), st.floats(0.0, 30.0))
def test_a_stem_outside_the_service_state_changes_nothing(stem: str, stem_mm: float) -> None:
    seen = f'readings = {GOOD_FIVE}\n[valves.movement]\nfelt = "steps"\n'
    plain = read_visit(visit_text(seen, head="bolt-on"), name="v.toml", syntax="toml").visit
    with_stem = read_visit(
        visit_text(f'{seen}stem = "{stem}"\nstem_mm = {stem_mm!r}', head="bolt-on"), name="v.toml", syntax="toml"
    ).visit

    one, two = (assessment_to_json(assess(made, priors()))["valves"][0] for made in (plain, with_stem))

    assert all(one[key] == two[key] for key in ("causes", "action", "urgency", "meanwhile", "next_check", "cautions"))
