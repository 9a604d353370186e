"""Verdicts on heads as they are met in the field."""

from math import log

import pytest
from pytest import approx
from tests.winding_cases import HANDHELD, LAWS, judged, probability, spec, star, two_stars

from fifthwire.diagnosis.winding import HeadTemperature, MeterLaw, RangeLaw
from fifthwire.model.errors import InputError


def total(finding):
    return sum(row.probability for row in finding.causes)


def test_two_bobbins_two_percent_apart_are_good():
    finding = judged(star([62.1, 60.9, 62.1, 60.9]))

    assert finding.verdict == "sound"
    assert probability(finding, "shorted-turns") < 0.001


def test_one_winding_four_percent_low_is_shorted_turns():
    finding = judged(star([62.1, 62.1, 62.1, 59.6]))

    assert (finding.verdict, finding.causes[0].cause, finding.causes[0].wires) == ("faulty", "shorted-turns", ("4",))


def test_a_good_head_at_62_c_reads_16_percent_over_and_is_good():
    hot = judged(star([72.25] * 4), head=HeadTemperature(centre_c=62.0, sd_k=1.0))

    assert hot.verdict == "sound"
    assert hot.windings[0].ohm == approx(72.25, abs=0.3)
    assert hot.windings[0].ohm_at_spec == approx(62.0, abs=0.3)


def test_the_same_readings_at_20_c_are_no_good_head_of_that_spec():
    cold = judged(star([72.25] * 4))

    assert cold.verdict != "sound"


def test_balanced_windings_at_half_the_spec_are_another_head():
    finding = judged(star([31.0] * 4))

    assert (finding.verdict, finding.causes[0].cause) == ("faulty", "wrong-head")


def test_without_a_spec_windings_are_compared_with_one_another_only():
    finding = judged(star([31.0] * 4), spec=None)

    assert finding.verdict == "sound"
    assert probability(finding, "wrong-head") == 0.0
    assert finding.windings[0].ohm_at_spec is None
    assert judged(star([31.0, 31.0, 31.0, 25.0]), spec=None).causes[0].cause == "shorted-turns"


def test_an_open_from_two_wires_is_proved():
    readings = [("5", "1", 64.9), ("5", "2", 64.8), ("5", "3", "open"), ("5", "4", 64.8), ("1", "3", "open")]
    finding = judged(readings, common=("5",))

    assert (finding.verdict, finding.causes[0].cause, finding.causes[0].wires) == ("faulty", "open-winding", ("3",))
    assert next(row for row in finding.windings if "3" in row.wires).ohm is None
    assert finding.next_reading is None


def test_an_open_from_one_wire_may_be_a_missed_probe_and_the_second_wire_is_asked_for():
    finding = judged([("5", "1", 62.0), ("5", "2", 62.0), ("5", "3", "open"), ("5", "4", 62.0)], common=("5",))

    assert finding.verdict == "undecided"
    assert probability(finding, "open-winding", {"3"}) == approx(5 / 6, abs=0.002)  # 0.20/4 against 0.10 x 0.4/4
    assert "3" in finding.next_reading.wires


def test_the_same_open_read_twice_from_one_wire_is_no_proof():
    readings = [("5", "1", 62.0), ("5", "2", 62.0), ("5", "3", "open"), ("5", "3", "open"), ("5", "4", 62.0)]
    finding = judged(readings, common=("5",))

    assert finding.verdict == "undecided"
    assert "3" in finding.next_reading.wires
    assert set(finding.next_reading.wires) != {"3", "5"}


def test_two_wires_of_a_pair_open_twice_are_proved_where_there_is_no_second_wire():
    readings = [("1", "2", 62.0), ("3", "4", "open"), ("3", "4", "open")]

    assert judged(readings, arrangement="bipolar-4").verdict == "faulty"


@pytest.mark.parametrize("arrangement", ["unipolar-5", "unipolar-6", "bipolar-4"])
def test_all_pairs_open_is_plug_or_probes(arrangement):
    wires = "123456"[: {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4}[arrangement]]
    readings = [(a, b, "open") for a in wires for b in wires if a < b]

    assert judged(readings, arrangement=arrangement).verdict == "undecided"


def test_no_reading_is_no_verdict():
    finding = judged([])

    assert (finding.verdict, finding.causes, finding.next_reading) == ("not-measured", (), None)


def test_sound_needs_every_winding_read_and_the_next_reading_names_an_untouched_wire():
    finding = judged([("5", "1", 62.0), ("5", "2", 62.0), ("5", "3", 62.0)], common=("5",), sound_prior=0.97)

    assert probability(finding, "sound") > 0.95
    assert finding.verdict == "undecided"
    assert "4" in finding.next_reading.wires
    assert finding.unread_wires == ("4",)


