"""Photographs in a register: kept once, seen by those whose sites they show."""

import io

import pytest
from PIL import Image
from tests.people_fixtures import OFFICE

from fifthwire.model.errors import InputError, NotAllowed, NotFound
from fifthwire.model.kept.people import ROLES, Person
from fifthwire.workflow import people, places
from fifthwire.workflow.photographs import add_photograph, photograph, photographs_about


def a_photograph(colour="navy", size=(400, 300)):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG")
    return out.getvalue()


def a_person(role="technician", site_ids=None, name="R. T."):
    return Person(id=f"{name} {role}", name=name, role=role, site_ids=site_ids)


def a_site(register, name="Quayside House"):
    return places.add_site(register, OFFICE, name=name, time_zone="Europe/London")


def test_a_photograph_is_found_again_at_what_it_is_about(register):
    site = a_site(register)
    kept = add_photograph(register, OFFICE, a_photograph(), about_kind="site", about_id=site.id)

    assert photographs_about(register, OFFICE, "site", site.id) == (kept,)
    assert (kept.width_px, kept.height_px, kept.media_type, kept.by) == (400, 300, "image/jpeg", "office")
    assert Image.open(io.BytesIO(photograph(register, OFFICE, kept.sha256).content)).size == (400, 300)
    small = photograph(register, OFFICE, kept.sha256, thumbnail=True)
    assert (Image.open(io.BytesIO(small.content)).size, small.media_type) == ((320, 240), "image/jpeg")


def test_the_same_photograph_twice_changes_nothing(register):
    site = a_site(register)
    first, second = (
        add_photograph(register, who, a_photograph(), about_kind="site", about_id=site.id)
        for who in (OFFICE, a_person())
    )

    assert first == second
    assert photographs_about(register, OFFICE, "site", site.id) == (first,)


def test_one_photograph_may_be_about_several_things(register):
    sites = [a_site(register, name) for name in ("One", "Two")]
    kept = [add_photograph(register, OFFICE, a_photograph(), about_kind="site", about_id=site.id) for site in sites]

    assert kept[0] == kept[1]
    assert all(photographs_about(register, OFFICE, "site", site.id) == (kept[0],) for site in sites)


@pytest.mark.parametrize("role", ROLES)
def test_a_reader_adds_no_photograph_and_everybody_else_does(sqlite_register, role):
    site = a_site(sqlite_register)
    who = a_person(role)
    if role == "reader":
        with pytest.raises(NotAllowed, match="A reader may not add"):
            add_photograph(sqlite_register, who, a_photograph(), about_kind="site", about_id=site.id)
    else:
        kept = add_photograph(sqlite_register, who, a_photograph(), about_kind="site", about_id=site.id)
        assert photograph(sqlite_register, a_person("reader"), kept.sha256).photograph == kept


def test_a_photograph_of_a_site_of_others_answers_as_if_it_did_not_exist(register):
    mine, theirs = a_site(register, "Mine"), a_site(register, "Theirs")
    kept = add_photograph(register, OFFICE, a_photograph(), about_kind="site", about_id=theirs.id)
    who = a_person(site_ids=(mine.id,))
    tries = (
        lambda: photograph(register, who, kept.sha256),
        lambda: photograph(register, who, kept.sha256, thumbnail=True),
        lambda: photographs_about(register, who, "site", theirs.id),
        lambda: add_photograph(register, who, a_photograph("red"), about_kind="site", about_id=theirs.id),
    )
    for attempt in tries:
        with pytest.raises(NotFound):
            attempt()
    with pytest.raises(NotFound, match="no such photograph"):
        photograph(register, who, "0" * 64)


def test_a_photograph_about_nothing_yet_is_seen_by_who_added_it_and_by_who_sees_all(register):
    site = a_site(register)
    who = a_person(site_ids=(site.id,))
    kept = add_photograph(register, who, a_photograph())

    assert photograph(register, who, kept.sha256).photograph == kept
    assert photograph(register, a_person("reader", name="K. B."), kept.sha256).photograph == kept
    with pytest.raises(NotFound):
        photograph(register, a_person("reader", site_ids=(site.id,), name="K. B."), kept.sha256)


@pytest.mark.parametrize(
    ("kind", "id_"), [("person", "x"), ("site", "x"), ("valve", "x"), ("spec", "x"), ("meter", "x")]
)
def test_a_photograph_of_what_does_not_exist_is_refused(sqlite_register, kind, id_):
    with pytest.raises((InputError, NotFound)):
        add_photograph(sqlite_register, OFFICE, a_photograph(), about_kind=kind, about_id=id_)


def test_nothing_is_kept_of_what_is_no_photograph(register):
    site = a_site(register)
    with pytest.raises(InputError, match=r"valve\.jpg is a program"):
        add_photograph(register, OFFICE, b"MZ" + bytes(99), name="valve.jpg", about_kind="site", about_id=site.id)

    assert photographs_about(register, OFFICE, "site", site.id) == ()


def test_the_audit_list_names_what_was_photographed(register):
    site = a_site(register)
    add_photograph(register, OFFICE, a_photograph(), about_kind="site", about_id=site.id)
    row = people.audit_list(register, OFFICE).rows[0]

    assert (row.what, row.about) == ("photograph-added", "Quayside House")
