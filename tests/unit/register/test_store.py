"""Opening a register, and keeping a transaction whole."""

import pytest
from sqlalchemy import text

from fifthwire.model.errors import RegisterError


def test_an_addition_is_kept_when_its_block_ends(register):
    with register.adding() as keep:
        keep.connection.execute(text("CREATE TABLE remembered (n INTEGER)"))
        keep.connection.execute(text("INSERT INTO remembered VALUES (7)"))

    with register.reading() as keep:
        assert keep.connection.execute(text("SELECT n FROM remembered")).scalar() == 7


def test_nothing_is_kept_of_an_addition_that_fails(register):
    with pytest.raises(ZeroDivisionError), register.adding() as keep:
        keep.connection.execute(text("CREATE TABLE forgotten (n INTEGER)"))
        _ = 1 / 0

    with pytest.raises(RegisterError, match="forgotten"), register.reading() as keep:
        keep.connection.execute(text("SELECT n FROM forgotten"))
