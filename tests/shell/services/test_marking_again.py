"""Papers marked again by a corrected scenario: previewed, then kept all at once."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import func, select

from coursekit.problems import Problems
from coursekit.services import answering, marking_again, moderating, preparing, reviewing, teaching
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.marking_again import RunView, Wish
from coursekit.services.moderating import MarkChange
from coursekit.services.reviewing import Answered, Excuse
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, colleague, handed_in
from tests.shell.files.ford import FILE, changed

WHY = "The tolerance of the total was too narrow"
WIDER = ("tolerance: {below: 3 %, above: 8 %}", "tolerance: {below: 30 %, above: 30 %}")
WISH = Wish("ford-exit", None, may_fall=False)
LATER = timedelta(days=1)


@pytest.fixture
def attempt_id(unit: Unit, cast: Cast, now: datetime) -> int:
    attempt_id = handed_in(unit, cast, now)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    return attempt_id


def corrected(
    unit: Unit, cast: Cast, folder: Path, now: datetime, *changes: tuple[str, str]
) -> None:
    """Load another version of the scenario."""
    path = folder / FILE
    path.write_text(changed(*changes), encoding="utf-8")
    preparing.load_scenarios(unit, cast.instructor.actor, [path], now + LATER)


def run(unit: Unit, cast: Cast, now: datetime, wish: Wish = WISH) -> int:
    """Begin a run and look at every paper."""
    run_id = marking_again.begin_run(unit, cast.instructor.actor, wish, now)
    marking_again.go_on(unit, cast.instructor.actor, run_id)
    return run_id


def view(unit: Unit, cast: Cast, run_id: int) -> RunView:
    return marking_again.run_view(unit, cast.instructor.actor, run_id)


def confirm(unit: Unit, cast: Cast, run_id: int, now: datetime) -> int:
    actor = cast.instructor.actor
    return marking_again.confirm_run(unit, actor, run_id, "wrong-key", WHY, now)


def marks(unit: Unit, cast: Cast, attempt_id: int) -> dict[str, float]:
    result = answering.result_view(unit, cast.student.actor, attempt_id)
    return {task.task_id: task.marks for task in result.tasks}


def results(unit: Unit) -> int:
    with unit.read() as session:
        return session.scalar(select(func.count()).select_from(tables.AttemptResult)) or 0


def test_the_preview_lists_who_moves_and_writes_no_mark(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    before = marks(unit, cast, attempt_id)
    corrected(unit, cast, tmp_path, now, WIDER)
    (paper,) = view(unit, cast, run(unit, cast, now)).papers

    assert (paper.student, paper.moves[0]) == ("Ana Lim", ("total", 0.0, 3.0, 3.0))
    assert paper.marks_after > paper.marks_before
    assert marks(unit, cast, attempt_id) == before
    assert results(unit) == 1


def test_confirmed_the_new_marks_stand_beside_the_old_with_who_when_and_why(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    corrected(unit, cast, tmp_path, now, WIDER)

    assert confirm(unit, cast, run(unit, cast, now), now) == 1
    assert marks(unit, cast, attempt_id)["total"] == 3.0
    (change,) = moderating.paper_history(unit, cast.student.actor, attempt_id).changes
    assert (change.marking.kind, change.marking.version) == ("again", 2)
    assert (change.marking.by, change.marking.reason) == ("Mara Quint", WHY)
    assert [move.task for move in change.moves if move.task == "total"] == ["total"]


def test_while_a_class_is_open_nothing_is_marked_again(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    handed_in(unit, cast, now)
    corrected(unit, cast, tmp_path, now, WIDER)

    for wish in (WISH, Wish("ford-exit", cast.class_id, may_fall=True)):
        with pytest.raises(Refused, match=r"Saturday group is still open.*Close the class first"):
            marking_again.begin_run(unit, cast.instructor.actor, wish, now)


def test_only_instructors_of_the_school_mark_again(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    corrected(unit, cast, tmp_path, now, WIDER)
    run_id = run(unit, cast, now)

    for member in (cast.student, cast.storekeeper):
        with pytest.raises(RoleNeeded):
            marking_again.begin_run(unit, member.actor, WISH, now)
        with pytest.raises(RoleNeeded):
            marking_again.confirm_run(unit, member.actor, run_id, "other", WHY, now)
    with pytest.raises(NotFound):
        marking_again.begin_run(unit, cast.outsider.actor, WISH, now)
    with pytest.raises(NotFound):
        marking_again.confirm_run(unit, cast.outsider.actor, run_id, "other", WHY, now)
    assert results(unit) == 1


@pytest.mark.parametrize(("code", "reason"), [("other", ""), ("other", "  "), ("guess", "x")])
def test_without_a_reason_of_the_list_nothing_is_written(
    unit: Unit,
    cast: Cast,
    now: datetime,
    tmp_path: Path,
    *,
    attempt_id: int,
    code: str,
    reason: str,
) -> None:
    corrected(unit, cast, tmp_path, now, WIDER)
    run_id = run(unit, cast, now)

    with pytest.raises(Problems):
        marking_again.confirm_run(unit, cast.instructor.actor, run_id, code, reason, now)
    assert results(unit) == 1


def test_marks_fall_only_where_the_school_says_so(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    attempt_id = handed_in(unit, cast, now, **{**ANSWERS, "bin": ["old-strap"]})
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    corrected(unit, cast, tmp_path, now, ("of: unfit, marks: 2", "of: unfit, marks: 1"))
    before = marks(unit, cast, attempt_id)["bin"]
    assert before == 2.0

    fallen = view(unit, cast, run(unit, cast, now, Wish("ford-exit", None, may_fall=True)))

    assert ("bin", 2.0, 1.0, 1.0) in fallen.papers[0].moves


def test_by_itself_no_task_loses_marks(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    corrected(
        unit,
        cast,
        tmp_path,
        now,
        ("[brief everyone, walk the line, ", "[walk the line, brief everyone, "),
    )

    kept = view(unit, cast, run(unit, cast, now))
    fallen = view(unit, cast, run(unit, cast, now, Wish("ford-exit", None, may_fall=True)))

    assert kept.papers == ()
    assert [move[0] for move in fallen.papers[0].moves] == ["steps"]


def test_nobody_keeps_marks_for_an_answer_that_the_new_key_finds_dangerous(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    corrected(unit, cast, tmp_path, now, ("answer: go,", "answer: no-go,"))
    run_id = run(unit, cast, now)
    (paper,) = view(unit, cast, run_id).papers

    assert ("go", 1.0, 0.0, 1.0) in paper.moves
    assert paper.outcome_after == "unsafe"


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (("slope: 8 deg", "slope: 8.5 deg"), None),
        (("mass: 2900 kg", "mass: 2950 kg"), "The student worked with recovery_vehicle.mass"),
        (("surface: wet-grass", "surface: gravel"), "something else to work with"),
        (("of: resistance.total, rig: given", "of: pull, rig: given"), "asked something else"),
        (("{id: steps,", "{id: order,"), "was not asked then"),
        (("go: pull now", "go-on: pull now, go: pull"), "asked something else then"),
    ],
)
def test_a_paper_that_no_longer_fits_is_listed_with_why_and_keeps_its_marks(
    unit: Unit,
    cast: Cast,
    now: datetime,
    tmp_path: Path,
    *,
    attempt_id: int,
    change: tuple[str, str],
    why: str | None,
) -> None:
    corrected(unit, cast, tmp_path, now, change)
    run_id = run(unit, cast, now)
    papers = view(unit, cast, run_id).papers

    if why is None:  # the student had a slope of their own, whatever the file says
        assert [paper.refusal for paper in papers] == []
        return
    assert why in str(papers[0].refusal)
    assert confirm(unit, cast, run_id, now) == 0
    assert results(unit) == 1


def test_marks_that_changed_since_the_preview_are_not_written_over(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    corrected(unit, cast, tmp_path, now, WIDER)
    run_id = run(unit, cast, now)
    change = MarkChange(attempt_id, "weak", "0.5", "other", WHY, seen=1)
    moderating.change_mark(unit, cast.instructor.actor, change, now)

    with pytest.raises(Conflict, match="have changed since they were looked at"):
        confirm(unit, cast, run_id, now)


def test_a_run_is_confirmed_once_and_by_the_newest_version(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    corrected(unit, cast, tmp_path, now, WIDER)
    old = run(unit, cast, now)
    corrected(unit, cast, tmp_path, now, ("tolerance: 200 N", "tolerance: 300 N"))
    with pytest.raises(Conflict, match="newer version"):
        confirm(unit, cast, old, now)

    run_id = run(unit, cast, now)
    confirm(unit, cast, run_id, now)
    with pytest.raises(Conflict, match="confirmed already"):
        confirm(unit, cast, run_id, now)


def test_marks_set_by_hand_and_findings_that_were_excused_stay(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path
) -> None:
    attempt_id = handed_in(unit, cast, now, **{**ANSWERS, "go": "no-go"})
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    change = MarkChange(attempt_id, "weak", "0.5", "other", WHY, seen=1)
    moderating.change_mark(unit, cast.instructor.actor, change, now)
    wish = Excuse(attempt_id, 0, WHY, seen=2)
    request_id = reviewing.ask_to_excuse(unit, cast.instructor.actor, wish, now)
    yes = Answered(request_id, granted=True, reason=WHY)
    reviewing.answer_request(unit, colleague(unit, cast, "Oda Wren").actor, yes, now)
    corrected(unit, cast, tmp_path, now, WIDER)

    confirm(unit, cast, run(unit, cast, now), now)

    assert marks(unit, cast, attempt_id)["weak"] == 0.5
    assert marks(unit, cast, attempt_id)["total"] == 3.0
    assert answering.result_view(unit, cast.student.actor, attempt_id).stops == ()


def test_a_run_goes_on_step_by_step_where_it_was_left(
    unit: Unit, cast: Cast, now: datetime, tmp_path: Path, attempt_id: int
) -> None:
    corrected(unit, cast, tmp_path, now, WIDER)
    run_id = marking_again.begin_run(unit, cast.instructor.actor, WISH, now)
    assert (view(unit, cast, run_id).run.done, view(unit, cast, run_id).run.papers) == (0, 1)
    with pytest.raises(Refused, match="Not every paper has been looked at"):
        confirm(unit, cast, run_id, now)

    for _ in range(2):
        marking_again.go_on(unit, cast.instructor.actor, run_id, papers=1)

    assert view(unit, cast, run_id).run.is_marked
