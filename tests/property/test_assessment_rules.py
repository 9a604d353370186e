"""Whatever a visit says, the rules hold: no replacement without its 0.95, nothing kept on windings alone, sums of 1."""

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.judged_visits import ALL_OPEN, GOOD_FIVE, HIGH_ONE, OPEN_ONCE, OPEN_THREE, assessed_json, visit_text

from fifthwire.model.choices import ACTIONS, MEANWHILE, URGENCIES, VALVE_CAUSES, WINDING_VERDICTS

HEAD_CURES = {"winding", "head-jammed", "head-cracked", "head-unseated"}
BODY_CURES = {"body-stuck-open", "body-stuck-closed", "leaks-when-shut"}


def table(name: str, **keys: tuple[str, ...]) -> st.SearchStrategy[str]:
    """A table of a valve with some of its keys."""
    written = [
        st.one_of(st.just(""), st.sampled_from(values).map(f"{key} = {{}}\n".format)) for key, values in keys.items()
    ]
    return st.tuples(*written).map(lambda lines: f"[valves.{name}]\n{''.join(lines)}")


YES_NO, MOVED = ("true", "false"), ('"moves"', '"stuck"')
READINGS = st.sampled_from(
    ["", *(f"readings = {one}\n" for one in (GOOD_FIVE, GOOD_FIVE, OPEN_THREE, OPEN_ONCE, HIGH_ONE, ALL_OPEN))]
)
INSPECTION = table(
    "inspection",
    rust=('"none"', '"light"', '"heavy"'),
    pitted=YES_NO,
    cracks=YES_NO,
    seated=YES_NO,
    connector=('"dry"', '"wet"', '"corroded"'),
)
MOVEMENT = table(
    "movement",
    stem=('"retracted"', '"part-way"', '"extended"'),
    stem_mm=("0.4", "1.5", "6"),
    felt=('"steps"', '"rocking"', '"nothing"'),
    hand_magnet=MOVED,
    known_good_head=MOVED,
    old_head_again=MOVED,
    plug_swap=('"fault-moves"', '"fault-stays"'),
    after_cleaning=MOVED,
)
BOARD = table("board", when=('"start-up"', '"commanded"', '"at-rest"'), pulses=YES_NO, supply=('"12 V"', '"0 V"'))
WORK = st.sampled_from(
    ["", *(f'[[work]]\nvalve = "V1"\ndone = "{one}"\n' for one in ("cleaned", "reseated", "replaced-head"))]
)
PROOF = st.sampled_from(
    [
        "",
        *(
            f'[[proofs]]\nvalve = "V1"\nkind = "{kind}"\nresult = "{result}"\n'
            for kind in ("step-response", "shut-off", "start-up-heard")
            for result in ("passed", "failed")
        ),
    ]
)
VISITS = st.builds(
    lambda valve, head, service, work, proof: visit_text(
        "".join(valve),
        head=head,
        system=f"installed = 2014\nservice_state = {service}\nservice_state_minutes = 10",
        after=work + proof,
    ),
    st.tuples(READINGS, INSPECTION, MOVEMENT, BOARD),
    st.sampled_from(["clip-on", "bolt-on", "solenoid"]),
    st.sampled_from(YES_NO),
    WORK,
    PROOF,
)


@settings(max_examples=150, deadline=None)
@given(VISITS)
def test_the_rules_hold_for_any_visit(text: str) -> None:
    valve = assessed_json(text)["valves"][0]
    causes = {row["cause"]: row["probability"] for row in valve["causes"]}

    assert round(sum(causes.values()) * 1e6) == 1_000_000
    assert set(causes) <= {*VALVE_CAUSES, "other"}
    assert valve["winding"]["verdict"] in WINDING_VERDICTS
    assert valve["action"] in ACTIONS and valve["urgency"] in URGENCIES and valve["meanwhile"] in MEANWHILE
    assert len(valve["because"]) == len(valve["reasons"])
    if valve["action"] == "replace-head":
        assert sum(causes.get(cause, 0.0) for cause in HEAD_CURES) >= 0.95 - 1e-5
    if valve["action"] == "replace-body":
        assert sum(causes.get(cause, 0.0) for cause in BODY_CURES) >= 0.95 - 1e-5
    if valve["action"] == "keep":
        assert valve["winding"]["verdict"] == "sound" and valve["causes"][0]["cause"] == "sound"
        assert len(valve["reasons"]) >= 2
    assert (valve["urgency"] == "none") <= (valve["action"] in ("keep", "watch", "check-more"))


@settings(max_examples=60, deadline=None)
@given(VISITS)
def test_causes_that_do_not_exist_on_a_head_are_never_named(text: str) -> None:
    causes = {row["cause"] for row in assessed_json(text)["valves"][0]["causes"]}

    if 'head = "bolt-on"' in text:
        assert "head-unseated" not in causes
    else:
        assert not causes & {"head-jammed", "head-cracked"}
    assert 'kind = "solenoid"' not in text or "head-unseated" not in causes
