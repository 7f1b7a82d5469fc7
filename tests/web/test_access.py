"""Every route of every area, against everybody of the cast: a new route is covered by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from _pytest.mark.structures import ParameterSet
from flask import Flask, session
from flask_wtf.csrf import generate_csrf
from sqlalchemy import URL, func, select
from werkzeug.routing import Rule as UrlRule

from coursekit.services import answering, drafting, kit, pulls, standards
from coursekit.services.actor import Role
from coursekit.services.pulls import DeclaredPull
from coursekit.store import tables
from coursekit.store.chain import FIRST_HASH, seal
from coursekit.store.unit import Unit
from coursekit.web.app import create_app
from coursekit.web.routes import Route, RouteWithoutRule, area, require_rules, rules
from tests.cast import NOW, Cast
from tests.databases import Databases, opened
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

# Words that only people of the school may read.
OF_THE_SCHOOL = ("Ana Lim", "Winch basics", "FB-001", "Mara Quint")
SIGN_IN_PAGES = ("/sign-in", "/return")
# What these are about stands in the query of their address, which is empty here.
NAMED_IN_THE_QUERY = {
    "teach.hold_point",
    "teach.log_rig",
    "teach.log_measured",
    "kit.register_type",
    "kit.recall",
}
# Offered after a diagnosis or for a scenario with a yard list only: here is neither.
NOT_OFFERED = {"answer.follow_up", "teach.yard_sheet", "teach.yard_agree"}


def _app_without_database() -> Flask:
    return create_app({"UNIT": object(), "INSTANCE": "/nonexistent", "SECRET_KEY": "for routes"})


ALL = [url for url in _app_without_database().url_map.iter_rules() if url.endpoint != "static"]
PAIRS = [
    (url, method) for url in ALL for method in sorted((url.methods or set()) & {"GET", "POST"})
]
OF_ATTEMPTS = [url for url, method in PAIRS if method == "GET" and "attempt_id" in url.arguments]


def _by_name(pairs: list[tuple[UrlRule, str]]) -> list[ParameterSet]:
    return [pytest.param(url, method, id=f"{method} {url.rule}") for url, method in pairs]


BY_METHOD = _by_name(PAIRS)
POSTED = _by_name([pair for pair in PAIRS if pair[1] == "POST"])


@dataclass
class School:
    """The app with everybody of the cast at its door."""

    app: Flask
    cast: Cast
    ids: dict[str, str | int]

    def path(self, url: UrlRule) -> str:
        """Return the address of a route, its ids taken from the school's own rows."""
        with self.app.test_request_context():
            names: dict[str, Any] = {name: self.ids[name] for name in url.arguments}
            return self.app.url_for(url.endpoint, **names)

    def status(self, who: Visitor, url: UrlRule, method: str) -> int:
        """Return how a route answers somebody, whose forms carry a good token."""
        path = self.path(url)
        if method == "GET":
            who.response = who.client.get(path)
        else:
            who.response = who.client.post(path, data={"csrf_token": self._token_of(who)})
        return who.status

    def _token_of(self, who: Visitor) -> str:
        """Return a good token, put where a page with a form would have left its half."""
        with self.app.test_request_context():
            token: str = generate_csrf()
            half = session["csrf_token"]
        with who.client.session_transaction() as kept:
            kept["csrf_token"] = half
        return token

    def member(self, name: str) -> Visitor:
        """Return somebody of the cast, signed in."""
        return on_the_device_of(self.app, getattr(self.cast, name))


@pytest.fixture(scope="module")
def filled(
    databases: Databases, school_world: tuple[URL, Cast]
) -> Iterator[tuple[URL, dict[str, str | int]]]:
    """A school with a row for every id that a route may name, to be copied, and the ids."""
    world, cast = school_world
    url = databases.copy(world)
    with opened(databases, url) as unit:
        ids = _ids(unit, cast)
        unit.close()
        yield url, ids


@pytest.fixture
def unit(databases: Databases, filled: tuple[URL, dict[str, str | int]]) -> Iterator[Unit]:
    """The test's own copy of that school."""
    with opened(databases, databases.copy(filled[0])) as unit:
        yield unit


@pytest.fixture
def school(app: Flask, cast: Cast, filled: tuple[URL, dict[str, str | int]]) -> School:
    return School(app, cast, filled[1])


