"""Readings so far from any head that every cause's weight underflows."""

import pytest

from fifthwire.diagnosis.winding import judge_windings
from fifthwire.diagnosis.winding.case import HeadTemperature, MeterLaw, SpecLaw, WindingCase, WindingLaws
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
