"""Readings so far from any head that every cause's weight underflows."""

import pytest

from fifthwire.diagnosis.winding import judge_windings
from fifthwire.diagnosis.winding.case import HeadTemperature, MeterLaw, RangeLaw, SpecLaw, WindingCase, WindingLaws
from fifthwire.model.valve import PairReading

LAWS = WindingLaws(
    fault_shares={
        "open-winding": 0.2, "open-common": 0.1, "shorted-turns": 0.2, "bad-contact": 0.2, "bridged": 0.1,
        "wrong-head": 0.1, "bad-reading": 0.1,
    }
)  # fmt: skip


@pytest.mark.parametrize("second_ohm", [2.0, 900.0, 1e5])
def test_no_head_is_named_and_nothing_is_divided_by_nought(second_ohm):
    case = WindingCase(
        readings=(PairReading("5", "1", 62.1), PairReading("5", "2", second_ohm)),
        meter=MeterLaw(),
        head=HeadTemperature(centre_c=21.0),
        arrangement="unipolar-5",
        spec=SpecLaw(resistance_ohm=62.0, tolerance_frac=0.1, at_c=20.0),
        common=("5",),
    )

    finding = judge_windings(case, LAWS)

    assert finding.verdict == "undecided"
    assert sum(cause.probability for cause in finding.causes) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("wires", "ohms", "arrangement"),
    [("12", (9258515.05,), "single-2"), ("6121", (20.0, 20.0), None), ("1212", (1e-4, 1e7), "bipolar-4")],
)
def test_what_is_far_from_any_meters_range_is_weighed_without_an_error(wires, ohms, arrangement):
    """Found by fuzzing: sizes of no variance, and weights that vanish."""
    pairs = [wires[i : i + 2] for i in range(0, len(wires), 2)]
    case = WindingCase(
        readings=tuple(PairReading(a, b, ohm) for (a, b), ohm in zip(pairs, ohms, strict=True)),
        meter=MeterLaw(ranges=(RangeLaw(to_ohm=60.0, of_reading_frac=0.0, digits=50.0, resolution_ohm=0.1),)),
        head=HeadTemperature(centre_c=0.0),
        arrangement=arrangement,
    )

    finding = judge_windings(case, LAWS)

    assert sum(cause.probability for cause in finding.causes) == pytest.approx(1.0)
