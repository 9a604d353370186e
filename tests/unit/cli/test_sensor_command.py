"""`fifthwire sensor` from the outside."""

import json

import pytest

from fifthwire.cli.main import main

TABLE = "temperature,resistance\n0 degC,32.58 kohm\n10,20000\n25 degC,10 kohm\n80,1242.9\n"
VISIT = """format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
site = "S"
system = "s"
[curves.coil]
table = [["0 degC", "32.58 kohm"], ["10 degC", "20.00 kohm"], ["25 degC", "10.00 kohm"]]
[curves.duct]
r25 = "10 kohm"
beta = 3435
[curves.lab]
steinhart = [1.129148e-3, 2.34125e-4, 8.76741e-8]
"""
POINTS = ("--point", "0 degC", "32128 ohm", "--point", "20", "12262", "--point", "50 degC", "3.542 kohm")


@pytest.fixture
def run(capsys):
    def ran(*words: object) -> tuple[int, str, str]:
        code = main(["sensor", *(str(word) for word in words)])
        return (code, *capsys.readouterr())

    return ran


def values(run, *words: object) -> list[tuple[float, float]]:
    code, out, err = run(*words, "--json")
    assert (code, err) == (0, "")
    return [(one["temperature_c"], one["resistance_ohm"]) for one in json.loads(out)["values"]]


def test_the_beta_law_both_ways(run):
    """Computed apart: R25 exp(B (1/T - 1/298.15)), B = 3950 K."""
    found = values(run, "33620.6 ohm", "60 degC", "--r25", "10 kohm", "--beta", "3950")

    assert found[0] == (pytest.approx(0.0, abs=0.01), 33620.6)
    assert found[1] == (60.0, pytest.approx(2486.2, abs=0.1))


def test_the_steinhart_hart_equation_both_ways(run):
    """Documentation of a generic 10 kilohm sensor module; resistances from memory."""
    words = ("--steinhart", "1.129148e-3", "2.34125e-4", "8.76741e-8")

    found = values(run, "12490 ohm", "50 degC", *words)

    assert found[0][0] == pytest.approx(20.01, abs=0.02)
    assert found[1][1] == pytest.approx(3603.0, rel=2e-3)


def test_three_points_are_a_curve_or_a_table(run):
    """Appendix of a laboratory instrument's manual: 9814 ohm is 25.0007 °C on the curve through these points."""
    curve, table = values(run, "9814 ohm", *POINTS, "--fit"), values(run, "9814 ohm", *POINTS)

    assert curve[0][0] == pytest.approx(25.0007, abs=0.002)
    assert table[0][0] != pytest.approx(25.0007, abs=0.02)
    assert table[0][0] == pytest.approx(25.0, abs=0.3)


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_a_table_file_is_read_as_people_write_it(run, tmp_path, separator, newline):
    """A component maker's table, B25/50 = 3950: 20.00 kilohm at 10 °C."""
    path = tmp_path / "coil.csv"
    text = TABLE.replace(",", separator) + "\n# the end\n"
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", newline).encode())

    found = values(run, "20 kohm", "25 degC", "77 degF", "--table", path)

    assert found == [(pytest.approx(10.0, abs=1e-3), 20000.0), (25.0, 10000.0), (25.0, 10000.0)]


@pytest.mark.parametrize(("curve", "c"), [("coil", 25.0), ("duct", 25.0), ("lab", 25.0)])
def test_a_curve_of_a_visit_file_is_used(run, tmp_path, curve, c):
    path = tmp_path / "v.visit.toml"
    path.write_text(VISIT)

    assert values(run, "10 kohm", "--visit", path, "--curve", curve)[0][0] == pytest.approx(c, abs=0.01)


def test_the_screen_shows_the_partner_and_what_to_mind(run):
    """By hand: 1 / (1/298.15 + ln 1.38 / 3950) = 291.07 K; 10 exp(3950 (1/268.15 - 1/298.15)) = 44.03 kilohm."""
    code, out, _ = run("13.8 kohm", "-5degC", "--r25", "10 kohm", "--beta", "3950 K", "--units", "us")

    lines = out.replace("\u202f", " ").splitlines()
    assert code == 0
    assert lines[0].split() == ["13.80", "kΩ", "64.3", "°F"]
    assert lines[1].split() == ["23.0", "°F", "44.03", "kΩ"]
    assert "do not decide superheat" in out
    assert "unplugged" in out


def test_the_beta_law_warns_only_where_it_misleads(run):
    for reading, is_warned in (("5.1 degC", False), ("4.9 degC", True), ("30 kohm", True), ("9 kohm", False)):
        _, out, _ = run(reading, "--r25", "10 kohm", "--beta", "3950", "--json")
        assert bool(json.loads(out)["warnings"]) == is_warned, reading


