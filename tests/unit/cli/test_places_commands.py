"""Places, manuals, meters, notes, actions, search and export at the command line."""

import json
import zipfile
from xml.etree import ElementTree

import pytest

from fifthwire.cli.exits import DONE, INPUT, REGISTER
from fifthwire.cli.main import main
from fifthwire.model.kept.people import Person
from fifthwire.register import todo
from fifthwire.register.store import open_register
from fifthwire.workflow import places

LIST = "system,unit,role,head,label\nQH-1,OU1,subcooler-bypass,clip-on,OU1-subcooler\nQH-1,IU07,indoor,clip-on,\n"
SPEC = '{"winding": "unipolar-5", "resistance": "62 ohm"}'
OWNER = Person(id="o", name="RT", role="owner")


@pytest.fixture
def where(tmp_path, monkeypatch):
    """A register with one site and its list of valves."""
    path = tmp_path / "register.sqlite"
    monkeypatch.setenv("FIFTHWIRE_REGISTER", str(path))
    assert main(["sites", "add", "Quayside House", "--time-zone", "Europe/London", "--altitude", "130 ft"]) == DONE
    (tmp_path / "valves.csv").write_text(LIST, "utf-8")
    assert main(["valves", "import", str(tmp_path / "valves.csv"), "--site", "Quayside House"]) == DONE
    return path


def said(capsys, *words):
    capsys.readouterr()
    code = main(list(words))
    out, err = capsys.readouterr()
    assert code == DONE, err
    return out


def as_json(capsys, *words):
    return json.loads(said(capsys, *words, "--json"))


def test_what_was_added_is_listed(where, capsys):
    assert "Quayside House  1        2" in said(capsys, "sites", "list")
    (row,) = as_json(capsys, "sites", "list")["rows"]
    assert (row["site"]["altitude_m"], row["n_valves"]) == (pytest.approx(39.624), 2)
    assert "QH-1" in said(capsys, "sites", "show", "Quayside House")
    shown = said(capsys, "systems", "show", "QH-1")
    assert "OU1-subcooler  not checked" in shown
    assert [row["valve"]["label"] for row in as_json(capsys, "valves", "list", "--text", "ou1")["rows"]] == [
        "OU1-subcooler"
    ]
    assert "Not checked" in said(capsys, "valves", "show", "OU1-subcooler", "--system", "QH-1")


def test_what_is_given_is_changed_and_the_rest_stays(where, capsys):
    changed = as_json(capsys, "sites", "change", "Quayside House", "--address", "2 Quay Row")
    assert (changed["address"], changed["time_zone"], changed["version"]) == ("2 Quay Row", "Europe/London", 2)
    changed = as_json(capsys, "systems", "change", "QH-1", "--refrigerant", "R32", "--heat-recovery", "yes")
    assert (changed["refrigerant"], changed["is_heat_recovery"], changed["name"]) == ("R32", True, "QH-1")
    changed = as_json(capsys, "systems", "change-unit", "QH-1", "IU07", "--room", "Reading room")
    assert (changed["room"], changed["kind"], changed["position"]) == ("Reading room", "indoor", 1)
    changed = as_json(capsys, "valves", "change", "OU1-subcooler", "--system", "QH-1", "--access", "roof")
    assert (changed["access"], changed["head"], changed["label"]) == ("roof", "clip-on", "OU1-subcooler")


def test_a_change_of_a_version_that_somebody_has_changed_since_is_refused(where, capsys):
    said(capsys, "sites", "change", "Quayside House", "--address", "2 Quay Row")

    assert main(["sites", "change", "Quayside House", "--address", "3 Quay Row", "--seen", "1"]) == REGISTER
    assert "Somebody else has changed Quayside House" in capsys.readouterr().err


def test_units_and_valves_are_added_one_by_one(where, capsys):
    said(capsys, "systems", "add", "QH-2", "--site", "Quayside House")
    said(capsys, "systems", "add-unit", "QH-2", "IU01", "--kind", "indoor", "--capacity", "3.6 kW")
    said(capsys, "manuals", "add", "room-coil", SPEC, "--title", "Manual", "--manual-page", "117")
    made = said(
        capsys, "valves", "add", "IU01", "indoor", "--system", "QH-2", "--head", "clip-on", "--spec", "room-coil"
    )
    whole = as_json(capsys, "valves", "show", made.strip())
    assert (whole["unit"]["capacity_kw"], whole["spec"]["spec"]["resistance"]) == (3.6, 62.0)

    said(capsys, "valves", "fit", made.strip(), "--date", "2026-05-12", "--part", "C-205")
    assert [head["part_label"] for head in as_json(capsys, "valves", "show", made.strip())["heads"]] == ["C-205", None]


