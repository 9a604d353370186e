"""Several people at once on one register: nobody's addition is lost, nobody waits for ever, one visit is one."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from tests.soak.killed_writer import N_ENTRIES, visit_text

from fifthwire.model.errors import Conflict, RegisterError
from fifthwire.model.kept.people import Person, alone
from fifthwire.register.store import open_register
from fifthwire.workflow.register_place import backup
from fifthwire.workflow.visits_kept import add_entry, import_visit_file, judge_visit, list_visits, sign_off, visit_of

OWNER = alone("rt")
N_PEOPLE, N_EACH = 6, 8


def together(*acts):
    """Every act in a thread of its own; what each gave or raised."""

    def tried(act):
        try:
            return act()
        except RegisterError as err:
            return err

    with ThreadPoolExecutor(len(acts)) as people:
        return list(people.map(tried, acts))


def test_additions_of_several_people_to_one_visit_are_all_kept_and_counted(register):
    kept = import_visit_file(register, OWNER, visit_text(0), "0.visit.json").kept

    def adds(person):
        who = Person(id=str(person), name=f"P{person}", role="technician")
        return lambda: [
            add_entry(register, who, kept.id, "notes", {"text": f"{person}.{n}"}).seq for n in range(N_EACH)
        ]

    seqs = [one for person in together(*(adds(n) for n in range(N_PEOPLE))) for one in person]

    whole = visit_of(register, OWNER, kept.id)
    assert sorted(seqs) == list(range(N_ENTRIES + 1, N_ENTRIES + N_PEOPLE * N_EACH + 1))
    assert whole.kept.version == len(whole.entries) == N_ENTRIES + N_PEOPLE * N_EACH
    assert {(note.text, note.by) for note in whole.visit.notes if note.by} == {
        (f"{person}.{n}", f"P{person}") for person in range(N_PEOPLE) for n in range(N_EACH)
    }


def test_the_same_file_taken_in_by_several_at_once_is_one_visit(register):
    import_visit_file(register, OWNER, visit_text(0), "0.visit.json")

    done = together(*[lambda: import_visit_file(register, OWNER, visit_text(1), "1.visit.json")] * 5)

    kept = [one.kept.id for one in done if not isinstance(one, Conflict)]
    assert len(set(kept)) == 1
    assert list_visits(register, OWNER).n_rows == 2
    assert len(visit_of(register, OWNER, kept[0]).entries) == N_ENTRIES
    assert all(isinstance(one, Conflict) or one.n_added in (0, N_ENTRIES) for one in done)


def test_two_processes_of_the_same_register_see_each_other_s_additions(register, register_url):
    kept = import_visit_file(register, OWNER, visit_text(0), "0.visit.json").kept
    with open_register(register_url, create=False) as other:
        added = add_entry(other, OWNER, kept.id, "notes", {"text": "From the other one."})

        assert visit_of(register, OWNER, kept.id).entries[-1] == added


def test_a_reading_is_of_one_moment_while_others_write(register):
    kept = import_visit_file(register, OWNER, visit_text(0), "0.visit.json").kept

    def reads():
        for _ in range(15):
            whole = visit_of(register, OWNER, kept.id)
            assert whole.kept.n_entries == len(whole.entries)
        return True

    def writes():
        for n in range(15):
            add_entry(register, OWNER, kept.id, "notes", {"text": str(n)})
        return True

    assert together(reads, writes, reads) == [True, True, True]


def test_one_of_two_who_sign_at_once_signs_and_the_other_is_told(register):
    kept = import_visit_file(register, OWNER, visit_text(0), "0.visit.json").kept
    judge_visit(register, OWNER, kept.id)

    def signs():
        try:
            return sign_off(register, OWNER, kept.id, why="Now.", with_print=False).number
        except ValueError as err:  # nothing has changed since the other's issue
            return str(err)

    said = together(signs, signs)

    assert 1 in said
    assert next(one for one in said if one != 1).startswith("Nothing has changed")
    assert [one.number for one in visit_of(register, OWNER, kept.id).issues] == [1]


@pytest.mark.parametrize("n", [2, 5])
def test_who_says_the_same_table_at_once_is_told_of_the_other(register, n):
    kept = import_visit_file(register, OWNER, visit_text(0), "0.visit.json").kept
    path = "valves/IU00-valve/inspection"
    rust = ("none", "light", "heavy", "none", "light")

    said = together(
        *(
            (lambda of=of: add_entry(register, OWNER, kept.id, path, {"rust": rust[of], "pitted": of % 2 == 0},
                                     expected_version=kept.version))
            for of in range(n)
        )
    )  # fmt: skip

    kept_ones = [one for one in said if not isinstance(one, Conflict)]
    assert len(kept_ones) == 1
    assert all(one.theirs.id == kept_ones[0].id for one in said if isinstance(one, Conflict))


def test_a_backup_taken_while_others_add_is_whole_and_of_one_moment(register, tmp_path):
    kept = import_visit_file(register, OWNER, visit_text(0), "0.visit.json").kept

    def adds():
        for n in range(20):
            add_entry(register, OWNER, kept.id, "notes", {"text": str(n)})

    def backs_up(name):
        return lambda: backup(register, OWNER, str(tmp_path / name))

    _, first, second = together(adds, backs_up("a.sqlite"), backs_up("b.sqlite"))

    for name, found in (("a.sqlite", first), ("b.sqlite", second)):
        assert found.is_whole
        with open_register(str(tmp_path / name), create=False) as copy:
            whole = visit_of(copy, OWNER, kept.id)
            assert N_ENTRIES <= len(whole.entries) == whole.kept.n_entries <= N_ENTRIES + 20
