"""The app on the cast's school, a frozen clock, and visitors who fill real forms."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from flask import Flask
from freezegun import freeze_time
from freezegun.api import FrozenDateTimeFactory

from coursekit.store.unit import Unit
from coursekit.web.app import create_app
from coursekit.web.identity import SIGN_IN, UNIT
from tests.cast import NOW, Cast, Member
from tests.web.visitor import Visitor

NO_DATABASE = object()


@pytest.fixture(scope="module")
def frozen() -> Iterator[FrozenDateTimeFactory]:
    """A clock that stands still; stopping it takes long, so a module shares one."""
    with freeze_time(NOW) as factory:
        assert isinstance(factory, FrozenDateTimeFactory)
        yield factory


@pytest.fixture(autouse=True)
def clock(frozen: FrozenDateTimeFactory) -> FrozenDateTimeFactory:
    """The only clock of the web, set to the moment of the tests; a test moves it."""
    frozen.move_to(NOW)
    return frozen


@pytest.fixture(scope="session")
def one_app(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    """The app is made once: it keeps nothing between requests but its templates."""
    return create_app({"UNIT": NO_DATABASE, "INSTANCE": tmp_path_factory.mktemp("instance")})


@pytest.fixture
def app(one_app: Flask, unit: Unit) -> Flask:
    """The app on the test's own copy of the school."""
    one_app.extensions[UNIT] = unit
    return one_app


@pytest.fixture
def visitor(app: Flask) -> Visitor:
    """Somebody who is not signed in."""
    return Visitor(app.test_client())


@pytest.fixture
def student(app: Flask, cast: Cast) -> Visitor:
    """Ana, on the device with which she joined."""
    return on_the_device_of(app, cast.student)


@pytest.fixture
def instructor(app: Flask, cast: Cast) -> Visitor:
    """Mara, signed in."""
    return on_the_device_of(app, cast.instructor)


@pytest.fixture
def storekeeper(app: Flask, cast: Cast) -> Visitor:
    """Tobin, signed in."""
    return on_the_device_of(app, cast.storekeeper)


@pytest.fixture
def attempt(student: Visitor, cast: Cast) -> str:
    """The address of the attempt that Ana has begun."""
    student.open("/my-class")
    student.send(action=f"/my-class/{cast.class_scenario_id}/start")
    return student.path


def on_the_device_of(app: Flask, member: Member) -> Visitor:
    """Return a visitor whose cookie carries the sign-in of a member of the cast."""
    who = Visitor(app.test_client())
    with who.client.session_transaction() as session:
        session[SIGN_IN] = member.token
    return who


def signed_in(app: Flask, sign_in_name: str, cast: Cast) -> Visitor:
    """Return a member of staff after the sign-in form."""
    who = Visitor(app.test_client())
    who.open("/sign-in")
    who.send(**{"sign-in-sign_in_name": sign_in_name, "sign-in-password": cast.password})
    return who