def test_a_list_is_looked_at_before_it_is_brought_in(where, tmp_path, capsys):
    (tmp_path / "more.csv").write_text("system,unit,role,head\nQH-1,IU08,indor,clip-on\n", "utf-8")

    shown = said(capsys, "valves", "preview", str(tmp_path / "more.csv"), "--site", "Quayside House")
    assert "2    role    indor is not a role" in shown
    assert main(["valves", "import", str(tmp_path / "more.csv"), "--site", "Quayside House"]) == INPUT
    assert "row 2, role" in capsys.readouterr().err

    said(capsys, "valves", "template", str(tmp_path / "empty.xlsx"))
    assert as_json(capsys, "valves", "preview", str(tmp_path / "empty.xlsx"), "--site", "Quayside House")["n_new"] == 2
    assert main(["valves", "template", str(tmp_path / "empty.xlsx")]) == INPUT


def test_manuals_and_meters_are_kept_and_revised(where, capsys):
    said(capsys, "manuals", "add", "room-coil", SPEC)
    assert "revision 2" in said(capsys, "manuals", "revise", "room-coil", SPEC.replace("62", "64"))
    first, second = (row["spec"]["resistance"] for row in as_json(capsys, "manuals", "show", "room-coil"))
    assert (first, second) == (64.0, 62.0)
    assert main(["manuals", "check", "room-coil"]) == INPUT, "the same person entered it"
    assert main(["manuals", "add", "other", '{"winding": "triangle"}']) == INPUT
    assert "winding" in capsys.readouterr().err

    said(capsys, "meters", "add", "A1234", '{"accuracy": "0.9 %"}', "--name", "yellow")
    assert as_json(capsys, "meters", "change", "A1234", '{"accuracy": "0.5 %"}')["version"] == 2
    assert "yellow" in said(capsys, "meters", "list")
    assert main(["meters", "show", "B1"]) == REGISTER


def test_notes_are_found_until_they_are_struck_out(where, capsys):
    site = as_json(capsys, "sites", "show", "Quayside House")["id"]
    note = said(capsys, "notes", "add", "site", site, "The key hangs at the caretaker's.", "--tag", "access").strip()

    assert "caretaker" in said(capsys, "search", "caret")
    said(capsys, "notes", "strike", note)
    assert as_json(capsys, "search", "caret")["n_rows"] == 0
    assert "struck out" in said(capsys, "notes", "list", "site", site)


def test_what_was_found_closes_an_action(where, capsys):
    with open_register(str(where)) as register:
        from tests.unit.workflow.test_places_kept import VISITS

        row = places.list_valves(register, OWNER, text="subcooler").rows[0]
        with register.adding() as keep:
            from datetime import date

            keep.connection.execute(
                VISITS.insert().values(
                    id="v",
                    system_id=row.system.id,
                    identity="v",
                    date=date(2026, 5, 12),
                    reason="planned",
                    is_signed=False,
                    n_issues=0,
                    n_valves=0,
                    n_entries=0,
                    version=1,
                    added_utc=keep.now_utc,
                    added_by="RT",
                )
            )
            wanted = todo.Wanted(
                valve_id=row.valve.id, site_id=row.site.id, system_id=row.system.id, action="replace-head"
            )
            (action,) = todo.want(keep, "v", date(2026, 5, 12), [wanted])

    assert "replace the head" in said(capsys, "actions", "list")
    assert main(["actions", "found", action, "--cause", "winding"]) == INPUT
    assert "--seen-by is missing" in capsys.readouterr().err
    how = ["--seen-by", "RT-14", "--how", "measured", "--date", "2026-05-20"]
    said(capsys, "actions", "found", action, "--cause", "winding", *how)
    assert "Found 2026-05-20 by RT-14: winding, measured." in said(capsys, "actions", "show", action)
    assert as_json(capsys, "actions", "list")["n_rows"] == 0
    assert as_json(capsys, "actions", "list", "--state", "all")["n_rows"] == 1


