"""Whoever works on a scenario in US units reads no metric number on any page of it."""

from __future__ import annotations

import re
from datetime import datetime
from html.parser import HTMLParser

import pytest
from flask import Flask

from coursekit.services import answering
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.conftest import on_the_device_of
from tests.web.us_class import UsClass, answered, pulled, us_class
from tests.web.visitor import Visitor

METRIC = re.compile(
    r"\d\s?(?:m|cm|mm|km|kN|daN|kg|kgf|tf|kJ)\b|\bkN|\bN/m|\bm/s|\bkm/h|metre|newton|kilogram"
)
# Masses and stiffness in one formula come out in no other units, and it says so.
RECKONED_IN_SI = re.compile(r"=[^=\[\]]*\[SI\]")
# A definition stands in the unit of its standard.
PUBLISHED = "g = 9.80665 m/s2 (ISO 80000-3)"
SILENT = frozenset({"script", "style", "select"})
TOLD = frozenset({"alt", "aria-label", "title"})


class _Text(HTMLParser):
    """Reads what a page says, aloud too; not the units that a list offers for typing."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []
        self._silent = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._silent += tag in SILENT
        self.said += [value for name, value in attrs if name in TOLD and value]

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in SILENT

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self.said.append(data)


def said(page: Visitor) -> str:
    reader = _Text()
    reader.feed(page.html)
    text = " ".join(" ".join(reader.said).split()).replace(PUBLISHED, "")
    return RECKONED_IN_SI.sub("", text)


def metric(who: Visitor, *paths: str) -> dict[str, list[str]]:
    """Return the metric texts of each page that has any; every page must open."""
    found = {}
    for path in paths:
        assert who.open(path).status == 200, path
        found[path] = [match[0] for match in METRIC.finditer(said(who))]
    return {path: texts for path, texts in found.items() if texts}


@pytest.fixture(params=["dune-mouth", "wash-road"])
def school(request: pytest.FixtureRequest, unit: Unit, cast: Cast, now: datetime) -> UsClass:
    return us_class(unit, cast, now, request.param)


@pytest.fixture
def bo(app: Flask, school: UsClass) -> Visitor:
    """The student, on the device with which he joined."""
    return on_the_device_of(app, school.student)


def test_nothing_metric_is_read_while_preparing(instructor: Visitor, school: UsClass) -> None:
    base = f"/scenarios/{school.version_id}"
    rigs = [f"{base}/rigs/{name}" for name in school.document["rigs"]]

    assert metric(instructor, base, f"{base}/sheet", f"{base}/guide", *rigs) == {}


def test_nothing_metric_is_read_while_answering(
    bo: Visitor, school: UsClass, unit: Unit, now: datetime
) -> None:
    attempt = f"/attempts/{answered(unit, school, now)}"
    tasks = [f"{attempt}/tasks/{task}" for task in school.tasks]

    assert metric(bo, "/my-class", attempt, *tasks, f"{attempt}/hand-in") == {}
    assert "1234 lb read as its weight: 1,230 lbf" in bo.open(f"{attempt}/tasks/total").html


def test_nothing_metric_is_read_after_handing_in(
    bo: Visitor, instructor: Visitor, school: UsClass, unit: Unit, now: datetime
) -> None:
    attempt_id = answered(unit, school, now)
    answering.submit_attempt(unit, school.student.actor, attempt_id, now)
    group = f"/classes/{school.class_id}"
    tasks = [f"{group}?task={school.class_scenario_id}.{task}" for task in school.tasks]

    assert metric(bo, f"/attempts/{attempt_id}/marks") == {}
    assert metric(instructor, f"/papers/{attempt_id}", group, *tasks) == {}


def test_a_pull_is_planned_and_reported_in_pounds(
    instructor: Visitor, school: UsClass, unit: Unit, cast: Cast, now: datetime
) -> None:
    group = f"/classes/{school.class_id}/pulls"
    args = f"scenario={school.class_scenario_id}&rig=given"
    report = f"{group}/{pulled(unit, cast, school, now)}"
    pages = (f"{group}/hold-point?{args}", f"{group}/rig?{args}", report)

    assert metric(instructor, f"{group}/new", *pages) == {}
    assert " lbf of " in said(instructor)


def test_the_example_in_a_message_is_one_in_the_units_of_the_scenario(
    bo: Visitor, school: UsClass, unit: Unit, now: datetime
) -> None:
    attempt = f"/attempts/{answered(unit, school, now)}"
    bo.open(f"{attempt}/tasks/total").send(answer="much")

    assert bo.errors == ['▲ "much" is not a number and a unit. Write for example 6.4 lbf.']
