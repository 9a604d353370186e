"""The pages on which a visit is filled in: units as people type them, wrong values, two people at one table, roles."""

from datetime import date
from urllib.parse import quote

import pytest
from pytest import approx
from tests.office_pages import text_of
from tests.web_client import Client

from fifthwire.model.kept.people import Person, alone
from fifthwire.web.app import create_app
from fifthwire.web.visit_form.questions import ASKED, Question, answered, questions, written
from fifthwire.workflow import manuals, places, valves
from fifthwire.workflow.visits_kept import new_visit, visit_of

WHO = alone("rt")
LABEL = 'IU/07 "<b>'
SPEC = {"winding": "unipolar-5", "resistance": "62 ohm", "tolerance": "10 %"}


class Form:
    """A visit's page of one valve, in front of a browser."""

    def __init__(self, register, who: Person = WHO, **system) -> None:
        site = places.add_site(register, WHO, name="Quayside House", time_zone="Europe/London")
        self.system = places.add_system(register, WHO, site_id=site.id, name="QH-1", **system)
        spec = manuals.add_spec(register, WHO, name="clip", spec=SPEC)
        unit = valves.add_unit(register, WHO, system_id=self.system.id, name="IU/07", kind="indoor")
        valves.add_valve(
            register, WHO, unit_id=unit.id, role="indoor", label=LABEL, head="clip-on", spec_id=spec.spec_id
        )
        self.register = register
        self.visit_id = new_visit(register, WHO, self.system.id, date(2026, 5, 12)).id
        self.client = Client(create_app(register, alone=who))
        self.base = f"/visits/{self.visit_id}/fill"
        self.path = f"{self.base}/valve?label={quote(LABEL, safe='')}"

    @property
    def visit(self):
        return visit_of(self.register, WHO, self.visit_id).visit

    @property
    def version(self) -> int:
        return visit_of(self.register, WHO, self.visit_id).kept.version

    def say(self, part: str, **fields: str):
        given = {"label": LABEL, "part": part, "version": str(self.version), "head": "clip-on", **fields}
        return self.client.post(f"{self.base}/valve", given)


@pytest.fixture
def form(register) -> Form:
    return Form(register)


def test_a_label_of_any_characters_is_shown_and_found_again(form):
    answer = form.client.get(form.path)

    assert answer.status_code == 200
    assert LABEL in text_of(answer.text) and LABEL not in answer.text
    assert form.client.get(f"{form.base}/valve?label=nothing").status_code == 404


def test_a_bare_temperature_is_in_the_persons_unit(form):
    form.client.cookies.set("units", "us", domain="localhost.local")
    form.client.cookies.set("units", "us", domain="localhost")
    form.client.get(form.path)
    answer = form.say("before", head_temperature="88", plug_off="yes")

    assert answer.status_code == 303
    (valve,) = form.visit.valves
    assert valve.head_temperature_c == approx((88 - 32) / 1.8) and valve.plug_off is True
    assert 'value="88 degF"' in form.client.get(form.path).text


def test_a_reading_with_a_decimal_comma_is_a_reading(form):
    assert form.say("reading", pin_a="5", pin_b="1", ohm="62,4", shown="ohm", when="as-found").status_code == 303
    assert form.say("reading", pin_a="5", pin_b="2", ohm="0.0625 kohm", shown="ohm", when="as-found").status_code == 303
    assert form.say("reading", pin_a="5", pin_b="3", ohm="", shown="open", when="as-found").status_code == 303

    (valve,) = form.visit.valves
    assert [one.ohm for one in valve.readings] == [62.4, approx(62.5), None]
    assert "62.4" in form.client.get(form.path).text


@pytest.mark.parametrize(
    "fields",
    [
        {"part": "reading", "pin_a": "5", "pin_b": "1", "ohm": "sixty", "shown": "ohm", "when": "as-found"},
        {"part": "reading", "pin_a": "5", "pin_b": "1", "ohm": "", "shown": "ohm", "when": "as-found"},
        {"part": "reading", "pin_a": "5", "pin_b": "5", "ohm": "62", "shown": "ohm", "when": "as-found"},
        {"part": "reading", "pin_a": "5", "pin_b": "1", "ohm": "62", "shown": "ohm", "when": "yesterday"},
        {"part": "before", "head_temperature": "700"},
        {"part": "look", "rust": "pink"},
        {"part": "step", "opening_before": "210"},
        {"part": "do", "done": "painted"},
        {"part": "prove", "kind": "step-response", "result": "maybe"},
        {"part": "dance"},
    ],
    ids=lambda fields: " ".join(fields.values()),
)
def test_what_cannot_be_is_refused_in_words_and_nothing_is_kept(form, fields):
    before = form.version
    answer = form.say(**fields)

    assert answer.status_code == 422
    assert form.version == before
    assert 'class="wrong"' in answer.text or 'class="problems' in answer.text


