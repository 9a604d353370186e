"""The table from error to HTTP status, and how an error is answered."""

import inspect

import pytest
from tests.web_client import Client

from fifthwire.model import errors
from fifthwire.model.errors import Conflict, FifthwireError, InputError, NotFound, Problem, VisitFileError
from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.errors import HTTP_STATUS, http_status


def app_that_raises(error: Exception) -> Client:
    app = create_app(None, alone=alone("rt"))

    def fail():
        raise error

    app.add_api_route("/fails", fail)
    app.add_api_route("/api/fails", fail)
    return Client(app)


def test_every_error_of_the_program_has_a_status_of_its_own():
    raised = {of for _, of in inspect.getmembers(errors, inspect.isclass) if issubclass(of, BaseException)}

    assert raised == HTTP_STATUS.keys()


@pytest.mark.parametrize(("error", "status"), [(InputError("a"), 422), (NotFound("a"), 404), (Conflict("a"), 409)])
def test_an_error_is_answered_with_its_status_message_and_hint(error, status):
    error.hint = "do that"
    client = app_that_raises(error)

    page, told = client.get("/fails"), client.get("/api/fails")

    assert (page.status_code, told.status_code) == (status, status)
    assert "do that" in page.text
    assert {"message": "a", "hint": "do that", "problems": []}.items() <= told.json().items()


def test_a_new_kind_of_error_has_the_status_of_the_class_above_it():
    class NewError(InputError):
        pass

    assert http_status(NewError("no")) == 422


def test_every_problem_of_a_file_stands_on_the_page_with_its_place():
    problems = (Problem(place="valves[3].head", message="<b>no head</b>", hint="write clip-on", line=12),)
    client = app_that_raises(VisitFileError("a.toml", problems))

    page = client.get("/fails").text

    assert "valves[3].head" in page
    assert "line 12" in page
    assert "&lt;b&gt;no head" in page
    assert client.get("/api/fails").json()["problems"][0]["line"] == 12


@pytest.mark.parametrize("error", [ZeroDivisionError("secret"), FifthwireError("bare")])
def test_a_fault_of_the_program_says_so_and_shows_nothing_of_its_inside(error):
    answer = app_that_raises(error).get("/fails")

    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text


def test_an_address_that_is_not_there_says_what_to_do():
    answer = Client(create_app(None, alone=alone("rt"))).get("/nowhere")

    assert answer.status_code == 404
    assert "There is no page at this address." in answer.text
