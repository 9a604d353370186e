"""The make-safe order."""

from datetime import date

from fifthwire.model.choices import CONFIRMATIONS
from fifthwire.model.followup import Confirmation
from fifthwire.model.visit import Visit, VisitHeader
from fifthwire.workflow.make_safe import BEFORE_THE_FIRST_HEAD, CONFIRMED_BY, make_safe_steps


def a_visit(*done: str) -> Visit:
    header = VisitHeader(date=date(2026, 5, 12), site="a", system="b")
    return Visit(header=header, confirmations=tuple(Confirmation(what=what) for what in done))


def test_the_order_ends_with_taking_the_head_off():
    assert make_safe_steps() == ("safe.stop", "safe.open-all", "safe.lock-out", "safe.dc-bus", "safe.unplug")


def test_a_confirmed_step_is_not_told_again():
    assert make_safe_steps(a_visit("compressors-stopped", "bus-measured")) == (
        "safe.open-all",
        "safe.lock-out",
        "safe.unplug",
    )


def test_locked_out_but_not_proved_dead_is_told_again():
    assert "safe.lock-out" in make_safe_steps(a_visit("locked-out"))
    assert "safe.lock-out" not in make_safe_steps(a_visit("locked-out", "proved-dead"))


def test_taking_the_head_off_is_told_whatever_is_confirmed():
    assert make_safe_steps(a_visit(*CONFIRMATIONS)) == ("safe.unplug",)


def test_every_confirmation_that_is_looked_for_exists():
    assert {what for whats in CONFIRMED_BY.values() for what in whats} <= set(CONFIRMATIONS)
    assert set(CONFIRMED_BY) <= set(BEFORE_THE_FIRST_HEAD)
