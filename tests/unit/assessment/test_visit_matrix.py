"""Every visit of the matrix comes to what a technician would say of it."""

import re
import sys
from pathlib import Path

import pytest
from tests.judged_visits import assessed_json, visit_text

sys.path.insert(0, str(Path(__file__).parent))
from visit_matrix import MATRIX, Told


@pytest.mark.parametrize("told", MATRIX, ids=[one.name for one in MATRIX])
def test_a_visit_is_judged_as_a_technician_would(told: Told) -> None:
    text = visit_text(told.valve, head=told.head, system=told.system, meter=told.meter, after=told.after)
    for key, value in told.more.items():
        text = re.sub(rf"^{key} = .*\n", "", text, flags=re.MULTILINE)
        text = text.replace('id = "V1"\n', f'id = "V1"\n{key} = "{value}"\n')

    out = assessed_json(text)
    valve = out["valves"][0]

    assert valve["winding"]["verdict"] == told.verdict
    assert valve["causes"][0]["cause"] in told.leading
    assert valve["action"] in told.action
    assert told.urgency is None or valve["urgency"] == told.urgency
    assert told.check is None or valve["next_check"]["check"] == told.check
    assert told.because is None or any(told.because in sentence for sentence in valve["because"])
    assert told.warning is None or any(told.warning in sentence for sentence in out["warnings"])