def test_a_curve_through_three_points_warns_beyond_them(run):
    _, out, _ = run("0 degC", "50 degC", "-1 degC", "55 degC", *POINTS, "--fit", "--json")

    assert [line.split(" °C")[0] for line in json.loads(out)["warnings"]] == ["−1.0", "55.0"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("10 kohm",), "no curve is given"),
        (("10 kohm", "--r25", "10 kohm"), "belong together"),
        (("10 kohm", "--beta", "3950"), "belong together"),
        (("10 kohm", "--r25", "10 kohm", "--beta", "-3950"), "cannot be"),
        (("10 kohm", "--r25", "0 ohm", "--beta", "3950"), "above zero"),
        (("10 kohm", "--r25", "10 kohm", "--beta", "3950", "--steinhart", "1", "2", "3"), "more than one curve"),
        (("10 kohm", "--steinhart", "1", "2", "x"), "does not start with a number"),
        (("10 kohm", "--steinhart", "1 K", "2", "3"), "no plain number"),
        (("10 kohm", "--steinhart", "1", "2", "3"), "lies outside"),
        (("10 kohm", "--steinhart", "-1", "0", "0"), "no temperature on this curve"),
        (("10 kohm", "--point", "0 degC", "32 kohm"), "one point is no table"),
        (("10 kohm", "--point", "0 degC", "3 kohm", "--point", "9 degC", "30 kohm"), "does not fall"),
        (("10 kohm", "--point", "0 degC", "3 kohm", "--point", "0 degC", "2 kohm"), "stands twice"),
        (("10 kohm", "--point", "0 K", "3 kohm", "--point", "9 degC", "2 kohm"), "a temperature difference"),
        (("10 kohm", "--point", "0 degC", "3 kohm", "--point", "9 degC", "2 kohm", "--fit"), "takes three points"),
        (("10 kohm", "--r25", "10 kohm", "--beta", "3950", "--fit"), "three points"),
        (("10", "--r25", "10 kohm", "--beta", "3950"), "no unit"),
        (("10 kPa", "--r25", "10 kohm", "--beta", "3950"), "an absolute pressure"),
        (("0 ohm", "--r25", "10 kohm", "--beta", "3950"), "no resistance"),
        (("-3 kohm", "--r25", "10 kohm", "--beta", "3950"), "no resistance"),
        (("90 Mohm", "--r25", "10 kohm", "--beta", "3950"), "lies outside"),
        (("1 ohm", "--r25", "10 kohm", "--beta", "3950"), "lies outside"),
        (("0.000001 ohm", "--r25", "10 kohm", "--beta", "3950"), "no temperature on this curve"),
        (("300 degC", "--r25", "10 kohm", "--beta", "3950"), "lies outside"),
        (("40 kohm", *POINTS), "beyond the table"),
        (("60 degC", *POINTS), "beyond the table"),
        (("10 kohm", "--visit", "v.visit.toml"), "belong together"),
        (("10 kohm", "--table", "missing.csv"), "no such file"),
        (("10 kohm", "--table", "."), "is a directory"),
    ],
)
def test_what_cannot_be_looked_up_is_refused_with_a_word(run, words, said):
    code, out, err = run(*words)

    assert (code, out) == (2, "")
    assert said in err


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "holds no row"),
        (b"temperature,resistance\n", "holds no row"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"0,32580\n10,20000 V\n25\n30,x\n", "coil.csv:2"),
        (b"0,32580\n10,20000\n25\n", "coil.csv:3: 1 value in the line"),
        (b"0,32580\n", "one point is no table"),
        (b"0,1\n10,2\n", "does not fall"),
    ],
)
def test_a_table_file_that_cannot_be_used_is_refused_with_its_line(run, tmp_path, content, said):
    path = tmp_path / "coil.csv"
    path.write_bytes(content)

    code, out, err = run("10 kohm", "--table", path)

    assert (code, out) == (2, "")
    assert said in err


def test_every_wrong_line_of_a_table_is_named_at_once(run, tmp_path):
    path = tmp_path / "coil.csv"
    path.write_text("0,32580\n10,20000 V\n25\n30,x\n")

    _, _, err = run("10 kohm", "--table", path)

    assert [line.split(":")[1] for line in err.splitlines()] == ["2", "3", "4"]


def test_a_curve_that_a_visit_does_not_have_is_refused_with_the_nearest(run, tmp_path):
    path = tmp_path / "v.visit.toml"
    path.write_text(VISIT)

    code, out, err = run("10 kohm", "--visit", path, "--curve", "coill")

    assert (code, out) == (2, "")
    assert "Did you mean coil?" in err
