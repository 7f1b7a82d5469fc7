"""The app on the cast's school, a frozen clock, and visitors who fill real forms."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from flask import Flask
from freezegun import freeze_time
from freezegun.api import FrozenDateTimeFactory

from coursekit.store.unit import Unit
from coursekit.web.app import create_app
from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.fixture(autouse=True)
def clock(now: datetime) -> Iterator[FrozenDateTimeFactory]:
    """The only clock of the web stands still; a test moves it."""
    with freeze_time(now) as frozen:
        assert isinstance(frozen, FrozenDateTimeFactory)
        yield frozen


@pytest.fixture
def app(unit: Unit, tmp_path: Path) -> Flask:
    return create_app({"UNIT": unit, "INSTANCE": tmp_path})


@pytest.fixture
def visitor(app: Flask) -> Visitor:
    """Somebody who is not signed in."""
    return Visitor(app.test_client())


@pytest.fixture
def student(app: Flask, cast: Cast) -> Visitor:
    """Ana, back in her class with her return code."""
    ana = Visitor(app.test_client())
    ana.open("/return")
    ana.send(
        **{
            "sign-in-code": cast.join_code,
            "sign-in-name": cast.student.name,
            "sign-in-return_code": cast.return_code,
        }
    )
    return ana


@pytest.fixture
def instructor(app: Flask, cast: Cast) -> Visitor:
    """Mara, signed in."""
    return signed_in(app, cast.instructor.sign_in_name, cast)


@pytest.fixture
def attempt(student: Visitor, cast: Cast) -> str:
    """The address of the attempt that Ana has begun."""
    student.open("/my-class")
    student.send(action=f"/my-class/{cast.class_scenario_id}/start")
    return student.path


def signed_in(app: Flask, sign_in_name: str, cast: Cast) -> Visitor:
    """Return a member of staff after the sign-in form."""
    who = Visitor(app.test_client())
    who.open("/sign-in")
    who.send(**{"sign-in-sign_in_name": sign_in_name, "sign-in-password": cast.password})
    return who
