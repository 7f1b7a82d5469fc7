"""The head's pages of the school's rules."""

from coursekit.assessment.school_policy import SchoolPolicy
from coursekit.services import policies
from coursekit.services.policies import PolicyChange
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.panel import pass_mark_of_a_panel
from tests.web.visitor import Visitor

CHANGE = "/school/rules/change"


def test_the_rules_are_told_in_sentences(instructor: Visitor) -> None:
    instructor.open("/school/rules")

    assert instructor.heading == "Competent from 70 %, another try after 24 hours"
    assert "The usual rules, before anybody changed them" in instructor.html


def test_a_changed_rule_is_a_new_version_with_its_reason(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    instructor.open(CHANGE)
    instructor.send(minimum_anchor="50", retry_wait_hours="48", reason="Anchors fail people")

    version = policies.policy_in_force(unit, cast.instructor.actor)
    assert version.policy == SchoolPolicy(strand_minimums={"anchor": 0.5}, retry_wait_hours=48)
    assert instructor.path == "/school/rules"
    assert "At least 50 % of the marks in: Anchors." in instructor.html
    assert "Anchors fail people" in instructor.html


def test_what_is_out_of_range_is_told_in_percent_and_stays_typed(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    typed = {"pass_share": "170", "minimum_kit": "0", "names_months": "x", "reason": ""}
    instructor.open(CHANGE).send(**typed)

    assert instructor.status == 422
    assert "A number from 5 to 100." in instructor.errors[0]
    assert "A number from 1 to 100, or nothing." in " ".join(instructor.errors)
    assert 'value="170"' in instructor.html
    assert policies.policy_in_force(unit, cast.instructor.actor).number == 0


def test_names_that_would_go_before_certificates_end_are_told_beside_their_control(
    instructor: Visitor,
) -> None:
    instructor.open(CHANGE).send(names_months="12", reason="x")

    assert "Names would go before certificates end" in instructor.errors[0]


def test_a_change_that_somebody_else_made_meanwhile_is_not_overwritten(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    instructor.open(CHANGE)
    change = PolicyChange(SchoolPolicy(warn_days=30), "A month is enough", seen=0)
    policies.change_policy(unit, cast.instructor.actor, change, NOW)
    instructor.send(warn_days="90", reason="Three months")

    assert "has changed since this form was opened" in " ".join(instructor.notices)
    assert 'value="90"' in instructor.html
    assert policies.policy_in_force(unit, cast.instructor.actor).policy.warn_days == 30
    instructor.send()
    assert policies.policy_in_force(unit, cast.instructor.actor).policy.warn_days == 90


def test_the_marking_guide_names_the_rule_that_decides_now(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    change = PolicyChange(SchoolPolicy(strand_minimums={"kit": 0.5, "kinetic": 0.5}), "x", seen=0)
    policies.change_policy(unit, cast.instructor.actor, change, NOW)
    instructor.open(f"/scenarios/{cast.version_id}/guide")
    assert "75 % of them are needed" in instructor.html
    assert "Gear and its limits: at least 50 %." in instructor.html
    assert "Kinetic pull: at least" not in instructor.html

    pass_mark_of_a_panel(unit, cast, NOW)
    instructor.open(f"/scenarios/{cast.version_id}/guide")
    assert "65 % of them are needed" in instructor.html