def test_five_readings_that_settle_a_head_ask_for_no_more():
    readings = [("5", "1", 62.0), ("5", "2", 62.0), ("5", "3", 62.0), ("5", "4", 62.0), ("1", "2", 124.0)]
    finding = judged(readings, sound_prior=0.97)

    assert (finding.verdict, finding.next_reading) == ("sound", None)
    assert finding.common[0].wires == ("5",)


def test_a_six_wire_head_is_sound_and_both_commons_are_found():
    finding = judged(two_stars(), arrangement="unipolar-6")

    assert finding.verdict == "sound"
    assert finding.common[0].wires == ("2", "5")
    assert [row.wires for row in finding.windings] == [("2", "1"), ("2", "3"), ("5", "4"), ("5", "6")]


def test_a_solenoid_coil_is_compared_with_its_spec():
    good = judged([("1", "2", 62.0)] * 2, arrangement="single-2", sound_prior=0.97)
    low = judged([("1", "2", 33.0)] * 2, arrangement="single-2", sound_prior=0.97)

    assert good.verdict == "sound"
    assert not {row.cause for row in good.causes} & {"open-common", "bridged"}
    assert low.verdict == "faulty"
    assert good.common == ()


def test_a_stated_common_that_the_readings_contradict_is_undecided_not_divided_by_zero():
    finding = judged(star(), common=("1",))

    assert finding.verdict == "undecided"
    assert (finding.causes[0].cause, finding.causes[0].wires) == ("bad-reading", ())
    assert total(finding) == approx(1.0, abs=1e-12)


def test_two_faults_at_once_fit_no_cause_and_stay_undecided():
    readings = star([62.0, 40.0, 62.0, 95.0])

    finding = judged(readings)

    assert finding.verdict == "undecided"
    assert total(finding) == approx(1.0, abs=1e-12)


def test_more_wires_than_the_head_has_are_undecided():
    finding = judged([(str(n), str(n + 1), 62.0) for n in range(7)])

    assert (finding.verdict, finding.causes[0].cause) == ("undecided", "bad-reading")


def test_a_wire_against_itself_is_refused():
    with pytest.raises(InputError, match="itself"):
        judged([("1", "1", 0.0)])


def test_the_arrangement_is_inferred_from_the_wires_seen():
    assert judged(star(), arrangement=None).arrangement == "unipolar-5"
    assert judged(two_stars(), arrangement=None).arrangement == "unipolar-6"
    four = [("1", "2", 62.0), ("3", "4", 62.0), ("1", "3", "open"), ("1", "4", "open"), ("2", "3", "open")]
    assert judged([*four, ("2", "4", "open")], arrangement=None).arrangement == "bipolar-4"


def test_leads_are_taken_off():
    leads = MeterLaw(ranges=HANDHELD.ranges, leads_ohm=0.5)
    finding = judged([(a, b, ohm + 0.5) for a, b, ohm in star()], meter=leads)

    assert finding.windings[0].ohm == approx(62.0, abs=0.15)


def test_a_reading_takes_the_smallest_range_that_reaches_it():
    fine, coarse = RangeLaw(to_ohm=100.0, digits=1.0, resolution_ohm=0.01), RangeLaw(digits=3.0, resolution_ohm=1.0)
    finding = judged([("5", "1", 62.0), ("1", "2", 124.0)], meter=MeterLaw(ranges=(coarse, fine)))

    assert total(finding) == approx(1.0, abs=1e-12)
    low = judged([("1", "2", 62.0)] * 2, arrangement="single-2", meter=MeterLaw(ranges=(coarse, fine)))
    high = judged([("1", "2", 62.0)] * 2, arrangement="single-2", meter=MeterLaw(ranges=(coarse,)))
    assert low.windings[0].u_ohm < high.windings[0].u_ohm


def test_a_reading_beyond_the_meter_is_an_open():
    finding = judged([("1", "2", 62.0), ("3", "4", 40e6), ("3", "4", 40e6)], arrangement="bipolar-4")

    assert finding.causes[0].cause == "open-winding"


def test_an_untouched_wire_is_named_only_where_its_name_is_beyond_doubt():
    assert "4" in judged([("1", "2", 62.0), ("1", "3", 62.0), ("1", "5", 62.0)]).next_reading.wires
    unnamed = judged([("red", "blue", 62.0)], sound_prior=0.97)
    assert any(len(row.wires) == 1 and row.wires[0] == "an untouched wire" for row in unnamed.common)


