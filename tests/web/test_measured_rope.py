"""The page of a rope: what its measured pulls say of its stiffness."""

import re
from datetime import datetime

from coursekit.services import pulls
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.snatches import STATED, recorded
from tests.web.visitor import Visitor


def facts(who: Visitor) -> dict[str, str]:
    """Return the facts of the part about stiffness."""
    part = who.html.split('id="stiff-h"')[1].split("</section>")[0]
    return dict(re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", part))


def test_a_rope_without_measured_pulls_has_no_such_part(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/kit/items/{cast.items['Rope 1']}")

    assert "solved against measured" not in instructor.html


def test_the_fitted_stiffness_stands_beside_the_stated_one(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    recorded(unit, cast, now, 1.4, 1.5, 2.0, 2.5)
    told = facts(instructor.open(f"/kit/items/{cast.items['Rope 1']}"))

    assert "3 measured pulls fit 140 % of the stated stiffness" in instructor.html
    # 125 kN over 30 % of 9 m, and 1.4 times that; a load rises with both, so they round up.
    assert told["as stated"] == "46.3 kN/m"
    assert 0 <= float(told["as it fits"].split()[0]) - 1.4 * STATED / 1000 < 0.2


def test_a_rope_that_is_stiffer_than_reckoned_is_told_apart(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    recorded(unit, cast, now, 1.4, 1.5, 2.0, 2.5)
    instructor.open(f"/kit/items/{cast.items['Rope 1']}")

    assert any("stiffer than it is reckoned" in notice for notice in instructor.notices)


def test_a_soft_rope_is_no_alarm_and_few_pulls_are_said_to_be_few(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    recorded(unit, cast, now, 0.9, 2.0)
    instructor.open(f"/kit/items/{cast.items['Rope 1']}")

    assert instructor.notices == []
    assert "So few pulls may fit by chance" in instructor.html
    assert "never a proof that a rope is sound" in instructor.html


def test_an_instructor_is_led_to_each_pull_and_a_storekeeper_reads_its_day(
    instructor: Visitor, storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    recorded(unit, cast, now, 1.4, 2.0)
    (pull,) = pulls.pulls_of_class(unit, cast.instructor.actor, cast.class_id)
    link = f'href="/classes/{cast.class_id}/pulls/{pull.pull_id}"'
    page = f"/kit/items/{cast.items['Rope 1']}"

    assert link in instructor.open(page).html
    assert link not in storekeeper.open(page).html
    assert "measured" in storekeeper.html
