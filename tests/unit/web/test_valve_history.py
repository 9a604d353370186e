"""A valve's history on its pages: drift called out where the valve is looked at, charts for screens and for files."""

import json
import re
from html import unescape

import pytest
from tests.office_pages import text_of
from tests.web_client import Client

from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.workflow import places, visits_kept

WHO = alone("rt")
ROWS = {"1": 62.9, "2": 62.8, "3": 62.9, "4": 63.0}


def a_visit(year: int, *, falls: float = 0.0) -> bytes:
    rows = ", ".join(
        f'["5", "{wire}", {ohm * (1.0 - (falls * (year - 2022) if wire == "3" else 0.0)):.1f}]'
        for wire, ohm in ROWS.items()
    )
    return f"""format = "fifthwire/visit/1"
[visit]
date = {year}-04-02
site = "Quayside House"
system = "QH-1"
[specs.clip]
winding = "unipolar-5"
resistance = "62 ohm"
tolerance = "10 %"
[[valves]]
id = "OU1-main"
unit = "OU1"
role = "main"
head = "clip-on"
spec = "clip"
plug_off = true
head_temperature = "20 degC"
head_installed = 2019-06-01
common = "5"
readings = [{rows}]
""".encode()


@pytest.fixture
def office(register):
    """A way to keep some springs of one valve, and the pages of it."""

    def kept(*years: int, falls: float = 0.0) -> tuple[Client, str]:
        for year in years:
            done = visits_kept.import_visit_file(register, WHO, a_visit(year, falls=falls), f"{year}.visit.toml")
            visits_kept.judge_visit(register, WHO, done.kept.id)
        (row,) = places.list_valves(register, WHO).rows
        return Client(create_app(register, alone=WHO)), f"/valves/{row.valve.id}"

    return kept


def test_drift_is_called_out_at_the_valve_and_in_its_history(office):
    client, path = office(2022, 2023, 2024, 2025, falls=0.015)

    for page in (path, f"{path}/history"):
        assert "Winding 5-3 drifts: it has fallen by 4." in text_of(client.get(page).text)


def test_a_steady_valve_has_no_word_of_drift_where_it_is_looked_at(office):
    client, path = office(2022, 2023, 2024)

    assert "drift" not in text_of(client.get(path).text)
    assert "No winding drifts" in text_of(client.get(f"{path}/history").text)


def test_the_chart_holds_what_the_table_says(office):
    client, path = office(2022, 2023)
    html = client.get(f"{path}/history").text
    data = json.loads(unescape(re.search(r'data-chart="([^"]*)"', html)[1]))

    assert data["days"] == ["2 April 2022", "2 April 2023"]
    assert [one["label"] for one in data["series"]] == ["5-1", "5-2", "5-3", "5-4"]
    said = text_of(html)
    for one in data["series"]:
        assert all(" ".join(shown.split()) in said for shown in one["shown"])


def test_a_valve_that_was_never_read_says_what_to_do_first(register):
    done = visits_kept.import_visit_file(register, WHO, re.sub(rb"readings = .*", b"", a_visit(2022)), "x.visit.toml")
    visits_kept.judge_visit(register, WHO, done.kept.id)
    (row,) = places.list_valves(register, WHO).rows
    client = Client(create_app(register, alone=WHO))

    assert "Measure them at the head's own plug" in text_of(client.get(f"/valves/{row.valve.id}/history").text)
    assert client.get(f"/valves/{row.valve.id}/history.svg").status_code == 404


@pytest.mark.parametrize("mode", ["cooling", "heating", "mixed", "sideways", ""])
def test_the_circuit_is_a_file_whatever_mode_is_asked_for(register, mode):
    done = visits_kept.import_visit_file(register, WHO, a_visit(2022), "x.visit.toml")
    client = Client(create_app(register, alone=WHO))
    answer = client.get(f"/systems/{done.kept.system_id}/circuit.svg?mode={mode}")

    assert answer.status_code == 200 and answer.headers["content-type"].startswith("image/svg+xml")
    assert "<a " not in answer.text and "script" not in answer.text
    assert ">main</text>" in answer.text
