"""What the readings of a head say of its windings."""

from fifthwire.diagnosis.winding.case import (
    HeadTemperature,
    MeterLaw,
    RangeLaw,
    SpecLaw,
    WindingCase,
    WindingLaws,
)
from fifthwire.diagnosis.winding.judge import judge_windings

__all__ = [
    "HeadTemperature",
    "MeterLaw",
    "RangeLaw",
    "SpecLaw",
    "WindingCase",
    "WindingLaws",
    "judge_windings",
]
