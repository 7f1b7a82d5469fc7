"""Signing in and out as staff, and the own password."""

from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.services import accounts
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor


def test_staff_land_on_the_first_page_that_is_theirs(app: Flask, cast: Cast) -> None:
    for member, start in ((cast.instructor, "/classes"), (cast.storekeeper, "/kit")):
        who = signed_in(app, member.sign_in_name, cast)

        assert (who.status, who.path) == (200, start)


def test_a_wrong_password_keeps_the_name_and_never_the_password(
    visitor: Visitor, cast: Cast
) -> None:
    visitor.open("/sign-in").send(
        **{"sign-in-sign_in_name": "mara quint", "sign-in-password": "not the lantern"}
    )

    assert visitor.status == 422
    assert visitor.notices == ["Name and password don't go together. Check both and try again."]
    assert visitor.value("sign-in-sign_in_name") == "mara quint"
    assert "not the lantern" not in visitor.html


def test_guessing_a_password_is_slowed_down(visitor: Visitor) -> None:
    answers: set[str] = set()
    for _guess in range(10):
        visitor.open("/sign-in").send(
            **{"sign-in-sign_in_name": "mara quint", "sign-in-password": "not the lantern"}
        )
        answers.update(visitor.notices)

    assert any("too many tries" in answer for answer in answers)


def test_a_page_that_asked_for_a_sign_in_opens_after_it(visitor: Visitor, cast: Cast) -> None:
    visitor.open("/me?from=link")
    assert visitor.path == "/sign-in"
    visitor.send(
        **{"sign-in-sign_in_name": cast.instructor.sign_in_name, "sign-in-password": cast.password}
    )

    assert visitor.path == "/me"
    assert visitor.heading == "You are Mara Quint at Fernbank Recovery School"


def test_a_sign_in_leads_to_no_other_site(visitor: Visitor, cast: Cast) -> None:
    for elsewhere in ("https://elsewhere.test/", "//elsewhere.test/", "/\\elsewhere.test/"):
        visitor.open("/sign-in")
        form = visitor.forms[0].filled(
            {
                "sign-in-next": elsewhere,
                "sign-in-sign_in_name": cast.instructor.sign_in_name,
                "sign-in-password": cast.password,
            }
        )
        answer = visitor.client.post("/sign-in", data=dict(form))

        assert "elsewhere" not in answer.headers["Location"]


def test_signing_out_ends_the_sign_in_on_the_server_too(
    unit: Unit, instructor: Visitor, cast: Cast
) -> None:
    cookie = instructor.client.get_cookie("coursekit")
    assert cookie is not None
    instructor.open("/me").send(action="/me/sign-out")
    instructor.client.set_cookie("coursekit", cookie.value)

    assert instructor.open("/me").path == "/sign-in"


def test_signing_out_everywhere_ends_every_device(app: Flask, cast: Cast) -> None:
    here = signed_in(app, cast.instructor.sign_in_name, cast)
    there = signed_in(app, cast.instructor.sign_in_name, cast)
    here.open("/me").send(action="/me/sign-out-everywhere")

    assert "You are signed out everywhere." in here.html
    assert there.open("/me").path == "/sign-in"


def test_a_new_password_ends_the_other_devices_and_works(app: Flask, cast: Cast) -> None:
    here = signed_in(app, cast.instructor.sign_in_name, cast)
    there = signed_in(app, cast.instructor.sign_in_name, cast)
    new = "willow drum harbour"
    here.open("/me/password").send(old=cast.password, new=new, again=new)

    assert here.path == "/me"
    assert there.open("/me").path == "/sign-in"
    credentials = accounts.Credentials(cast.instructor.sign_in_name, new)
    assert accounts.sign_in(app.extensions["coursekit-unit"], credentials, NOW).token


def test_a_weak_password_is_told_beside_its_field(instructor: Visitor, cast: Cast) -> None:
    instructor.open("/me/password").send(old=cast.password, new="short", again="short")

    assert instructor.status == 422
    assert len(instructor.errors) == 1
    assert "at least 12" in instructor.errors[0]


def test_a_sign_in_ends_after_a_long_day(instructor: Visitor, clock: FrozenDateTimeFactory) -> None:
    clock.tick(17 * 3600)

    assert instructor.open("/me").path == "/sign-in"
