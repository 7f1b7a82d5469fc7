"""The first visit makes the school and its first instructor, once."""

from pathlib import Path

import pytest

from coursekit.services import schools
from coursekit.store.unit import Unit
from coursekit.web.app import create_app
from tests.web.visitor import Visitor

FILLED = {
    "name": "Fernbank Recovery School",
    "timezone": "Europe/Dublin",
    "instructor_name": "Mara Quint",
    "sign_in_name": "mara",
    "password": "lantern gravel orchard",
    "again": "lantern gravel orchard",
}


@pytest.fixture
def first_visit(empty_unit: Unit, tmp_path: Path) -> Visitor:
    app = create_app({"UNIT": empty_unit, "INSTANCE": tmp_path})
    return Visitor(app.test_client()).open("/")


def test_the_first_visit_leads_to_the_set_up(first_visit: Visitor) -> None:
    assert first_visit.path == "/set-up"
    assert first_visit.heading == "Set up your school"


def test_setting_up_signs_the_first_instructor_in(first_visit: Visitor, empty_unit: Unit) -> None:
    first_visit.send(**FILLED)

    assert schools.is_set_up(empty_unit)
    assert first_visit.open("/me").heading == "You are Mara Quint at Fernbank Recovery School"


def test_the_set_up_is_gone_once_it_is_done(first_visit: Visitor) -> None:
    first_visit.send(**FILLED).open("/me").send(action="/me/sign-out")

    assert first_visit.open("/set-up").path == "/"


@pytest.mark.parametrize(
    ("field", "typed", "message"),
    [
        ("timezone", "Europe/Atlantis", "No such time zone"),
        ("again", "another one entirely", "The two passwords differ"),
        ("password", "short", "at least 12"),
        ("name", "", "Fill this in"),
    ],
)
def test_each_mistake_stands_beside_its_field_and_the_rest_is_kept(
    first_visit: Visitor, empty_unit: Unit, field: str, typed: str, message: str
) -> None:
    filled = FILLED | {field: typed}
    if field == "password":
        filled["again"] = typed
    first_visit.send(**filled)

    assert first_visit.status == 422
    assert any(message in error for error in first_visit.errors)
    assert first_visit.value("instructor_name") == "Mara Quint"
    assert not schools.is_set_up(empty_unit)
