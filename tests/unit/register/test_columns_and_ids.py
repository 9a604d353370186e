"""What both engines keep alike: moments, JSON, ids; and how SQLite is set so that it loses nothing."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Column, MetaData, Table, Text, insert, select, text
from sqlalchemy.exc import StatementError

from fifthwire.model.canonical import DIGITS, ID_LENGTH, derived_id, is_derived
from fifthwire.register.ids import new_id
from fifthwire.register.tables.schema import JsonText, UtcTime

NOW_UTC = datetime(2026, 5, 12, 9, 30, 15, 123456, tzinfo=UTC)
THINGS = Table("things", MetaData(), Column("name", Text), Column("at_utc", UtcTime), Column("said", JsonText))
JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(codec="utf-8", exclude_categories=("Cs",))),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)  # fmt: skip


@pytest.fixture
def things(register):
    with register.adding() as keep:
        THINGS.metadata.create_all(keep.connection)
    return register


def put_and_read(register, **row):
    with register.adding() as keep:
        keep.connection.execute(THINGS.delete())
        keep.connection.execute(insert(THINGS).values(row))
    with register.reading() as keep:
        return keep.connection.execute(select(THINGS)).one()


@pytest.mark.parametrize("zone", [UTC, timezone(timedelta(hours=5, minutes=30)), timezone(timedelta(hours=-8))])
def test_a_moment_comes_back_in_utc_to_the_microsecond(things, zone):
    found = put_and_read(things, at_utc=NOW_UTC.astimezone(zone)).at_utc

    assert (found, found.tzinfo) == (NOW_UTC, UTC)


def test_a_moment_without_a_zone_is_refused(things):
    with pytest.raises(StatementError, match="has no time zone"), things.adding() as keep:
        keep.connection.execute(insert(THINGS).values(at_utc=NOW_UTC.replace(tzinfo=None)))


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(JSON)
def test_json_comes_back_as_it_was(things, said):
    assert put_and_read(things, name="a", said=said).said == said


def test_sqlite_keeps_what_it_has_acknowledged_and_what_belongs_together(sqlite_register):
    with sqlite_register.reading() as keep:
        found = {
            name: keep.connection.execute(text(f"PRAGMA {name}")).scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys")
        }

    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}


def test_a_row_that_names_another_that_is_not_there_is_refused(register):
    from fifthwire.model.errors import Conflict
    from fifthwire.register.tables.places import SYSTEMS

    row = {"id": "s", "site_id": "nowhere", "name": "S", "is_heat_recovery": False, "version": 1}
    with pytest.raises(Conflict), register.adding() as keep:
        keep.connection.execute(insert(SYSTEMS).values(row))


def test_ids_sort_by_when_they_were_made_and_are_each_their_own():
    ids = [new_id(NOW_UTC + timedelta(milliseconds=n)) for n in range(200)]

    assert ids == sorted(ids)
    assert len({new_id(NOW_UTC) for _ in range(2000)}) == 2000
    assert all(len(one) == ID_LENGTH and set(one) <= set(DIGITS) and not is_derived(one) for one in ids)


@given(st.lists(st.text(), min_size=1, max_size=3), st.lists(st.text(), min_size=1, max_size=3))
def test_a_derived_id_is_that_of_its_parts_and_of_nothing_else(parts, others):
    assert is_derived(derived_id(*parts))
    assert (derived_id(*parts) == derived_id(*others)) == (parts == others)
