"""What a draft comes to: what is to be mended, the plan, and what its rigs do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.drawing.site_plan import SitePlan
from coursekit.files.scenario_file import read_scenario_text
from coursekit.problems import Problem, Problems
from coursekit.rigging.solver import Solution
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_good
from coursekit.scenario.proof import prove
from coursekit.web.plan import plain_plan, solved, solved_plan
from coursekit.web.prepare.editor_found import Found, found_in
from coursekit.web.prepare.pages import FindingLine, findings_of, rig_heading

NAME = "draft"
# As somebody types, the numbers of the file itself count; its variations are proven later.
VARIATIONS_AS_YOU_TYPE = 1
MOST_FINDINGS = 6


@dataclass(frozen=True)
class RigLine:
    """What one named rig of the draft does."""

    name: str
    heading: str
    is_good: bool
    findings: tuple[FindingLine, ...]
    more: int


@dataclass(frozen=True)
class Result:
    """A draft as it stands: nothing to mend and its rigs solved, or what is to be mended.

    `doubts` keep nobody from saving, only from opening it in a class.
    """

    summary: str
    problems: tuple[Problem, ...]
    doubts: tuple[Problem, ...] = ()
    plan: SitePlan | None = None
    rigs: tuple[RigLine, ...] = ()
    found: Found | None = None

    @property
    def standing(self) -> str:
        """How it stands, in a few words."""
        if self.problems:
            return to_mend(len(self.problems))
        return _("not fit for a class yet") if self.doubts else _("ready to be saved")

    @property
    def tone(self) -> str:
        """The tone of the summary."""
        if self.problems:
            return "stop"
        return "care" if self.doubts else "good"


def result_of(text: str) -> Result:
    """Return what a draft's text comes to."""
    try:
        scenario = _scenario(text)
    except Problems as problems:
        return Result(to_mend(len(problems.items)), problems.items)
    doubts = prove(scenario, most=VARIATIONS_AS_YOU_TYPE).problems
    rigs = {name: solved(scenario, rig) for name, rig in scenario.rigs.items()}
    return Result(
        summary=_summary(scenario, rigs, len(doubts)),
        problems=(),
        doubts=doubts,
        plan=_plan(scenario, rigs),
        rigs=tuple(_rig_line(scenario, name, solution) for name, solution in rigs.items()),
        found=found_in(scenario),
    )


@lru_cache(maxsize=32)
def _scenario(text: str) -> Scenario:
    # A cache by content, as the same text is read for the page after it was kept.
    return read_scenario_text(text, NAME)


def to_mend(count: int) -> str:
    """Return how many things are to be mended."""
    return ngettext("%(num)d thing to mend", "%(num)d things to mend", count)


def _summary(scenario: Scenario, rigs: dict[str, Solution | None], doubts: int) -> str:
    good = sum(solution is not None and is_good(solution) for solution in rigs.values())
    told = ngettext(
        "It can be read: %(good)s of %(num)d named rig is safe and does the job.",
        "It can be read: %(good)s of %(num)d named rigs are safe and do the job.",
        len(scenario.rigs),
        good=good,
    )
    if not doubts:
        return told
    return (
        told
        + " "
        + ngettext(
            "%(num)d thing keeps it from a class.", "%(num)d things keep it from a class.", doubts
        )
    )


def _plan(scenario: Scenario, rigs: dict[str, Solution | None]) -> SitePlan:
    """Return the plan with the given rig, else the first that can be solved, else none."""
    given = rigs.get("given") or next(filter(None, rigs.values()), None)
    return solved_plan(scenario, given) if given else plain_plan(scenario)


def _rig_line(scenario: Scenario, name: str, solution: Solution | None) -> RigLine:
    found = tuple(_findings(scenario, solution))
    return RigLine(
        name=name,
        heading=rig_heading(name),
        is_good=solution is not None and is_good(solution),
        findings=found[:MOST_FINDINGS],
        more=max(0, len(found) - MOST_FINDINGS),
    )


def _findings(scenario: Scenario, solution: Solution | None) -> Iterator[FindingLine]:
    if solution is None:
        yield FindingLine("critical", _("This rig can't be solved."))
    else:
        yield from findings_of(scenario, solution)