def test_everything_comes_out_into_one_file(where, tmp_path, capsys):
    said(capsys, "export", str(tmp_path / "all.zip"))

    with zipfile.ZipFile(tmp_path / "all.zip") as packed:
        assert "tables/valves.csv" in packed.namelist()
    assert main(["export", str(tmp_path / "all.zip")]) == INPUT
    assert sorted(one.name for one in tmp_path.glob(".*")) == [], "nothing half is left"


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["sites", "show"], INPUT),
        (["sites", "show", "Nowhere"], REGISTER),
        (["sites", "add", "B"], INPUT),
        (["sites", "add", "B", "--time-zone", "Mars/Base"], INPUT),
        (["sites", "add", "Quayside House", "--time-zone", "UTC"], INPUT),
        (["systems", "add", "B"], INPUT),
        (["systems", "show", "QH-9"], REGISTER),
        (["systems", "add-unit", "QH-1", "X"], INPUT),
        (["systems", "change-unit", "QH-1", "IU99"], INPUT),
        (["valves", "show", "nothing"], REGISTER),
        (["valves", "import", "missing.csv", "--site", "Quayside House"], INPUT),
        (["valves", "import", "missing.csv"], INPUT),
        (["actions", "show", "x"], REGISTER),
        (["manuals", "add", "x", "no json"], INPUT),
        (["notes", "add", "planet", "x", "y"], INPUT),
        (["notes", "add", "site", "x", "y"], REGISTER),
    ],
)
def test_what_cannot_be_done_says_so_and_how_it_ends(where, words, code, capsys):
    assert main(words) == code
    assert capsys.readouterr().err.strip()


def test_a_circuit_is_drawn_into_a_file_and_no_file_is_lost(where, capsys, tmp_path):
    path = tmp_path / "qh-1.svg"
    said(capsys, "systems", "draw", "QH-1", str(path), "--mode", "heating")
    drawn = ElementTree.fromstring(path.read_text("utf-8"))

    texts = [one.text for one in drawn.iter("{http://www.w3.org/2000/svg}text")]
    assert {"OU1", "IU07", "subcooler"} <= set(texts)
    assert main(["systems", "draw", "QH-1", str(path)]) == INPUT
    assert main(["systems", "draw", "QH-1", str(tmp_path / "qh-1.png")]) == INPUT
    said(capsys, "systems", "draw", "QH-1", str(path), "--overwrite")


def test_the_history_of_a_valve_is_told_and_drawn(where, capsys, tmp_path):
    readings = '[["5", "1", 62.9], ["5", "2", 62.8], ["5", "3", 62.9], ["5", "4", 63.0]]'
    for year in (2023, 2024, 2025):
        visit = f"""format = "fifthwire/visit/1"
[visit]
date = {year}-04-02
site = "Quayside House"
system = "QH-1"
[specs.clip]
winding = "unipolar-5"
resistance = "62 ohm"
tolerance = "10 %"
[[valves]]
id = "OU1-subcooler"
unit = "OU1"
role = "subcooler-bypass"
head = "clip-on"
spec = "clip"
plug_off = true
head_temperature = "20 degC"
common = "5"
readings = {readings}
"""
        (tmp_path / f"{year}.visit.toml").write_text(visit, "utf-8")
        kept = as_json(capsys, "visits", "import", str(tmp_path / f"{year}.visit.toml"))
        said(capsys, "visits", "judge", kept["kept"]["id"])
    valve = ("OU1-subcooler", "--system", "QH-1")

    told = said(capsys, "valves", "history", *valve)
    assert "2023-04-02" in told and "62.9 ± " in told
    assert "No winding drifts: over 3 days in 2.0 years" in told
    (head,) = as_json(capsys, "valves", "history", *valve)["heads"]
    assert [one["name"] for one in head["windings"]] == ["5-1", "5-2", "5-3", "5-4"]
    assert head["drift"]["n_days"] == 3 and len(head["drift"]["drifts"]) == 5
    path = tmp_path / "chart.svg"
    said(capsys, "valves", "chart", valve[0], str(path), *valve[1:])
    assert len(list(ElementTree.fromstring(path.read_text("utf-8")).iter("{http://www.w3.org/2000/svg}circle"))) == 4


def test_a_valve_that_was_never_read_has_no_chart(where, capsys, tmp_path):
    assert "never read" in said(capsys, "valves", "history", "OU1-subcooler", "--system", "QH-1")
    assert main(["valves", "chart", "OU1-subcooler", str(tmp_path / "c.svg"), "--system", "QH-1"]) == INPUT
    assert not (tmp_path / "c.svg").exists()
