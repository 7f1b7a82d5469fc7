"""View model of one named rig on a page of its own: drawn, loaded, and worked out step by step."""

from __future__ import annotations

from dataclasses import dataclass, replace

from flask_babel import gettext as _

from coursekit.rigging.solver import Solution
from coursekit.services.preparing import ScenarioVersion
from coursekit.web.prepare.methods_text import ForceLine, MethodsText, force_lines, methods_text
from coursekit.web.prepare.pages import RigPart, rig_heading, rig_part
from coursekit.web.prepare.spread_part import SpreadPart, spread_part
from coursekit.web.worked import ToldPart, worked_parts


@dataclass(frozen=True)
class RigPage:
    """One named rig of a scenario, solved."""

    version_id: int
    title: str
    scenario: str
    rig: RigPart
    spread: SpreadPart
    parts: tuple[ToldPart, ...]
    forces: tuple[ForceLine, ...]
    methods: MethodsText


def rig_page(version: ScenarioVersion, name: str, solution: Solution) -> RigPage:
    """Return the page of a named rig."""
    return RigPage(
        version_id=version.version_id,
        title=_("The rig “%(name)s” worked out", name=rig_heading(name)),
        scenario=version.scenario.title,
        rig=replace(rig_part(version, 1, name), working=""),
        spread=spread_part(version.scenario, solution),
        parts=worked_parts(version.scenario, solution),
        forces=force_lines(version.scenario, solution),
        methods=methods_text(version.scenario, solution),
    )
