"""The value that a history holds: what was read, not what is left of it under the day's leading cause."""

from datetime import date

from pytest import approx

from fifthwire.assessment.assess import assess
from fifthwire.assessment.history.as_read import windings_as_read
from fifthwire.assessment.windings import judged_measurement
from fifthwire.model.valve import PairReading, Valve
from fifthwire.model.visit import Accuracy, Meter, Spec, Tolerance, Visit, VisitHeader
from fifthwire.physics.copper import resistance_factor
from fifthwire.workflow.laws import load_priors

PRIORS = load_priors()


def a_visit(*readings: tuple[str, str, float | None]) -> Visit:
    valve = Valve(
        id="V",
        unit="OU1",
        role="main",
        head="clip-on",
        spec="clip",
        meter="m",
        plug_off=True,
        head_temperature_c=15.0,
        head_temperature_from="clamp",
        common=("5",),
        readings=tuple(PairReading(*one) for one in readings),
    )
    meter = Meter(accuracy=Accuracy(0.009, 2.0), resolution_ohm=0.1, leads_ohm=0.2)
    spec = Spec(winding="unipolar-5", resistance_ohm=64.0, tolerance=Tolerance(frac=0.1), at_c=20.0)
    header = VisitHeader(date=date(2025, 3, 18), site="S", system="Y")
    return Visit(header=header, specs={"clip": spec}, meters={"m": meter}, valves=(valve,))


def as_read(visit: Visit):
    valve = visit.valves[0]
    (assessed,) = assess(visit, PRIORS).valves
    measurement = judged_measurement(valve)
    assert measurement is not None
    found = windings_as_read(visit, valve, measurement, assessed.winding.windings)
    return assessed.winding, {one.wires[1]: one for one in found}


def test_a_winding_that_a_contact_is_blamed_for_keeps_what_was_read():
    finding, found = as_read(a_visit(("5", "1", 64.0), ("5", "2", 62.7), ("5", "3", 63.8), ("5", "4", 65.3)))
    judged = {one.wires[1]: one for one in finding.windings}

    assert finding.causes[0].cause == "bad-contact"  # what makes the difference here
    assert (judged["4"].ohm_at_spec or 0.0) < 64.5  # the contact's ohms are taken off
    assert found["4"].ohm_at_spec == approx((65.3 - 0.2) * resistance_factor(15.0, 20.0), rel=1e-9)


def test_where_nothing_is_blamed_it_is_the_verdicts_value_within_the_last_digit():
    finding, found = as_read(a_visit(("5", "1", 62.9), ("5", "2", 62.8), ("5", "3", 62.9), ("5", "4", 63.0)))

    assert finding.verdict == "sound"
    for one in finding.windings:
        assert found[one.wires[1]].ohm_at_spec == approx(one.ohm_at_spec, abs=0.2)
        assert found[one.wires[1]].u_ohm_at_spec == approx(one.u_ohm_at_spec, rel=0.02)


def test_repeats_of_a_pair_count_by_their_middle():
    _, found = as_read(
        a_visit(
            ("5", "1", 62.9), ("5", "1", 63.1), ("1", "5", 63.0), ("5", "2", 62.8), ("5", "3", 62.9), ("5", "4", 63.0)
        )
    )

    assert found["1"].ohm == approx(63.0 - 0.2)


def test_an_open_winding_stays_open():
    _, found = as_read(
        a_visit(("5", "1", 62.9), ("5", "2", 62.8), ("5", "3", None), ("1", "3", None), ("5", "4", 63.0))
    )

    assert found["3"].ohm is None and found["3"].ohm_at_spec is None
