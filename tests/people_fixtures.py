"""People for the tests: accounts of every role, with hashes that are made fast."""

from collections.abc import Iterator
from typing import Final

import pytest
from argon2 import PasswordHasher

from fifthwire.model.kept.people import Account, Role, alone
from fifthwire.register.store import Register
from fifthwire.workflow import passwords, people

PASSWORD: Final = "copper kettle ladder moss"
NAMES: Final = {"rt-14": "R. T."}
OFFICE: Final = alone("office")


@pytest.fixture
def fast_hashes(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The same hash with its smallest parameters; `test_passwords.py` tries the real ones."""
    monkeypatch.setattr(passwords, "HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    passwords._of_nobody.cache_clear()
    yield
    passwords._of_nobody.cache_clear()


def an_account(
    register: Register,
    sign_in: str = "rt-14",
    role: Role = "technician",
    site_ids: tuple[str, ...] | None = None,
    name: str | None = None,
) -> Account:
    """An account, made as people make it: by an invitation and its link."""
    invited = people.invite(register, OFFICE, role=role, site_ids=site_ids)
    return people.join(
        register, invited.secret, sign_in=sign_in, name=name or NAMES.get(sign_in, sign_in), password=PASSWORD
    )