def _ids(unit: Unit, cast: Cast) -> dict[str, str | int]:
    attempt_id = answering.start_attempt(
        unit, cast.student.actor, cast.class_scenario_id, NOW, seed=1
    )
    item_id = next(iter(cast.items.values()))
    life = kit.item_life(unit, cast.storekeeper.actor, item_id, NOW.date())
    pull = DeclaredPull(cast.class_id, item_id, "winch", "light", "came-free", "a-pull-for-all")
    return {
        "attempt_id": attempt_id,
        "class_id": cast.class_id,
        "class_scenario_id": cast.class_scenario_id,
        "code": cast.join_code,
        "draft_id": drafting.begin_from(unit, cast.instructor.actor, cast.version_id, NOW),
        "enrolment_id": _enrolment(unit, cast),
        "entry_id": life.lines[0].entry_id,
        "file_id": _file(unit, cast, item_id),
        "item_id": item_id,
        "name": "given",
        "number": 0,
        "person_id": cast.storekeeper.actor.person_id,
        "pull_id": pulls.record_declared_pull(unit, cast.instructor.actor, pull, NOW).pull_id,
        "question_id": _waiting_question(unit, cast),
        "record_id": _record(unit, cast),
        "request_id": _waiting_request(unit, cast, attempt_id),
        "run_id": _run(unit, cast),
        "stop": 0,
        "secret": "x",
        "sheet_id": standards.open_sheet(unit, cast.instructor.actor, cast.version_id, NOW),
        "task_id": "total",
        "type_id": life.item.type.id,
        "version_id": cast.version_id,
    }


def _file(unit: Unit, cast: Cast, item_id: int) -> int:
    """Return a certificate of an item, whose bytes are not on the disk of the app."""
    with unit.write() as session:
        row = tables.KitFile(
            school_id=cast.storekeeper.actor.school_id,
            item_id=item_id,
            kind="certificate",
            name="proof.pdf",
            media_type="application/pdf",
            size_bytes=1,
            sha256="0" * 64,
            person_id=cast.storekeeper.actor.person_id,
            added_at=NOW,
        )
        session.add(row)
        session.flush()
        return row.id


def _waiting_question(unit: Unit, cast: Cast) -> int:
    """Return a question of practice of the student that waits for its answer."""
    with unit.write() as session:
        row = tables.PracticeQuestion(
            school_id=cast.student.actor.school_id,
            person_id=cast.student.actor.person_id,
            scenario_version_id=cast.version_id,
            task_id="total",
            skill="resistance.total",
            variation={},
            asked_at=NOW,
            typed=None,
            slips=[],
            feedback=[],
        )
        session.add(row)
        session.flush()
        return row.id


def _enrolment(unit: Unit, cast: Cast) -> int:
    """Return the enrolment of the student."""
    with unit.read() as session:
        of_student = tables.Enrolment.person_id == cast.student.actor.person_id
        return session.scalars(select(tables.Enrolment.id).where(of_student)).one()


def _record(unit: Unit, cast: Cast) -> int:
    """Return a record of the student, with its certificate, on no paper."""
    document = {
        "class": {"timezone": "Europe/London", "opened_at": None, "closed_at": None},
        **dict.fromkeys(("place", "conditions", "adjustments"), "North yard"),
        **{key: [] for key in ("kit", "papers", "missing", "assessed")},
        **dict.fromkeys(("policy", "solver", "marks", "out_of"), 1),
        "student": cast.student.actor.person_id,
        "assessor": cast.instructor.actor.person_id,
    }
    with unit.write() as session:
        record = tables.AssessmentRecord(
            school_id=cast.student.actor.school_id,
            seq=1,
            class_session_id=cast.class_id,
            person_id=cast.student.actor.person_id,
            outcome="competent",
            document=document,
            issued_by=cast.instructor.actor.person_id,
            issued_at=NOW,
            prev_hash=FIRST_HASH,
        )
        seal(record, FIRST_HASH)
        session.add(record)
        session.flush()
        certificate = tables.Certificate(
            school_id=record.school_id,
            record_id=record.id,
            person_id=record.person_id,
            code="000000000000000N",
            effective=NOW.date(),
            expires=NOW.date(),
            warn_days=60,
            timezone="Europe/London",
            issued_at=NOW,
        )
        session.add(certificate)
        return record.id


