"""A user's own priors file is refused by name where its mechanical table cannot be used."""

import pytest
from tests.judged_visits import PRIORS_TEXT

from fifthwire.diagnosis.priors import parse_priors
from fifthwire.model.errors import InputError


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("sensor = 0.02", "", "sensor"),
        ("sensor = 0.02", "sensor = 1.5", "1.5"),
        ("to_10_years = 0.03, older = 0.08", "older = 0.08", "bolt-on_jammed lacks to_10_years"),
    ],
)
def test_a_mechanical_share_that_is_missing_or_impossible_is_named(old: str, new: str, told: str) -> None:
    with pytest.raises(InputError, match=told):
        parse_priors(PRIORS_TEXT.replace(old, new))


def test_one_number_may_stand_for_every_age() -> None:
    text = PRIORS_TEXT.replace(
        "body_stuck = { to_5_years = 0.004, to_10_years = 0.006, older = 0.012 }", "body_stuck = 0.01"
    )

    assert parse_priors(text).mechanical["body_stuck"] == 0.01