def test_the_uncertainty_at_the_spec_holds_that_of_the_temperature():
    sharp = judged(star(), head=HeadTemperature(centre_c=20.0, sd_k=0.5)).windings[0]
    blunt = judged(star(), head=HeadTemperature(centre_c=20.0, sd_k=7.5)).windings[0]

    assert blunt.u_ohm_at_spec > sharp.u_ohm_at_spec
    # one kelvin is 0.393 % at 20 °C: 7.5 K on 62 ohm are 1.83 ohm
    assert blunt.u_ohm_at_spec == approx((blunt.u_ohm**2 + 1.83**2) ** 0.5, rel=0.01)
    assert spec().at_c == 20.0


def test_an_unknown_temperature_gives_no_value_at_the_spec():
    assert judged(star(), head=HeadTemperature()).windings[0].ohm_at_spec is None


def test_a_pair_of_nameless_untouched_wires_is_asked_for_as_two_different_wires():
    asked = judged([("red", "blue", 62.0), ("red", "white", 62.0)], common=("red",), sound_prior=0.97).next_reading

    assert asked.wires == ("an untouched wire", "another untouched wire")


def test_missing_pin_numbers_are_asked_for_by_their_numbers():
    asked = judged([("1", "2", 62.0)]).next_reading

    assert set(asked.wires) <= set("12345")


@pytest.mark.parametrize("ohm", [0.5, 3.0, 40.0, 200.0])
@pytest.mark.parametrize("sound_prior", [0.97, 0.70])
def test_a_solenoid_coil_that_is_all_but_gone_has_shorted_turns(ohm, sound_prior):
    finding = judged([("1", "2", ohm)], arrangement="single-2", spec=spec(900.0), sound_prior=sound_prior)

    assert finding.verdict == "faulty"
    assert probability(finding, "shorted-turns") > 0.95
    assert finding.windings[0].ohm == approx(ohm, abs=0.2)


def test_the_odds_of_a_dead_short_against_nothing_we_thought_of_are_those_worked_out_by_hand():
    finding = judged([("1", "2", 3.0)], arrangement="single-2", spec=spec(900.0), sound_prior=0.97)

    shares = LAWS.fault_shares
    mine = shares["shorted-turns"] / sum(shares[c] for c in shares if c not in ("open-common", "bridged"))
    short = 0.03 * mine * 0.30 / log(0.40 / 1e-4) / 3.0
    nothing = 1e-4 * (2 / 3) / (11.5 * 3.0)
    assert probability(finding, "shorted-turns") == approx(short / (short + nothing), abs=2e-3)


def test_a_stepping_head_keeps_the_usual_law_of_shorted_turns():
    finding = judged(star(windings=(1.0, 62.0, 62.0, 62.0)))

    assert probability(finding, "shorted-turns") < 0.05


def test_a_contact_at_a_common_that_no_sound_head_comes_near_is_not_lost():
    # 349 to 357 ohm is another head of 353, or two windings of 177 each with a bad contact at the common, wire 2
    readings = [("3", "5", 356.6), ("5", "2", 349.0), ("5", "1", 351.5), ("5", "4", 357.0)]
    meter = MeterLaw(ranges=(RangeLaw(of_reading_frac=0.005, digits=1.0, resolution_ohm=0.1),), leads_ohm=0.2)

    finding = judged(
        readings,
        meter=meter,
        spec=spec(172.0, tolerance_frac=0.05, at_c=25.0),
        head=HeadTemperature(centre_c=48.47, sd_k=7.5),
    )

    assert probability(finding, "bad-contact") == approx(0.0097, abs=0.001)  # the oracle of tests/oracle
    assert probability(finding, "bad-contact", ("2",)) == approx(0.0065, abs=0.0005)


def test_a_bridge_that_one_reading_has_to_tell_from_the_scale_is_not_lost():
    opens = [("2", "3"), ("6", "2"), ("4", "3"), ("4", "5"), ("5", "2"), ("2", "3")]
    meter = MeterLaw(ranges=(RangeLaw(of_reading_frac=0.002, digits=1.0, resolution_ohm=0.1),), leads_ohm=0.4)

    finding = judged(
        [("3", "5", 45.8), *[(a, b, "open") for a, b in opens]],
        arrangement="unipolar-6",
        meter=meter,
        spec=spec(68.0, tolerance_frac=0.05),
        head=HeadTemperature(centre_c=3.7, sd_k=1.5),
    )

    assert probability(finding, "bridged") == approx(0.1422, abs=0.001)  # the oracle of tests/oracle