def _run(unit: Unit, cast: Cast) -> int:
    """Return a run that marks papers again, before it has looked at one."""
    with unit.write() as session:
        row = tables.MarkingRun(
            school_id=cast.instructor.actor.school_id,
            scenario_version_id=cast.version_id,
            may_fall=False,
            papers=1,
            started_by=cast.instructor.actor.person_id,
            started_at=NOW,
        )
        session.add(row)
        session.flush()
        return row.id


def _waiting_request(unit: Unit, cast: Cast, attempt_id: int) -> int:
    """Return an appeal of the student that waits for its answer."""
    with unit.write() as session:
        row = tables.ReviewRequest(
            school_id=cast.student.actor.school_id,
            attempt_id=attempt_id,
            kind="appeal",
            stop=None,
            reason="Look at the total again",
            seen_number=1,
            asked_by=cast.student.actor.person_id,
            asked_at=NOW,
        )
        session.add(row)
        session.flush()
        return row.id


@pytest.mark.parametrize(("url", "method"), BY_METHOD)
def test_somebody_who_is_not_signed_in_gets_no_further_than_the_door(
    school: School, visitor: Visitor, url: UrlRule, method: str
) -> None:
    is_public = rules(school.app)[url.endpoint].route.roles is None
    status = school.status(visitor, url, method)

    if is_public:
        assert status not in (401, 403)
    elif method == "POST":
        assert status == 401
    else:
        assert status == 302
        assert visitor.response.headers["Location"].startswith(SIGN_IN_PAGES)


@pytest.mark.parametrize(("url", "method"), BY_METHOD)
@pytest.mark.parametrize("member", ["student", "storekeeper", "instructor"])
def test_people_of_the_school_open_what_their_roles_open_and_nothing_else(
    school: School, url: UrlRule, method: str, member: str
) -> None:
    roles = getattr(school.cast, member).actor.roles
    may = rules(school.app)[url.endpoint].admits(roles)
    status = school.status(school.member(member), url, method)

    assert status < 500
    assert (status not in (401, 403)) if may else (status == 403)


@pytest.mark.parametrize(("url", "method"), BY_METHOD)
def test_staff_of_another_school_find_nothing_of_this_one(
    school: School, url: UrlRule, method: str
) -> None:
    outsider = school.member("outsider")
    status = school.status(outsider, url, method)
    names_a_row = bool(url.arguments - {"code", "stop", "task_id"})
    may = rules(school.app)[url.endpoint].admits(school.cast.outsider.actor.roles)

    if names_a_row:
        assert status == (404 if may else 403)
    if url.endpoint != "account.join_by_code":  # whoever holds the code may read its class
        assert [word for word in OF_THE_SCHOOL if word in outsider.html] == []


@pytest.mark.parametrize(("url", "method"), POSTED)
def test_no_form_is_acted_upon_without_its_token(
    school: School, unit: Unit, url: UrlRule, method: str
) -> None:
    may_student = rules(school.app)[url.endpoint].admits(frozenset({Role.STUDENT}))
    who = school.member("student" if may_student else "instructor")
    before = _rows(unit)
    who.response = who.client.post(school.path(url), data={"csrf_token": "forged"})

    assert _rows(unit) == before
    assert who.status in (400, 422) or url.endpoint in {
        "account.set_up",
        *NAMED_IN_THE_QUERY,
        *NOT_OFFERED,
    }


def test_another_student_of_the_class_finds_no_attempt_but_their_own(
    school: School, visitor: Visitor
) -> None:
    visitor.open("/join").send(code=school.cast.join_code, name="Bo Reed")

    assert OF_ATTEMPTS
    assert {school.status(visitor, url, "GET") for url in OF_ATTEMPTS} <= {403, 404}


def test_a_route_without_a_rule_stops_the_app_at_its_start() -> None:
    app = _app_without_database()
    app.add_url_rule("/forgotten", "forgotten", lambda: "")

    with pytest.raises(RouteWithoutRule, match="The route forgotten has no rule"):
        require_rules(app)


def test_a_route_of_a_table_brings_its_rule_along() -> None:
    app = Flask("house")
    app.register_blueprint(area("shed", [Route("/shed", "look", lambda: "", None)]))

    require_rules(app)
    assert list(rules(app)) == ["shed.look"]


def _rows(unit: Unit) -> dict[str, int]:
    """Return how many rows each table has."""
    with unit.read() as session:
        return {
            name: session.scalar(select(func.count()).select_from(table)) or 0
            for name, table in tables.Base.metadata.tables.items()
        }
