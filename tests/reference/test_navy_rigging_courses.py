"""Tackle by the additive field rule, and without friction."""

import pytest

from coursekit.mechanics.line import field_rule_advantage, pull_needed
from tests.reference.sources import printed, source


@source('US Navy, Steelworker 3 & 2, "Allowance for friction"')
def test_a_thousand_pounds_on_four_sheaves_and_four_parts_need_350_pounds() -> None:
    assert pull_needed(1_000.0, field_rule_advantage(4, 4)) == printed("350")


@source("US Navy, Builder 3 & 2, blocks and tackle: single luff and gun tackle, no friction")
@pytest.mark.parametrize(("load", "parts", "pull"), [(600.0, 3, "200"), (200.0, 2, "100")])
def test_parts_without_friction_share_the_load(load: float, parts: int, pull: str) -> None:
    assert pull_needed(load, field_rule_advantage(parts, 0)) == printed(pull)


@source("Recovery in the Field, 1944, job 11, figure 35: 30 tons on a five to one layout")
def test_thirty_tons_on_five_parts_pull_six_tons_in_each() -> None:
    assert pull_needed(30.0, field_rule_advantage(5, 0)) == printed("6")
