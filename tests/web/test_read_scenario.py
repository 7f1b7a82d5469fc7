"""The scenarios as their instructor reads them: proof, worked rigs, and sheets to print."""

import re
from math import cos, radians, sin

import pytest

from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.fixture
def scenario(cast: Cast) -> str:
    return f"/scenarios/{cast.version_id}"


def test_every_scenario_has_a_card_with_its_plan(instructor: Visitor, scenario: str) -> None:
    instructor.open("/scenarios")

    assert instructor.heading == "1 scenario to choose from"
    assert f'href="{scenario}"' in instructor.html
    assert 'class="plan-svg"' in instructor.html
    assert "Winch pull · 7 tasks" in instructor.html


def test_the_title_says_whether_it_is_proven(instructor: Visitor, scenario: str) -> None:
    instructor.open(scenario)

    assert instructor.heading.startswith("Bogged at the ford exit: ")
    assert re.search(r"Of 2 named rigs", instructor.html)
    # 19 masses times 7 slopes (2200 to 3100 kg by 50, 4 to 10 degrees by 1).
    assert "133 of 133 variations were examined" in instructor.html


def test_each_named_rig_is_worked_out(instructor: Visitor, scenario: str) -> None:
    instructor.open(scenario)

    assert "The rig “given”" in instructor.html
    assert "The rig “turned”" in instructor.html
    assert "It ends at loaded utility 4x4, rear with Bow 1." in instructor.html
    assert f'href="{scenario}/rigs/given"' in instructor.html


def test_the_worked_solution_reaches_the_total_that_is_reckoned_by_hand(
    instructor: Visitor, scenario: str
) -> None:
    instructor.open(f"{scenario}/rigs/given")
    shown = re.search(r"<b>total resistance: ([\d.]+) kN</b>", instructor.html)
    # Statics by hand, from the brief's own numbers: 2650 kg, 8 degrees, rolling share 0.14.
    by_hand = 2650 * 9.80665 * (sin(radians(8)) + 0.14 * cos(radians(8))) / 1000

    assert shown is not None
    assert 0.0 <= float(shown[1]) - by_hand < 0.01
    assert 'class="source"' in instructor.html


def test_the_sheet_has_what_a_student_needs_and_no_answer(
    instructor: Visitor, scenario: str
) -> None:
    instructor.open(f"{scenario}/sheet")

    assert "What is the total resistance?" in instructor.html
    assert "2650 kg" in instructor.html
    assert "old strap" in instructor.html.casefold()
    # A rig is to be built, so the file's own rig would be an answer too.
    for given_away in ("7.22 kN", "weakest link", "cosine", "no-label", "The given rig"):
        assert given_away not in instructor.html


def test_the_guide_has_the_answers_their_band_and_the_usual_mistakes(
    instructor: Visitor, scenario: str
) -> None:
    instructor.open(f"{scenario}/guide")

    # 3 % below and 8 % above 7.2196 kN: 7.003 to 7.797 kN.
    assert "7.22 kN" in instructor.html
    assert "accepted from 7.00 kN to 7.80 kN" in instructor.html
    assert "cosine taken for sine" in instructor.html
    assert "18 marks in all; 75 % of them are needed" in instructor.html


def test_the_guide_ends_with_the_worked_solution_on_sheets_of_its_own(
    instructor: Visitor, scenario: str
) -> None:
    instructor.open(f"{scenario}/guide")
    guide, _, solution = instructor.html.partition('class="sheet solution"')

    assert '<ol class="working">' not in guide
    assert "Worked solution: given" in solution
    assert "<b>total resistance: 7.22 kN</b>" in solution


def test_a_mistake_that_would_be_accepted_as_right_is_not_listed_as_one(
    instructor: Visitor, scenario: str
) -> None:
    instructor.open(f"{scenario}/guide")
    total = instructor.html.partition('id="task-1"')[2].partition("</section>")[0]

    # tan 8 = 0.1405 for sin 8 = 0.1392 makes half a per cent of the total.
    assert "tangent taken for sine" not in total


@pytest.mark.parametrize("path", ["rigs/none", "rigs/given/force-time.svg"])
def test_what_a_scenario_does_not_have_is_not_found(
    instructor: Visitor, scenario: str, path: str
) -> None:
    assert instructor.open(f"{scenario}/{path}").status == 404


def test_both_methods_stand_side_by_side_with_the_reason(
    instructor: Visitor, scenario: str
) -> None:
    instructor.open(f"{scenario}/rigs/given")

    # sin 8 = 0.1392, 8 / 60 = 0.1333: 4.2 % lower.
    assert ">-4.2 %<" in instructor.html
    assert "The field rule reads lower: here it is not on the safe side." in instructor.html
    assert "takes a sixtieth of the degrees, 0.133" in instructor.html


def test_each_place_tells_the_line_parts_that_load_it(instructor: Visitor, scenario: str) -> None:
    # The winch stands straight east of the stuck vehicle.
    instructor.open(f"{scenario}/rigs/given")
    forces = instructor.html.partition('id="forces-h"')[2].partition("</section>")[0]

    assert "7.22 kN toward wagon with winch, winch, bearing 90.0°" in forces


def test_the_forces_at_each_place_are_drawn_and_told(instructor: Visitor, scenario: str) -> None:
    instructor.open(f"{scenario}/rigs/turned")
    forces = instructor.html.partition('id="forces-h"')[2].partition("</section>")[0]
    places = forces.count("<li><b>")
    titles = re.findall(r'<title id="polygon-\d+-t">Force polygon: ([^<]+)<', forces)
    told = re.findall(r'<desc id="polygon-\d+-d">Head to tail, north up\. (.+?)</desc>', forces)

    assert len(titles) == len(told) == places > 1
    assert all(re.search(r"1: [\d.]+ kN toward .+ Resultant: [\d.]+ kN", text) for text in told)
    assert any("; 2: " in text for text in told)
