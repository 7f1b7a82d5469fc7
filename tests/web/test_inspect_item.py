"""A thorough examination, passed or not."""

from datetime import UTC, datetime

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from tests.cast import Cast
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor


@pytest.fixture
def bow(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Bow 1']}"


def test_an_examination_that_passed_moves_the_next_one_six_months_on(
    app: Flask, clock: FrozenDateTimeFactory, cast: Cast, bow: str
) -> None:
    clock.move_to(datetime(2026, 12, 20, 12, tzinfo=UTC))
    storekeeper = signed_in(app, cast.storekeeper.sign_in_name, cast)

    assert storekeeper.open(bow).heading == "Bow 1: inspect first"
    storekeeper.open(f"{bow}/inspect").send(passed="yes", findings="")

    assert storekeeper.heading == "Bow 1: may go out"
    # LOLER 1998 reg. 9(3)(a): lifting accessories at least every six months.
    assert "inspect by Jun 20, 2027" in storekeeper.html


def test_what_failed_goes_into_quarantine(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(passed="no", findings="bent by a hand's breadth")

    assert storekeeper.heading == "Bow 1: in quarantine"
    assert "did not pass" in storekeeper.html


def test_what_failed_needs_a_finding(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(passed="no", findings="")

    assert storekeeper.status == 422
    assert storekeeper.errors == ["▲ It is empty. Fill it in."]


def test_the_outcome_must_be_said(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(findings="a scratch")

    assert storekeeper.status == 422
    assert "a scratch" in storekeeper.html
