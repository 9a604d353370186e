"""Rules of the whole: which measurement counts, what one valve says of another, and what makes up a decision."""

import pytest
from tests.judged_visits import GOOD_FIVE, OPEN_THREE, assessed, priors, visit_text

from fifthwire.assessment import assess, assessment_to_json
from fifthwire.assessment.windings import judged_measurement, measurements_of
from fifthwire.model.cautions import CAUTION_ORDER
from fifthwire.model.errors import InputError
from fifthwire.model.reasons import CAUTIONS, CHECKS, MAKE_SAFE, REASONS, RISKS, WARNINGS, say
from fifthwire.model.valve import Measurement, PairReading, Valve
from fifthwire.visitfile import read_visit

ONE = (PairReading("5", "1", 62.0),)


def measurement(when: str = "as-found", at: str = "head-plug", *, void: bool = False) -> Measurement:
    return Measurement(when=when, measured_at=at, readings=ONE, is_void=void)


def chosen(*measurements: Measurement, first: bool = False) -> tuple[str, str] | None:
    valve = Valve(id="V1", unit="U", role="main", readings=ONE if first else (), measurements=measurements)
    found = judged_measurement(valve)
    return None if found is None else (found.when, found.measured_at)


def test_the_latest_measurement_at_the_heads_plug_counts() -> None:
    late, through = measurement("after-cleaning"), measurement("after-cleaning", "board-plug")

    assert chosen(late, through, first=True) == ("after-cleaning", "head-plug")


def test_the_order_in_the_file_does_not_make_a_measurement_later() -> None:
    assert chosen(measurement("after-replacement"), measurement("as-found")) == ("after-replacement", "head-plug")


def test_where_nothing_was_measured_at_the_head_the_harness_is_taken() -> None:
    assert chosen(measurement(at="through-harness")) == ("as-found", "through-harness")


def test_a_struck_out_measurement_and_an_empty_one_are_not_used() -> None:
    assert chosen(measurement(void=True), Measurement()) is None


def test_readings_are_short_for_the_first_measurement() -> None:
    valve = Valve(id="V1", unit="U", role="main", readings=ONE)

    assert measurements_of(valve) == [Measurement(readings=ONE)]


def test_a_struck_out_valve_gets_no_verdict() -> None:
    second = '[[valves]]\nid = "V2"\nunit = "IU2"\nrole = "indoor"\nhead = "clip-on"\nvoids = "e1"\n'
    text = visit_text('entry = "e1"', after=second)

    assert [one.id for one in assessed(text).valves] == ["V2"]


def test_only_one_valve_may_be_asked_for() -> None:
    second = '[[valves]]\nid = "V2"\nunit = "IU2"\nrole = "indoor"\nhead = "clip-on"\n'
    visit = read_visit(visit_text(f"readings = {GOOD_FIVE}", after=second), name="v.toml", syntax="toml").visit

    whole, one = (assessment_to_json(assess(visit, priors(), only=only)) for only in (None, "V2"))

    assert one["valves"] == whole["valves"][1:]


def test_a_valve_that_is_not_there_is_an_error_that_names_it() -> None:
    visit = read_visit(visit_text(""), name="v.toml", syntax="toml").visit

    with pytest.raises(InputError, match="V9"):
        assess(visit, priors(), only="V9")


def test_work_on_another_valve_says_nothing_of_this_one() -> None:
    plain = assessed(visit_text(f"readings = {OPEN_THREE}"))
    other = assessed(visit_text(f"readings = {OPEN_THREE}", after='[[work]]\nvalve = "V7"\ndone = "replaced-head"'))

    assert plain.valves == other.valves


def test_struck_out_work_is_not_used() -> None:
    work = '[[work]]\nentry = "w1"\nvalve = "V1"\ndone = "replaced-head"\n[[notes]]\nvoids = "w1"\ntext = "wrong valve"'
    valve = assessed(visit_text(f"readings = {OPEN_THREE}", after=work)).valves[0]

    assert valve.action == "replace-head"


