"""The head's pages of people."""

from flask import Flask

from coursekit.services import accounts
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor

WORDS = "puddle anchor velvet moss"


def test_the_head_sees_who_works_here_and_what_for(instructor: Visitor) -> None:
    instructor.open("/school")

    assert instructor.heading == "2 people work at Fernbank Recovery School"
    assert "Tobin Hale" in instructor.html
    assert "There is no second instructor" in instructor.html


def test_the_head_adds_an_instructor_who_signs_in(
    app: Flask, instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    instructor.open("/school/people/new")
    instructor.send(name="Ines Roe", sign_in_name="Ines", roles=["instructor"], password=WORDS)

    assert instructor.heading == "Ines Roe: instructor"
    ines = Visitor(app.test_client()).open("/sign-in")
    ines.send(**{"sign-in-sign_in_name": "ines", "sign-in-password": WORDS})
    assert ines.path == "/classes"
    assert "There is no second instructor" not in instructor.open("/school").html


def test_what_is_wrong_stands_beside_its_field_and_nothing_typed_is_lost(
    instructor: Visitor,
) -> None:
    instructor.open("/school/people/new")
    instructor.send(name="Ines Roe", sign_in_name="tobin hale", roles=[], password=WORDS)

    assert instructor.status == 422
    assert "A role is missing" in " ".join(instructor.errors)
    assert 'value="Ines Roe"' in instructor.html


def test_the_head_gives_somebody_another_role(
    instructor: Visitor, storekeeper: Visitor, cast: Cast
) -> None:
    person = cast.storekeeper.actor.person_id
    instructor.open(f"/school/people/{person}/roles").send(roles=["instructor", "storekeeper"])

    assert instructor.heading == "Tobin Hale: instructor, storekeeper"
    assert storekeeper.open("/classes").status == 200


def test_the_only_head_is_told_why_the_role_stays(instructor: Visitor, cast: Cast) -> None:
    person = cast.instructor.actor.person_id
    instructor.open(f"/school/people/{person}/roles").send(roles=["instructor"])

    assert "Mara Quint is the school's only head" in " ".join(instructor.notices)
    assert "/end" not in instructor.open(f"/school/people/{person}").html


def test_who_is_let_in_no_more_is_signed_out_and_can_be_let_in_again(
    app: Flask, instructor: Visitor, storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    person = cast.storekeeper.actor.person_id
    instructor.open(f"/school/people/{person}/end").send()

    assert instructor.heading == "1 person works at Fernbank Recovery School"
    assert storekeeper.open("/kit").path == "/sign-in"
    assert "Tobin Hale has left" in instructor.open(f"/school/people/{person}").html

    instructor.open(f"/school/people/{person}/password").send(password=cast.password)
    assert signed_in(app, "tobin hale", cast).path == "/kit"
    rows = accounts.people(unit, cast.instructor.actor)
    assert [row.ended_at for row in rows] == [None, None]
