"""A long proof goes on step by step, shows how far it is, and ends with all that is examined."""

import re
from pathlib import Path

import pytest

from coursekit.scenario.proof import MOST_EXAMINED, prove
from coursekit.services import preparing
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.files.ford import FILE, changed
from tests.web.visitor import Visitor

FINE = (("to: 3100 kg, step: 50 kg", "to: 3100 kg, step: 2 kg"), ("step: 1 deg", "step: 0.5 deg"))


@pytest.fixture
def path(unit: Unit, cast: Cast, tmp_path: Path) -> str:
    """The proof of a scenario with more variations than a proof examines."""
    (tmp_path / FILE).write_text(changed(*FINE), encoding="utf-8")
    preparing.load_scenarios(unit, cast.instructor.actor, [tmp_path / FILE], NOW)
    card = preparing.list_scenarios(unit, cast.instructor.actor)[0]
    return f"/scenarios/{card.version_id}"


def test_each_step_examines_more_until_all_are(
    instructor: Visitor, unit: Unit, cast: Cast, path: str
) -> None:
    instructor.open(path)
    assert f'href="{path}/proof"' in instructor.html
    instructor.open(f"{path}/proof")
    steps = []
    while found := re.search(r'data-next href="([^"]+)"', instructor.html):
        steps.append(int(instructor.heading.split()[0]))
        instructor.open(found.group(1))
        assert len(steps) < 10
    proof = prove(preparing.newest_versions(unit, cast.instructor.actor)[0].scenario)

    assert steps == sorted(set(steps))
    assert steps[0] == 200
    assert proof.examined == MOST_EXAMINED
    assert instructor.heading.startswith(f"{proof.examined} of {MOST_EXAMINED} variations examined")
    assert str(proof.offered) in instructor.html


def test_a_step_is_never_larger_than_meant(instructor: Visitor, path: str) -> None:
    instructor.open(f"{path}/proof?examine=999999999")
    assert instructor.heading.startswith(f"{MOST_EXAMINED} of")

    instructor.open(f"{path}/proof?examine=many")
    assert instructor.heading.startswith("200 of")


def test_a_short_proof_is_on_the_page_of_its_scenario(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/scenarios/{cast.version_id}")

    assert "/proof" not in instructor.html
