"""A file passed its reading and then could not be solved, with no line to look at."""

from __future__ import annotations

import pytest

from tests.shell.files.ford import FORD, changed, line_of, problem_at, problems_of


@pytest.mark.parametrize("name", ["stuck_vehicle", "recovery_vehicle"])
@pytest.mark.parametrize(("part", "thing"), [("anchors", "oak"), ("gear", "soft-1")])
def test_a_vehicle_lends_its_name_to_nothing_else(part: str, thing: str, name: str) -> None:
    """A line to an anchor of that name would have gone to the vehicle."""
    text = changed((f"  {thing}:", f"  {name}:"))

    assert f"{name} stands for a vehicle" in problem_at(f"{part}.{name}", text)


def test_a_slope_beyond_the_field_rule_is_found_where_it_stands() -> None:
    text = changed(("slope: 8 deg", "slope: 46 deg"))
    assert problems_of(text) == ()

    steep = text.replace("method: vector", "method: field-rule", 1)
    assert "The field rule reads slopes up to 45 deg" in problem_at("ground.slope", steep)
    assert f":{line_of('slope: 8 deg', FORD)}: " in problem_at("ground.slope", steep)
