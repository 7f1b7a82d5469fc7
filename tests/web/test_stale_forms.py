"""Forms that stood open too long, and sign-ins that ended in mid-answer: nothing typed is lost."""

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.services import accounts, answering
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.web.rigs import TURNED
from tests.web.visitor import Visitor

HOURS = 3600
STALE = {"csrf_token": "of yesterday"}


@pytest.fixture
def rear(student: Visitor, attempt: str) -> Visitor:
    return student.open(f"{attempt}/tasks/rear")


def answers(unit: Unit, cast: Cast, visitor: Visitor) -> dict[str, object]:
    attempt_id = int(visitor.path.split("/")[2])
    return dict(answering.attempt_view(unit, cast.student.actor, attempt_id).answers)


def test_a_form_that_stood_open_too_long_comes_back_with_its_text(
    unit: Unit, cast: Cast, rear: Visitor
) -> None:
    rear.send(answer="6.4 kN", **STALE)

    assert rear.status == 422
    assert "What you typed is still here" in rear.notices[0]
    assert rear.value("answer") == "6.4 kN"
    assert answers(unit, cast, rear) == {}

    rear.send()
    assert answers(unit, cast, rear) == {"rear": "6.4 kN"}


def test_a_whole_rig_comes_back_too(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/build").send(**STALE, **TURNED)

    assert {name: student.value(name) for name in TURNED} == TURNED


def test_a_form_that_is_only_a_button_is_refused_with_a_page(student: Visitor, cast: Cast) -> None:
    student.open("/my-class")
    student.send(action=f"/my-class/{cast.class_scenario_id}/start", **STALE)

    assert student.status == 400
    assert "stood open too long" in student.html


def test_a_script_gets_a_fresh_token_and_may_send_again(
    unit: Unit, cast: Cast, rear: Visitor
) -> None:
    form = dict(rear.forms[0].filled({"answer": "6.4 kN", **STALE}))
    json = {"Accept": "application/json"}
    told = rear.client.post(rear.path, data=form, headers=json).json or {}
    rear.client.post(rear.path, data=form | {"csrf_token": told["csrf"]}, headers=json)

    assert told["error"] == "stale"
    assert answers(unit, cast, rear) == {"rear": "6.4 kN"}


def test_signed_out_in_mid_answer_the_answer_comes_back_after_signing_in(
    unit: Unit, cast: Cast, rear: Visitor
) -> None:
    accounts.sign_out_everywhere(unit, cast.student.actor, NOW)
    path = rear.path
    rear.send(answer="6.4 kN")
    assert rear.status == 401
    assert rear.heading == "You are signed out: come back to your class"

    rear.send(
        **{
            "sign-in-code": cast.join_code,
            "sign-in-name": cast.student.name,
            "sign-in-return_code": cast.return_code,
        }
    )

    assert rear.path == path
    assert rear.value("answer") == "6.4 kN"
    assert answers(unit, cast, rear) == {}
    rear.send()
    assert answers(unit, cast, rear) == {"rear": "6.4 kN"}


def test_a_mistyped_return_code_keeps_the_answer_as_well(
    unit: Unit, cast: Cast, rear: Visitor
) -> None:
    accounts.sign_out_everywhere(unit, cast.student.actor, NOW)
    rear.send(answer="6.4 kN")
    rear.send(
        **{
            "sign-in-code": cast.join_code,
            "sign-in-name": cast.student.name,
            "sign-in-return_code": "ZZZZZZ",
        }
    )

    assert rear.status == 422
    assert rear.value("answer") == "6.4 kN"


def test_a_script_is_told_that_the_sign_in_has_ended(unit: Unit, cast: Cast, rear: Visitor) -> None:
    accounts.sign_out_everywhere(unit, cast.student.actor, NOW)
    form = dict(rear.forms[0].filled({"answer": "6.4 kN"}))
    answer = rear.client.post(rear.path, data=form, headers={"Accept": "application/json"})

    assert (answer.status_code, answer.json) == (401, {"error": "signed-out"})


def test_a_form_lives_as_long_as_a_day_of_teaching(
    unit: Unit, cast: Cast, rear: Visitor, clock: FrozenDateTimeFactory
) -> None:
    clock.tick(7 * HOURS)
    rear.send(answer="6.4 kN")

    assert answers(unit, cast, rear) == {"rear": "6.4 kN"}


def test_over_https_a_form_of_another_site_is_only_shown(app: Flask, cast: Cast) -> None:
    forger = app.test_client()
    page = forger.get("/join", base_url="https://school.test").get_data(as_text=True)
    token = page.split('name="csrf_token" type="hidden" value="')[1].split('"')[0]
    answer = forger.post(
        "/join",
        base_url="https://school.test",
        data={"csrf_token": token, "code": cast.join_code, "name": "Bo Reed"},
        headers={"Referer": "https://elsewhere.test/"},
    )

    assert answer.status_code == 422
