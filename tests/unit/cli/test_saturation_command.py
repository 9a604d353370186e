"""`fifthwire saturation` and `fifthwire pt-chart` from the outside."""

import json

import pytest

from fifthwire.cli.main import main


@pytest.fixture
def run(capsys):
    def ran(*words: object) -> tuple[int, str, str]:
        code = main([str(word) for word in words])
        return (code, *capsys.readouterr())

    return ran


def answer(run, *words: str) -> dict:
    code, out, err = run("saturation", *words, "--json")
    assert (code, err) == (0, "")
    return json.loads(out)


def test_a_gauge_reading_of_a_blend_gives_both_lines_in_both_systems(run):
    code, out, _ = run("saturation", "R454B", "118 psig")

    lines = [line.split() for line in out.replace("\u202f", " ").splitlines()]
    assert code == 0
    assert ["dew", "7.1", "°C", "44.8", "°F"] in lines
    assert ["bubble", "5.7", "°C", "42.2", "°F"] in lines
    assert ["glide", "1.5", "K", "2.7", "°F"] in lines
    assert "± 0.5 K" in out
    assert "can burn" in out
    assert "eyes and hands covered" in out


def test_118_psig_of_r410a_lies_where_the_chart_of_the_trade_has_it(run):
    """CoolProp 8.0.0, computed apart: 39.65 °F bubble, 39.84 °F dew."""
    found = answer(run, "R410A", "118 psig")

    assert found["bubble_c"] * 1.8 + 32.0 == pytest.approx(39.65, abs=0.02)
    assert found["dew_c"] * 1.8 + 32.0 == pytest.approx(39.84, abs=0.02)
    assert found["model_u_k"] == 0.0


def test_a_temperature_gives_pressures_and_the_glide(run):
    """CoolProp 8.0.0, computed apart: R407C at 0 °C, 567.89 and 460.72 kPa; bubble −6.27 °C at the dew pressure."""
    found = answer(run, "r407c", "0 degC")

    assert found["refrigerant"] == "R407C"
    assert found["bubble_kpa_abs"] == pytest.approx(567.89, rel=5e-4)
    assert found["dew_kpa_abs"] == pytest.approx(460.72, rel=5e-4)
    assert found["glide_k"] == pytest.approx(6.27, abs=0.05)
    assert found["dew_kpa_gauge"] == pytest.approx(found["dew_kpa_abs"] - 101.325, abs=0.002)


@pytest.mark.parametrize("written", ["-10 degC", "-10degC", "14 degF", "−10 °C", "-10.0°C"])
def test_a_temperature_below_zero_is_no_option(run, written):
    assert answer(run, "R32", written)["dew_kpa_abs"] == pytest.approx(582.63, rel=5e-4)


def test_a_gauge_means_less_on_a_mountain(run):
    at_sea, high, told = (
        answer(run, "R410A", "118 psig", *more) for more in ((), ("--altitude", "1500 m"), ("--barometer", "845.6 hPa"))
    )

    assert at_sea["pressure_kpa_abs"] - high["pressure_kpa_abs"] == pytest.approx(101.325 - 84.556, abs=0.01)
    assert high["pressure_kpa_abs"] == pytest.approx(told["pressure_kpa_abs"], abs=0.02)
    assert high["dew_c"] < at_sea["dew_c"]
    assert answer(run, "R410A", "9 bar", "--altitude", "1500 m")["dew_c"] == answer(run, "R410A", "9 bar")["dew_c"]


def test_a_pure_refrigerant_has_one_line(run):
    _, out, _ = run("saturation", "R32", "40 degF", "--units", "us")

    assert "dew and bubble" in out
    assert "glide" not in out
    assert out.startswith("R32 at 40.00\u202f°F")
    assert answer(run, "R32", "40 degF")["glide_k"] == 0.0


