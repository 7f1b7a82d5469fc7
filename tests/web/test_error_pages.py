"""Every failure has a page that says how to go on, and no traceback."""

import logging
import re

import pytest
from flask import Flask, abort

from coursekit.services.errors import Conflict
from coursekit.web.routes import rules
from tests.cast import Cast
from tests.web.visitor import Visitor

REFERENCE = re.compile(r"Reference: ([0-9A-F]{6})")


@pytest.mark.parametrize("status", [400, 401, 403, 404, 405, 409, 413, 429, 500, 418, 503])
def test_each_status_has_a_page_with_a_reference(
    app: Flask, visitor: Visitor, monkeypatch: pytest.MonkeyPatch, status: int
) -> None:
    monkeypatch.setitem(app.view_functions, "account.join", lambda: abort(status))
    visitor.response = visitor.client.get("/join")

    assert visitor.status == status
    assert visitor.heading
    assert REFERENCE.search(visitor.html)
    assert "To the start" in visitor.html


def test_an_unknown_route_has_a_page(visitor: Visitor) -> None:
    visitor.open("/nowhere")

    assert visitor.status == 404
    assert visitor.heading == "There is no such page here"


def test_a_surprise_is_logged_by_its_reference_and_shown_without_its_text(
    app: Flask,
    visitor: Visitor,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    def surprise() -> str:
        raise RuntimeError("the drum fell off")

    monkeypatch.setitem(app.view_functions, "account.join", surprise)
    with caplog.at_level(logging.ERROR):
        visitor.open("/join")
    found = REFERENCE.search(visitor.html)

    assert visitor.status == 500
    assert "drum" not in visitor.html
    assert "Traceback" not in visitor.html
    assert found is not None
    assert found[1] in caplog.text
    assert "the drum fell off" in caplog.text


def test_a_service_that_refuses_is_quoted_with_its_way_out(
    app: Flask, visitor: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused() -> str:
        raise Conflict("Somebody moved the rope", "Look at it again")

    monkeypatch.setitem(app.view_functions, "account.join", refused)
    visitor.open("/join")

    assert visitor.status == 409
    assert "Somebody moved the rope. Look at it again." in visitor.html


def test_a_script_gets_its_errors_as_json(visitor: Visitor) -> None:
    answer = visitor.client.get("/nowhere", headers={"Accept": "application/json"})

    assert answer.status_code == 404
    assert set(answer.json or {}) == {"error", "reference"}


def test_error_pages_need_no_rule_of_their_own(app: Flask) -> None:
    assert "static" not in rules(app)


HUGE = "9" * 20


@pytest.mark.parametrize(
    ("path", "status"),
    [
        (f"/kit/items/{HUGE}", 404),
        (f"/kit/items/{HUGE}/issue", 404),
        (f"/kit/files/{HUGE}", 404),
        (f"/classes/{HUGE}", 404),
        (f"/kit/scan?act=issue&item={HUGE}&class_id={HUGE}", 200),
        ("/kit/classes/1?item=" + HUGE, 200),
        ("/kit/classes/1/return?item=" + HUGE, 200),
    ],
)
def test_a_number_that_no_row_can_have_is_no_error(
    instructor: Visitor, path: str, status: int
) -> None:
    assert instructor.open(path).status == status


@pytest.mark.parametrize("number", ["9" * 19, "9" * 20, "9" * 5000])
def test_a_form_with_such_a_number_is_refused(
    instructor: Visitor, storekeeper: Visitor, cast: Cast, number: str
) -> None:
    log = f"/classes/{cast.class_id}/pulls/item"
    instructor.open(log).send(item_id=number, method="kinetic", size="heavy", ended="came-free")
    assert instructor.status == 422

    bow = f"/kit/items/{cast.items['Bow 1']}/quarantine"
    storekeeper.open(bow).send(seen=number, reason="a doubt")
    assert storekeeper.status == 422
