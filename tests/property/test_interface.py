"""Whatever another program sends to the interface, it is answered as the OpenAPI says, and never with a fault.

Schemathesis draws the requests; half of them ask for what is really there, so that they get further than "not found".
"""

import io
import random

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)
from tests.office_pages import a_filled_register

from fifthwire.model.kept.people import alone
from fifthwire.register.store import open_register
from fifthwire.web.app import create_app
from fifthwire.workflow import manuals, meters, notes, photographs, places, todo

WHO = alone("rt")
CHECKS = (not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance)
REAL: dict[str, list[str]] = {}
"""Ids that are there, by the name of the path's parameter."""


@pytest.fixture(scope="module")
def interface(tmp_path_factory, sqlite_template):
    """The OpenAPI of an app whose register holds something of everything."""
    path = tmp_path_factory.mktemp("interface") / "register.sqlite"
    path.write_bytes(sqlite_template.read_bytes())
    register = open_register(str(path), create=False)
    fill(register)
    app = create_app(register, alone=WHO)
    schema = schemathesis.openapi.from_asgi("/api/openapi.json", app, headers={"host": "localhost"})
    yield schema
    register.close()


def fill(register):
    """Something of everything, and its ids."""
    filled = a_filled_register(register)
    whole = places.system_whole(register, WHO, filled.system_id)
    spec = manuals.list_specs(register, WHO).rows[0]
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "navy").save(picture, "JPEG")
    about = {"about_kind": "site", "about_id": filled.site_id}
    photograph = photographs.add_photograph(register, WHO, picture.getvalue(), **about)
    note = notes.add_note(register, WHO, text="Ring first.", **about)
    REAL.update(
        site_id=[filled.site_id],
        system_id=[filled.system_id],
        unit_id=[unit.id for unit in whole.units],
        valve_id=[row.valve.id for row in whole.valves],
        visit_id=[filled.visit_id],
        action_id=[action.id for action in todo.list_actions(register, WHO).rows],
        spec_id=[spec.spec_id],
        revision_id=[spec.id],
        meter_id=[meter.id for meter in meters.list_meters(register, WHO).rows],
        note_id=[note.id],
        sha256=[photograph.sha256],
    )


@schemathesis.hook
def map_path_parameters(context, path_parameters):
    """Half of the requests ask for what is there."""
    if path_parameters and REAL:
        draw = random.Random(repr(sorted(path_parameters.items())))
        for name in path_parameters:
            if name in REAL and draw.random() < 0.5:
                path_parameters[name] = draw.choice(REAL[name])
    return path_parameters


OPERATIONS = tuple(
    f"{method.upper()} {path}"
    for path, methods in create_app(None, alone=WHO).openapi()["paths"].items()
    for method in methods
)


@pytest.mark.parametrize("operation", OPERATIONS)
@settings(max_examples=15, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_whatever_is_sent_is_answered_as_promised_and_never_with_a_fault(interface, operation, data):
    method, path = operation.split()
    case = data.draw(interface[path][method].as_strategy())
    answer = case.call(headers={"host": "localhost"})

    case.validate_response(answer, checks=CHECKS)


def test_the_ids_that_are_asked_for_are_those_of_the_interface(interface):
    named = {
        parameter["name"]
        for path in interface.raw_schema["paths"].values()
        for operation in path.values()
        for parameter in operation.get("parameters", ())
        if parameter["in"] == "path"
    }

    assert named - {"syntax", "suffix", "number"} == REAL.keys()
