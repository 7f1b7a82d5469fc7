"""Bytes and seconds of the report of a class of thirty, as a page and printed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from freezegun import freeze_time

from coursekit.services import answering
from coursekit.services.answering import Join, TypedAnswer
from coursekit.store.unit import Unit
from coursekit.web.app import create_app
from tests.benchmarks.conftest import Report
from tests.cast import NOW, Cast
from tests.shell.classroom import ANSWERS
from tests.web.conftest import on_the_device_of

pytestmark = pytest.mark.benchmark

STUDENTS = 30


def _seconds() -> float:
    """Return a clock that stands outside the frozen time of the cast's class."""
    return os.times().elapsed


@freeze_time(NOW)
def test_the_report_of_thirty(report: Report, unit: Unit, cast: Cast, tmp_path: Path) -> None:
    begun = _seconds()
    for number in range(STUDENTS - 1):
        _handed_in(unit, cast, number)
    report(f"{STUDENTS - 1} students answered and were marked in {_seconds() - begun:.1f} s")
    app = create_app({"UNIT": unit, "INSTANCE": tmp_path})
    instructor = on_the_device_of(app, cast.instructor).client
    for name in ("report", "report.pdf", "report/0.svg"):
        instructor.get(f"/classes/{cast.class_id}/{name}")
        begun = _seconds()
        answer = instructor.get(f"/classes/{cast.class_id}/{name}")
        seconds = _seconds() - begun
        assert answer.status_code == 200
        report(f"{name} of {STUDENTS} students: {len(answer.data):,} bytes in {seconds:.2f} s")


def _handed_in(unit: Unit, cast: Cast, number: int) -> None:
    joined = answering.join_class(unit, Join(cast.join_code, f"Student {number}"), NOW).person.actor
    place = answering.my_class(unit, joined).scenarios[0].class_scenario_id
    attempt = answering.start_attempt(unit, joined, place, NOW, number)
    for task, typed in ANSWERS.items():
        answering.save_answer(
            unit, joined, TypedAnswer(attempt, task, typed, f"report-{task}-{number:04}"), NOW
        )
    answering.submit_attempt(unit, joined, attempt, NOW)
