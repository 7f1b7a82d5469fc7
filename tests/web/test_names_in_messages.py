"""What the core says of gear and places stands on a page by the names that the page uses."""

from __future__ import annotations

import pytest

from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.mark.parametrize("page", ["", "/rigs/given"])
def test_no_page_of_a_scenario_names_gear_by_its_id(
    instructor: Visitor, cast: Cast, page: str
) -> None:
    instructor.open(f"/scenarios/{cast.version_id}{page}")

    for id_ in ("winch-line", "bow-1", "soft-1", "stuck_vehicle.", "recovery_vehicle."):
        assert f" {id_}" not in instructor.html