@pytest.mark.parametrize("years", ["", "installed = 2024", "installed = 2018", "installed = 2008"])
@pytest.mark.parametrize("reason", ["planned", "comfort", "compressor-failure", "follow-up"])
def test_a_jammed_motor_shown_by_stem_and_pulses_is_replaced_at_any_age(years: str, reason: str) -> None:
    seen = (
        f'readings = {GOOD_FIVE}\n[valves.movement]\nstem = "extended"\nstem_mm = 7\nfelt = "rocking"\n'
        '[valves.board]\nwhen = "commanded"\npulses = true'
    )
    system = f"{years}\nservice_state = true\nservice_state_minutes = 10"
    valve = assessed(visit_text(seen, head="bolt-on", system=system, visit=f'reason = "{reason}"')).valves[0]

    assert (valve.action, valve.causes[0].cause) == ("replace-head", "head-jammed")


@pytest.mark.parametrize("years", ["", "installed = 2024", "installed = 2018", "installed = 2008"])
def test_a_stem_out_without_pulses_is_never_replaced_at_any_age(years: str) -> None:
    seen = f'readings = {GOOD_FIVE}\n[valves.movement]\nstem = "extended"\nstem_mm = 7'
    system = f"{years}\nservice_state = true\nservice_state_minutes = 10"
    valve = assessed(visit_text(seen, head="bolt-on", system=system)).valves[0]

    assert (valve.action, valve.causes[0].cause) == ("check-more", "head-jammed")


def test_cautions_stand_in_the_order_of_the_work() -> None:
    text = visit_text(f'readings = {GOOD_FIVE}\nlast_removed = "never"\n[valves.inspection]\nrust = "heavy"')
    cautions = assessed(text).valves[0].cautions

    assert {"head-off", "never-removed", "clean-can", "leak-check"} <= set(cautions)
    assert list(cautions) == [code for code in CAUTION_ORDER if code in cautions]


def test_a_valve_left_alone_has_no_reasons_and_says_what_was_not_checked() -> None:
    valve = assessed(visit_text("")).valves[0]

    assert not valve.reasons and not valve.facts
    assert [one.code for one in valve.not_checked] == [
        "not-checked.windings",
        "not-checked.inspection",
        "not-checked.movement",
        "not-checked.board",
    ]


def test_lock_out_comes_before_the_bus_and_the_bus_before_any_plug() -> None:
    """Order: 29 CFR 1910.147(d): shut down, isolate, lock out, relieve stored energy, verify."""
    order = [MAKE_SAFE.index(f"safe.{step}") for step in ("stop", "open-all", "lock-out", "dc-bus", "unplug", "refit")]

    assert order == sorted(order) and len(MAKE_SAFE) == 10


@pytest.mark.parametrize("table", [REASONS, CHECKS, RISKS, CAUTIONS, WARNINGS], ids=lambda one: str(len(one)))
def test_every_sentence_ends_and_nothing_shouts(table: dict[str, str]) -> None:
    for sentence in table.values():
        assert sentence.rstrip().endswith(".")
        assert "!" not in sentence


def test_counts_are_spelled_and_lists_are_joined() -> None:
    values = {"wire": "3", "n_from": 2, "n_others": 3, "spread_ohm": 0.2}

    assert say(REASONS, "winding.open", values) == (
        "Wire 3 is open from two wires; the other three windings agree within 0.2 Ω."
    )
    assert say(REASONS, "winding.bridged", {"wires": ["1", "2"]}).startswith("The windings on wires 1 and 2 ")


def test_a_coil_without_a_figure_to_compare_it_with_is_called_whole_and_not_good():
    text = visit_text('readings = [["1","2",512.0]]', head="solenoid").replace('resistance = "900 ohm"\n', "", 1)
    text = text.replace('tolerance = "10 %"\n[meters', "[meters", 1)

    (sentence,) = assessed(text).valves[0].reasons

    assert sentence.code == "winding.whole-coil"
