from tests.visit_texts import VALVE, read, warnings


def test_an_entry_that_is_struck_out_is_kept_and_marked():
    visit = read('[[notes]]\nentry = "n1"\ntext = "wrong"\n[[notes]]\nentry = "n2"\nvoids = "n1"\ntext = "right"\n')

    assert [note.is_void for note in visit.notes] == [True, False]


def test_a_correction_of_a_valve_is_not_its_double():
    old = VALVE + 'entry = "v1"\n[[valves.measurements]]\nentry = "m1"\nreadings = [["1", "2", 3]]\n'

    visit = read(old + VALVE + 'voids = "v1"\n')

    assert [valve.is_void for valve in visit.valves] == [True, False]


def test_striking_out_a_strike_out_brings_the_first_back():
    rows = "".join(
        f'[[notes]]\nentry = "n{n}"\ntext = "x"\n' + (f'voids = "n{n - 1}"\n' if n else "") for n in range(3)
    )

    assert [note.is_void for note in read(rows).notes] == [False, True, False]


def test_entries_that_strike_out_each_other_are_both_void():
    visit = read('[[notes]]\nentry = "a"\nvoids = "b"\ntext = "x"\n[[work]]\nentry = "b"\nvoids = "a"\nvalve = "v"\n'
                 'done = "cleaned"\n')  # fmt: skip

    assert (visit.notes[0].is_void, visit.work[0].is_void) == (True, True)


def test_a_strike_out_of_nothing_is_a_warning():
    assert warnings('[[notes]]\nvoids = "n7"\ntext = "x"\n') == {"visit.voids-unknown": "notes[0].voids"}
