"""After a compressor failed: what could have done it comes first, and nothing unproved is passed over."""

from tests.judged_visits import assessed, priors
from tests.running_visits import GOOD_WINDINGS, running_visit

from fifthwire.assessment import assess
from fifthwire.assessment.content import report_content
from fifthwire.visitfile import read_visit

FLOODING_BYPASS = {"OU1": {"ssh": 0.1, "dsh": 10.0, "bypass": 0.083, "outlet": 0.0}}


def without_snapshot(**more: str) -> str:
    text = running_visit(
        reason="compressor-failure", n=3, valves={f"IU{i}-v": GOOD_WINDINGS for i in (1, 2, 3)}, **more
    )
    return text.partition("[snapshot]")[0]


def test_with_good_windings_only_floodback_is_unknown_and_every_valve_is_unproved() -> None:
    found = assessed(without_snapshot())

    assert found.compressor["floodback"] == "unknown"
    assert found.failure is not None
    assert found.failure.suspects[0].reason.code == "failure.liquid-unknown"
    unproved = {one.code: one.values.get("valves") for one in found.failure.not_proved}
    assert (
        unproved["failure.not-movement"]
        == unproved["failure.not-shut-off"]
        == ["IU1-v", "IU2-v", "IU3-v", "OU1-bypass"]
    )
    assert {"failure.not-running", "failure.not-oil", "failure.not-supply"} <= set(unproved)


def test_the_valve_that_the_readings_point_at_is_ranked_first() -> None:
    found = assessed(running_visit(reason="compressor-failure", outdoor=FLOODING_BYPASS))

    assert found.failure is not None
    liquid, first, *_ = found.failure.suspects
    assert liquid.reason.values == {"floodback": "likely"}
    assert first.valve == "OU1-bypass"
    assert first.probability > 0.5


def test_what_was_shown_to_move_and_to_shut_is_not_listed_as_unproved() -> None:
    proofs = "".join(
        f'[[proofs]]\nvalve = "OU1-bypass"\nkind = "{kind}"\nresult = "passed"\n'
        for kind in ("step-response", "shut-off")
    )
    found = assessed(running_visit(reason="compressor-failure", n=3, after=proofs))

    assert found.failure is not None
    unproved = {one.code: one.values.get("valves") for one in found.failure.not_proved}
    assert "OU1-bypass" not in unproved["failure.not-movement"]  # type: ignore[operator]
    assert "OU1-bypass" not in unproved["failure.not-shut-off"]  # type: ignore[operator]


def test_the_report_opens_with_it_and_that_of_another_visit_does_not_have_it() -> None:
    for reason, opens in (("compressor-failure", True), ("comfort", False)):
        visit = read_visit(running_visit(reason=reason), name="a", syntax="toml").visit
        report = report_content(visit, assess(visit, priors()))

        assert (report.sections[0].anchor == "compressor") is opens
        assert any(one.anchor == "compressor" for one in report.sections) is opens


def test_no_visit_after_a_compressor_failure_changes_the_keys_of_the_json() -> None:
    from tests.judged_visits import assessed_json

    keys = set(assessed_json(running_visit(n=3)))
    assert set(assessed_json(running_visit(n=3, reason="compressor-failure"))) == keys