def test_the_second_person_at_one_table_is_shown_both(form):
    seen = str(form.version)
    assert form.say("look", rust="heavy", version=seen).status_code == 303
    answer = form.say("look", rust="none", version=seen)

    assert answer.status_code == 409
    assert "heavy" in text_of(answer.text)
    (valve,) = form.visit.valves
    assert valve.inspection.rust == "heavy"


def test_a_question_that_was_answered_can_be_taken_back(form):
    form.say("look", rust="heavy", connector="wet")
    form.say("look", rust="", connector="wet")

    (valve,) = form.visit.valves
    assert (valve.inspection.rust, valve.inspection.connector) == (None, "wet")


def test_pressures_and_a_step_test_are_kept_as_people_say_them(form):
    outdoor = {"part": "outdoor", "unit": "", "version": str(form.version), "suction_pressure": "118 psig"}
    assert form.client.post(f"{form.base}/system", outdoor).status_code == 303
    step = {"opening_before": "210", "opening_after": "190", "superheat_before": "5.1", "superheat_after": "10.8"}
    assert form.say("step", minutes="8", **step).status_code == 303
    assert form.say("running", kind="unit", opening="44 %", gas_pipe="13").status_code == 303

    visit = form.visit
    assert visit.snapshot.suction_kpa_abs == approx(118 * 6.894757 + 101.325, abs=0.1)
    (test,) = visit.step_tests
    assert test.superheat_k == (5.1, 10.8) and test.minutes == 8
    assert visit.snapshot.units["IU/07"].opening.frac == approx(0.44)
    assert "superheat 5.1" in text_of(form.client.get(form.path).text)


def test_several_outdoor_units_have_a_form_each(register):
    form = Form(register)
    for name in ("OU1", "OU2"):
        unit = valves.add_unit(register, WHO, system_id=form.system.id, name=name, kind="outdoor")
        valves.add_valve(register, WHO, unit_id=unit.id, role="main", label=f"{name}-main", head="clip-on")
    form.visit_id = new_visit(register, WHO, form.system.id, date(2026, 6, 12)).id
    base = f"/visits/{form.visit_id}/fill"
    said = {"part": "outdoor", "unit": "OU2", "version": str(form.version), "liquid_temperature": "34"}
    assert form.client.post(f"{base}/system", said).status_code == 303

    assert form.visit.snapshot.outdoor["OU2"].liquid_temperature_c == 34.0
    page = form.client.get(base).text
    assert 'name="unit" value="OU1"' in page and 'name="unit" value="OU2"' in page


def test_a_reader_sees_everything_and_is_offered_no_form(register):
    form = Form(register)
    reader = Client(create_app(register, alone=Person(id="r", name="R", role="reader")))

    for path in (form.base, form.path):
        page = reader.get(path)
        assert page.status_code == 200
        assert '<form method="post" action="/visits' not in page.text
    refused = reader.post(f"{form.base}/valve", {"label": LABEL, "part": "look", "version": "1", "rust": "none"})
    assert refused.status_code == 403


@pytest.mark.parametrize("part", ASKED)
@pytest.mark.parametrize("head", ["clip-on", "bolt-on", None])
def test_every_question_is_one_of_the_visit_file_and_asked_of_the_heads_it_fits(part, head):
    asked = questions(part, {}, "si", head=head, meters=("m",))

    assert [one.key for one in asked] == [key for key, _, heads in ASKED[part][1] if head in heads]
    assert all(one.options for one in asked if one.kind == "choice")


def test_what_was_typed_is_typed_back_the_same():
    temperature = Question(key="ambient", text="", kind="text", unit="degC")
    for units in ("si", "us"):
        kept = answered("31.5", temperature, units)
        assert answered(written(kept, "degC", units), temperature, units) == kept
    assert answered("2, 5", Question(key="common", text="", kind="text"), "si") == ["2", "5"]
    assert answered("1e999", temperature, "si") == "1e999"  # no number: refused where it is read
