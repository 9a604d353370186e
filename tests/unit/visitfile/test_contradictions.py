import pytest
from tests.visit_texts import START, VALVE, warnings

from fifthwire.visitfile import read_visit

FIVE = '[specs.five]\nwinding = "unipolar-5"\n'


@pytest.mark.parametrize(
    ("more", "code", "place"),
    [
        (VALVE + 'plug_off = false\nreadings = [[5, 1, 64]]\n', "visit.readings-with-plug-on", "valves[0].plug_off"),
        (VALVE + "head_installed = 2026-06-01\n", "visit.head-installed-after", "valves[0].head_installed"),
        (VALVE + "last_removed = 2027-06-01\n", "visit.last-removed-after", "valves[0].last_removed"),
        (VALVE + "head_installed = 2020-01-01\nlast_removed = 2019-01-01\n", "visit.removed-before-installed",
         "valves[0].last_removed"),
        ("[system]\ninstalled = 2030\n", "visit.before-installed", "system.installed"),
        (VALVE + 'spec = "five"\nreadings = [["5", "1", 64], ["2", "3", 1], ["4", "6", 1]]\n' + FIVE,
         "visit.more-wires-than-spec", "valves[0].readings"),
        (VALVE + 'spec = "five"\ncommon = ["1", "2"]\n' + FIVE, "visit.common-against-spec", "valves[0].common"),
        (VALVE + 'kind = "solenoid"\nspec = "five"\n' + FIVE, "visit.spec-of-other-kind", "valves[0].spec"),
        (VALVE + 'spec = "coil"\n[specs.coil]\nwinding = "single-2"\n', "visit.spec-of-other-kind", "valves[0].spec"),
        ('[meters.m]\naccuracy = "1 %"\nranges = [{ to = 600 }]\n', "visit.ranges-and-accuracy", "meters.m.ranges"),
        ("[snapshot]\nsuction_temperature = 3\n[snapshot.outdoor.OU1]\nsuction_temperature = 4\n", "visit.stands-twice",
         "snapshot.outdoor.OU1.suction_temperature"),
        ("[snapshot]\n[[snapshots]]\n", "visit.snapshot-and-snapshots", "snapshots"),
    ],
)  # fmt: skip
def test_what_contradicts_itself_is_a_warning_with_its_place(more: str, code: str, place: str):
    assert warnings(more) == {code: place}


def test_one_subcooler_table_for_two_bypass_valves_is_a_warning():
    bypass = VALVE.replace("main", "subcooler-bypass")

    found = warnings(bypass + bypass.replace("OU1", "OU2") + "[snapshot.subcooler]\nopening = 96\n")

    assert found == {"visit.subcooler-of-many": "snapshot.subcooler"}


def test_a_barometer_that_does_not_go_with_the_altitude_is_a_warning():
    found = read_visit(START + 'altitude = "1500 m"\nbarometer = "1009 hPa"\n', name="a", syntax="toml")

    assert [one.code for one in found.warnings] == ["visit.barometer-against-altitude"]


def test_a_visit_without_contradictions_has_no_warning():
    assert warnings(VALVE + 'plug_off = true\nspec = "five"\ncommon = "5"\nreadings = [["5", "1", 64]]\n' + FIVE) == {}
