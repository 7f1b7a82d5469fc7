"""View models of panels: which scenarios have a panel's pass mark, and what one panel expects."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.standards import FEWEST_JUDGES, PanelCut
from coursekit.services.standards import SEEN, Sheet, StandardLine
from coursekit.web import words
from coursekit.web.filters import marks
from coursekit.web.questions import question


@dataclass(frozen=True)
class ScenarioLine:
    """A scenario with the pass mark of its panel and that sheet, and the sheet that is open."""

    version_id: int
    title: str
    level: str
    pass_mark: str
    made: str
    at: datetime | None
    panel_id: int | None
    sheet_id: int | None


@dataclass(frozen=True)
class StandardsPage:
    """Every scenario, by its panel."""

    title: str
    lines: tuple[ScenarioLine, ...]


@dataclass(frozen=True)
class CutText:
    """A cut in words, with how sure it is."""

    cut: str
    spread: str
    interval: str
    agreement: str


@dataclass(frozen=True)
class TaskLine:
    """One task: what the panel expects of it, and what each judge gave."""

    name: str
    marks: str
    expected: str
    given: tuple[str, ...]


@dataclass(frozen=True)
class SheetPage:
    """A sheet: the round, who has rated, and from the second round on what they expect."""

    sheet_id: int
    version_id: int
    title: str
    scenario: str
    is_blind: bool
    is_closed: bool
    judges: str
    may_go_on: bool
    may_adopt: bool
    cut: CutText | None
    blind_cut: CutText | None
    tasks: tuple[TaskLine, ...]


def standards_page(lines: Sequence[StandardLine]) -> StandardsPage:
    """Return the page of all scenarios."""
    judged = sum(line.pass_mark is not None for line in lines)
    return StandardsPage(
        title=ngettext(
            "%(num)d of %(all)d scenarios has a panel's pass mark",
            "%(num)d of %(all)d scenarios have a panel's pass mark",
            judged,
            all=len(lines),
        ),
        lines=tuple(map(_line, lines)),
    )


def sheet_page(sheet: Sheet) -> SheetPage:
    """Return the page of a sheet."""
    is_blind = sheet.round != SEEN and not sheet.is_closed
    return SheetPage(
        sheet_id=sheet.sheet_id,
        version_id=sheet.version_id,
        title=_title(sheet),
        scenario=sheet.scenario.title,
        is_blind=is_blind,
        is_closed=sheet.is_closed,
        judges=", ".join(sheet.judges),
        may_go_on=is_blind and len(sheet.judges) >= FEWEST_JUDGES,
        may_adopt=not is_blind and not sheet.is_closed and sheet.cut is not None,
        cut=_cut_text(sheet.cut),
        blind_cut=_cut_text(sheet.blind_cut),
        tasks=() if sheet.cut is None else _tasks(sheet, sheet.cut),
    )


def _line(line: StandardLine) -> ScenarioLine:
    made = line.pass_mark
    return ScenarioLine(
        version_id=line.card.version_id,
        title=line.card.title,
        level=str(words.LEVELS[line.card.level]),
        pass_mark=_share(made.share) if made else "",
        made=_("%(head)s, panel: %(judges)s", head=made.made_by, judges=", ".join(made.judges))
        if made
        else "",
        at=made.made_at if made else None,
        panel_id=made.sheet_id if made else None,
        sheet_id=line.sheet_id,
    )


def _title(sheet: Sheet) -> str:
    if sheet.cut is None:
        return _("How likely does a just-competent student get each right?")
    return _(
        "The panel expects %(cut)s of %(all)s marks: %(share)s",
        cut=_number(sheet.cut.cut),
        all=marks(sheet.cut.out_of),
        share=_share(sheet.cut.share),
    )


def _cut_text(cut: PanelCut | None) -> CutText | None:
    if cut is None:
        return None
    return CutText(
        cut=_("%(cut)s of %(all)s marks", cut=_number(cut.cut), all=marks(cut.out_of)),
        spread=_(
            "standard deviation %(sd)s, standard error %(se)s",
            sd=_number(cut.standard_deviation),
            se=_number(cut.standard_error),
        ),
        interval=_(
            "95 %% interval %(low)s to %(high)s",
            low=_number(max(0.0, cut.interval.low)),
            high=_number(min(cut.out_of, cut.interval.high)),
        ),
        agreement=""
        if cut.agreement is None
        else _(
            "Judge by judge they agree on the tasks to %(share)s, where 1 is fully "
            "(intraclass correlation of one judge).",
            share=f"{cut.agreement:.2f}".replace("-", "\N{MINUS SIGN}"),
        ),
    )


def _tasks(sheet: Sheet, cut: PanelCut) -> tuple[TaskLine, ...]:
    return tuple(
        TaskLine(
            name=question(sheet.scenario, task),
            marks=marks(task.marks),
            expected=_number(expected),
            given=tuple(
                _(
                    "%(judge)s: %(chance)s %%",
                    judge=peer.judge,
                    chance=f"{100 * peer.chances[task.id]:.0f}",
                )
                for peer in sheet.peers
            ),
        )
        for task, expected in zip(sheet.scenario.tasks, cut.expected, strict=True)
    )


def _share(share: float) -> str:
    return _("%(percent)s %%", percent=_number(100 * share))


def _number(value: float) -> str:
    return f"{value:.3g}"
