"""Drafts belong to one person, keep whatever was written, and overwrite nothing unseen."""

from datetime import datetime, timedelta

import pytest

from coursekit.services import accounts, drafting, preparing
from coursekit.services.drafting import LARGEST, MOST, Rewrite
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.files.ford import FORD, changed

HEAVIER = changed(("mass: 2650 kg", "mass: 2700 kg  # weighed"))


@pytest.fixture
def draft_id(unit: Unit, cast: Cast, now: datetime) -> int:
    return drafting.begin_from(unit, cast.instructor.actor, cast.version_id, now)


def test_a_scenario_has_one_draft_a_person_and_it_goes_on(
    unit: Unit, cast: Cast, now: datetime, draft_id: int
) -> None:
    mara = cast.instructor.actor
    drafting.rewrite(unit, mara, Rewrite(draft_id, "half a thought", 1), now)
    again = drafting.begin_from(unit, mara, cast.version_id, now)

    assert again == draft_id
    assert drafting.draft(unit, mara, again).text == "half a thought"


def test_a_draft_outlives_its_sign_in(unit: Unit, cast: Cast, now: datetime, draft_id: int) -> None:
    mara = cast.instructor.actor
    drafting.rewrite(unit, mara, Rewrite(draft_id, HEAVIER, 1), now)
    accounts.sign_out_everywhere(unit, mara, now)

    assert [one.text for one in drafting.drafts(unit, mara)] == [HEAVIER]


def test_the_same_text_is_no_change(unit: Unit, cast: Cast, now: datetime, draft_id: int) -> None:
    mara = cast.instructor.actor
    later = now + timedelta(hours=1)

    assert drafting.rewrite(unit, mara, Rewrite(draft_id, FORD, 1), later) == 1
    assert drafting.draft(unit, mara, draft_id).changed_at == now
    assert drafting.rewrite(unit, mara, Rewrite(draft_id, HEAVIER, 1), later) == 2


def test_a_change_from_an_older_revision_is_refused(
    unit: Unit, cast: Cast, now: datetime, draft_id: int
) -> None:
    mara = cast.instructor.actor
    drafting.rewrite(unit, mara, Rewrite(draft_id, HEAVIER, 1), now)
    with pytest.raises(Conflict, match="another tab"):
        drafting.rewrite(unit, mara, Rewrite(draft_id, FORD, 1), now)
    with pytest.raises(Conflict, match="another tab"):
        drafting.save_version(unit, mara, draft_id, 1, now)

    assert drafting.draft(unit, mara, draft_id).text == HEAVIER
    assert len(preparing.newest_versions(unit, mara)) == 1


def test_saving_keeps_the_file_byte_for_byte_and_ends_the_draft(
    unit: Unit, cast: Cast, now: datetime, draft_id: int
) -> None:
    mara = cast.instructor.actor
    seen = drafting.rewrite(unit, mara, Rewrite(draft_id, HEAVIER, 1), now)
    version_id = drafting.save_version(unit, mara, draft_id, seen, now)
    saved = preparing.scenario_version(unit, mara, version_id)

    assert (saved.number, saved.source) == (2, HEAVIER)
    assert drafting.drafts(unit, mara) == ()
    assert preparing.scenario_version(unit, mara, cast.version_id).source == FORD


def test_drafts_and_their_size_are_bounded(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    for text in ("a" * (LARGEST + 1), "a\x00b"):
        with pytest.raises(Refused):
            drafting.begin_with(unit, mara, text, now)
    for _ in range(MOST):
        drafting.begin_with(unit, mara, "title: one of many", now)
    with pytest.raises(Refused, match=f"{MOST} drafts already"):
        drafting.begin_with(unit, mara, "one more", now)


def test_each_copy_has_an_id_that_is_free(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    first = drafting.begin_copy(unit, mara, cast.version_id, now)
    drafting.save_version(unit, mara, first, 1, now)
    second = drafting.draft(unit, mara, drafting.begin_copy(unit, mara, cast.version_id, now))

    assert "id: ford-exit-copy-2\n" in second.text


def test_nobody_else_finds_changes_or_saves_it(
    unit: Unit, cast: Cast, now: datetime, draft_id: int
) -> None:
    idris = cast.outsider.actor
    for act in (
        lambda: drafting.draft(unit, idris, draft_id),
        lambda: drafting.rewrite(unit, idris, Rewrite(draft_id, "x", 1), now),
        lambda: drafting.save_version(unit, idris, draft_id, 1, now),
        lambda: drafting.discard(unit, idris, draft_id),
        lambda: drafting.follow(unit, idris, draft_id),
        lambda: drafting.begin_from(unit, idris, cast.version_id, now),
        lambda: drafting.begin_copy(unit, idris, cast.version_id, now),
    ):
        with pytest.raises(NotFound):
            act()
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            drafting.drafts(unit, member.actor)
