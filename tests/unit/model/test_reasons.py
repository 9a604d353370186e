import pytest

from fifthwire.model.reasons import WARNINGS, say


@pytest.mark.parametrize(
    ("code", "values", "begins"),
    [
        ("other-kind.stem", {"valve": "iu07-valve"}, "iu07-valve: "),
        ("visit.key-of-later-version", {"place": "valves[0].colour"}, "valves[0].colour: "),
        ("visit.voids-unknown", {"place": "notes[0].voids", "entry": "q"}, "notes[0].voids: "),
    ],
)
def test_a_sentence_that_begins_with_a_label_keeps_it_as_the_file_writes_it(code, values, begins):
    assert say(WARNINGS, code, values).startswith(begins)


def test_a_sentence_that_begins_with_a_count_begins_with_a_capital():
    table = {"open": "{n_from} wires are open."}

    assert say(table, "open", {"n_from": 2}) == "Two wires are open."
