"""What to do next at a valve, as its latest judgement said it."""

import pytest
from tests.office_pages import WHO, a_filled_register

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.people import Person
from fifthwire.workflow import places
from fifthwire.workflow.next_steps import next_step


@pytest.fixture
def filled(register):
    return a_filled_register(register)


def test_a_pair_to_read_is_named_with_its_pins(filled):
    step = next_step(filled.register, WHO, filled.valve_id("IU22-valve"))

    assert step is not None
    assert len(step.wires) == 2
    assert all(wire in step.what for wire in step.wires)


def test_a_head_to_replace_comes_with_its_cautions(filled):
    step = next_step(filled.register, WHO, filled.valve_id("OU1-subcooler"))

    assert step is not None
    assert step.cautions[0].startswith("Lock out every supply")


def test_a_valve_that_no_visit_judged_has_none(filled):
    unit = places.list_units(filled.register, WHO, filled.system_id)[0]
    valve = places.add_valve(filled.register, WHO, unit_id=unit.id, role="receiver", head="clip-on")

    assert next_step(filled.register, WHO, valve.id) is None


def test_nobody_learns_of_another_site(filled):
    other = Person(id="o", name="o", role="owner", site_ids=("elsewhere",))

    with pytest.raises(NotFound):
        next_step(filled.register, other, filled.valve_id("OU1-subcooler"))
