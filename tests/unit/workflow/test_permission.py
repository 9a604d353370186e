"""Who may do what."""

from itertools import product

import pytest

from fifthwire.model.errors import NotAllowed, NotFound
from fifthwire.model.kept.people import ROLES, Person, alone
from fifthwire.workflow.permission import DEED_WORDS, LEAST_ROLE, may, require, require_everywhere

ALLOWED = {
    "reader": {"read"},
    "technician": {"read", "add"},
    "lead": {"read", "add", "change", "sign"},
    "owner": {"read", "add", "change", "sign", "own"},
}


def a_person(role, site_ids=None):
    return Person(id=role, name=role.title(), role=role, site_ids=site_ids)


@pytest.mark.parametrize(("role", "deed"), tuple(product(ROLES, LEAST_ROLE)))
def test_each_role_may_what_the_table_says_and_no_more(role, deed):
    assert may(a_person(role), deed) == (deed in ALLOWED[role])
    if deed in ALLOWED[role]:
        require(a_person(role), deed)
    else:
        with pytest.raises(NotAllowed, match=f"A {role} may not"):
            require(a_person(role), deed)


@pytest.mark.parametrize("role", ROLES)
def test_a_site_of_others_answers_as_if_it_did_not_exist_whatever_the_role(role):
    with pytest.raises(NotFound, match="sites that you look after"):
        require(a_person(role, ("S1",)), "read", site_id="S2")
    require(a_person(role, ("S1",)), "read", site_id="S1")


def test_one_who_looks_after_no_site_sees_none():
    with pytest.raises(NotFound, match="sites that you look after"):
        require(a_person("owner", ()), "read", site_id="S1")


def test_what_concerns_every_site_is_refused_to_one_who_looks_after_some():
    require_everywhere(a_person("lead"), "change")
    with pytest.raises(NotAllowed, match="every site"):
        require_everywhere(a_person("lead", ("S1",)), "change")
    with pytest.raises(NotAllowed, match="A reader may not"):
        require_everywhere(a_person("reader"), "change")


def test_every_deed_has_its_words():
    assert DEED_WORDS.keys() == LEAST_ROLE.keys()


def test_the_one_person_of_a_register_may_everything_everywhere():
    for deed in LEAST_ROLE:
        require_everywhere(alone("rt"), deed)