def test_where_one_line_ends_the_other_is_told_with_a_warning(run):
    found = answer(run, "R454B", "105 kPa")
    _, out, _ = run("saturation", "R454B", "105 kPa")

    assert (found["bubble_c"], found["glide_k"]) == (None, None)
    assert found["dew_c"] is not None
    assert "bubble line lies outside" in found["warnings"][0]
    assert "bubble line lies outside" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("R411A", "118 psig"), "Did you mean R410A"),
        (("R410A", "118 psi"), "neither gauge nor absolute"),
        (("R410A", "118"), "no unit"),
        (("R410A", "cold"), "does not start with a number"),
        (("R410A", "5 K"), "a temperature difference"),
        (("R410A", "5 ohm"), "a resistance"),
        (("R410A", "-20 psig"), "below a perfect vacuum"),
        (("R410A", "90 degC"), "R410A: 90 °C lies outside"),
        (("R410A", "9 MPa"), "R410A: 9000 kPa lies outside"),
        (("R744", "35 degC"), "R744: 35 °C lies outside"),
        (("R454C", "70 degC"), "R454C: 70 °C lies outside"),
        (("R410A", "118 psig", "--altitude", "90 km"), "no unit known"),
        (("R410A", "118 psig", "--altitude", "40"), "no unit"),
        (("R410A", "118 psig", "--altitude", "12000 m"), "cannot be"),
        (("R410A", "118 psig", "--barometer", "0 psig"), "gauge pressure"),
        (("R410A", "118 psig", "--barometer", "3 bar"), "cannot be"),
        (("R410A", "118 psig", "--barometer", "101 kPa", "--altitude", "4 m"), "both tell the air pressure"),
        (("R410A",), "required"),
    ],
)
def test_what_cannot_be_looked_up_is_refused_with_a_word(run, words, said):
    code, out, err = run("saturation", *words)

    assert (code, out) == (2, "")
    assert said in err


def test_a_chart_has_the_pressures_of_the_table(run):
    """CoolProp 8.0.0, computed apart: R32 at 0, 10 and 20 °C."""
    code, out, _ = run("pt-chart", "R32", "--from", "0 degC", "--to", "20 degC", "--step", "10 K")

    rows = [line.split() for line in out.splitlines() if line.split()[:1] in (["0"], ["10"], ["20"])]
    assert code == 0
    assert [(row[0], float(row[2])) for row in rows] == [("0", 813.1), ("10", 1106.9), ("20", 1474.6)]


def test_a_chart_in_us_units_is_that_of_the_trade(run):
    """Charts of the trade, bubble line: R410A at 40 °F 118.8 psig, 100 °F 318.5 psig."""
    words = ("pt-chart", "R410A", "--from", "40 degF", "--to", "100 degF", "--step", "20 delta_degF")

    _, out, _ = run(*words, "--units", "us")
    _, written, _ = run(*words, "--units", "us", "--json")

    rows = {line.split()[0]: line.split()[1:] for line in out.splitlines() if line.split()[:1]}
    assert abs(float(rows["40"][1]) - 118.8) <= 0.06
    assert abs(float(rows["100"][1]) - 318.5) <= 0.06
    assert [row["temperature_c"] for row in json.loads(written)["rows"]] == [4.4444, 15.5556, 26.6667, 37.7778]


@pytest.mark.parametrize("name", ["R744", "R454C", "R410A"])
def test_a_chart_left_to_itself_covers_the_whole_range(run, name):
    _, out, _ = run("pt-chart", name, "--json")

    temperatures = [row["temperature_c"] for row in json.loads(out)["rows"]]
    assert temperatures[0] == -50.0
    assert {"R744": 28.0, "R454C": 64.0, "R410A": 64.0}[name] == temperatures[-1]
    assert temperatures == sorted(temperatures)


@pytest.mark.parametrize("suffix", [".html", ".pdf"])
def test_a_chart_is_written_as_a_page_and_never_over_another_file(run, tmp_path, suffix):
    path = tmp_path / f"chart{suffix}"

    code, out, err = run("pt-chart", "R454B", "--report", path)

    assert (code, str(path) in err, "dew barg" in out) == (0, True, True)
    first = path.read_bytes()
    assert first.startswith(b"%PDF" if suffix == ".pdf" else b"<!doctype html>")
    code, out, err = run("pt-chart", "R32", "--report", path)
    assert (code, out, path.read_bytes() == first) == (2, "", True)
    assert "is there already" in err
    assert run("pt-chart", "R454B", "--report", path, "--overwrite")[0] == 0
    assert path.read_bytes() == first, "the same chart, the same bytes"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--step", "0 K"), "leads nowhere"),
        (("--step", "-1 K"), "leads nowhere"),
        (("--step", "2 degC"), "a temperature"),
        (("--step", "0.01 K"), "rows"),
        (("--from", "20 degC", "--to", "10 degC"), "before it starts"),
        (("--to", "90 degC"), "R32: 66 °C lies outside"),
        (("--from", "-80 degC"), "R32: -80 °C lies outside"),
        (("--from", "20"), "no unit"),
        (("--report", "chart.txt"), ".pdf or .html"),
        (("--report", "nowhere/chart.pdf"), "no directory"),
        (("--units", "uk"), "invalid choice"),
    ],
)
def test_a_chart_that_cannot_be_is_refused_with_a_word(run, words, said):
    code, out, err = run("pt-chart", "R32", *words)

    assert (code, out) == (2, "")
    assert said in err
