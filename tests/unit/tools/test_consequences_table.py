"""The table of consequences against the simulation that it was made by."""

import pytest
from pytest import approx
from tools.consequences import lines_of

from fifthwire.assessment.consequence_table import TABLE
from fifthwire.assessment.consequences import parsed

KEPT = {line[:5]: line for line in parsed(TABLE)}


@pytest.mark.parametrize(("refrigerant", "units", "curve"), [("R410A", 8, "concave"), ("R32", 24, "linear")])
def test_the_table_says_what_the_simulation_says_now(refrigerant, units, curve):
    """To 2 % of stroke and 1 % of capacity: the sentence is rounded to 5 %."""
    for line in lines_of(refrigerant, "cooling", units, curve):
        kept = KEPT[line[:5]]
        for now, then in zip(line[5:8], kept[5:8], strict=True):
            assert [one is None for one in now] == [one is None for one in then]
            assert [one or 0.0 for one in now] == approx([one or 0.0 for one in then], abs=0.02)
        for now, then in zip(line[8:], kept[8:], strict=True):
            assert [one or 0.0 for one in now] == approx([one or 0.0 for one in then], abs=0.011)
