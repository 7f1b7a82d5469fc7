"""What an instructor reads of a rig where its estimates are off."""

from __future__ import annotations

import re
from dataclasses import replace

from flask import Flask

from coursekit.files.spread_document import SPREAD_SEED
from coursekit.rigging.site import Spread
from coursekit.rigging.solver import solve
from coursekit.rigging.spread import uncertainty_of
from coursekit.web.prepare.spread_part import spread_part
from tests.cast import Cast
from tests.core.scenario.stock import scenario
from tests.web.visitor import Visitor


def test_the_page_of_a_rig_says_what_becomes_of_it(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/scenarios/{cast.version_id}/rigs/given")

    assert "Where the estimates are off" in instructor.html
    assert "10000 cases were solved" in instructor.html
    between = re.search(r"between ([\d.]+) kN and ([\d.]+) kN", instructor.html)
    assert between
    assert float(between[1]) < float(between[2])


def test_what_passes_its_limit_stands_with_its_number_of_cases(app: Flask) -> None:
    own = scenario("log-landing")
    wide = replace(own.situation, spread=Spread(0.3, 0.5, 0.1, 0.1))
    solution = solve(wide, own.rigs["given"])
    found = uncertainty_of(solution.situation, solution.rig, SPREAD_SEED)
    with app.test_request_context():
        part = spread_part(own, solution)

    passing = [entry for entry in found.passing if entry.share > 0.0]
    assert passing
    assert [row.of_hundred for row in part.rows] == [
        -(-round(entry.share * 1e6) // 10_000) for entry in passing
    ]


def test_a_student_sees_nothing_of_it(student: Visitor, attempt: str) -> None:
    student.open(attempt)

    assert "estimates are off" not in student.html
