"""View models of the editor: the drafts, a draft as controls, as text, to throw away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from typing import Any

from flask_babel import gettext as _

from coursekit.files.outline import outline_of
from coursekit.files.quantity_names import quantity_names
from coursekit.rigging.gear import ITEM_KINDS
from coursekit.rigging.site import ANCHOR_KINDS
from coursekit.rigging.soundness import all_places
from coursekit.rigging.vehicle import POINT_KINDS
from coursekit.scenario.strands import STRANDS
from coursekit.scenario.tasks import OWN_RIG
from coursekit.services.drafting import Draft
from coursekit.web.prepare.editor_problems import placed_at
from coursekit.web.prepare.editor_result import Result
from coursekit.web.prepare.editor_sections import Section, all_controls, all_rows, sections_of

MOST_SUGGESTED = 40


@dataclass(frozen=True)
class DraftLine:
    """One draft on the list."""

    draft_id: int
    title: str
    began: str
    changed_at: datetime


@dataclass(frozen=True)
class DraftHead:
    """What stands above a draft, whichever way it is changed."""

    draft_id: int
    title: str
    name: str
    began: str
    base_id: int | None
    newest: int
    is_behind: bool


@dataclass(frozen=True)
class TextPage:
    """A draft as text."""

    head: DraftHead
    result: Result


@dataclass(frozen=True)
class EditPage:
    """A draft as controls, with what is to be mended beside them."""

    head: DraftHead
    sections: tuple[Section, ...]
    result: Result
    beside: Mapping[str, tuple[str, ...]]
    links: Mapping[str, str]
    opened: frozenset[str]
    suggestions: Mapping[str, tuple[str, ...]]


def edit_page(draft: Draft, data: Any, result: Result, opened: str = "") -> EditPage:
    """Return a draft laid out as controls; `opened` names what to show open."""
    sections = sections_of(data)
    problems = (*result.problems, *result.doubts)
    placed = placed_at(sections, problems)
    wanted = {opened or sections[0].name, *placed.beside}
    return EditPage(
        head=draft_head(draft, result),
        sections=sections,
        result=result,
        beside=placed.beside,
        links=placed.links,
        opened=frozenset(part.key for part in sections if wanted & _names_in(part)),
        suggestions=_suggestions(data),
    )


def _names_in(section: Section) -> set[str]:
    controls = {control.name for control in all_controls([section])}
    return controls | {row.name for row in all_rows([section])} | {section.name}


def _suggestions(data: Any) -> dict[str, tuple[str, ...]]:
    """Return the names that fields can mean, by the id of their list."""
    outline = outline_of(data)
    situation = outline.situation
    winches = (f"{name}.winch" for name, vehicle in situation.vehicles() if vehicle.winch)
    return {
        "items": tuple(situation.gear),
        "places": (*winches, *all_places(situation)),
        "rigs": (*outline.rigs, OWN_RIG),
        "gear-kinds": ITEM_KINDS,
        "anchor-kinds": ANCHOR_KINDS,
        "points-kinds": POINT_KINDS,
        "strands": STRANDS,
        "quantities": tuple(islice(quantity_names(situation), MOST_SUGGESTED)),
    }


def draft_lines(found: tuple[Draft, ...]) -> tuple[DraftLine, ...]:
    """Return the list of somebody's drafts."""
    return tuple(DraftLine(one.draft_id, name_of(one), began(one), one.changed_at) for one in found)


def draft_head(draft: Draft, result: Result) -> DraftHead:
    """Return the head of a draft's page: its title says how it stands."""
    return DraftHead(
        draft_id=draft.draft_id,
        title=_("%(title)s: %(standing)s", title=name_of(draft), standing=result.standing),
        name=name_of(draft),
        began=began(draft),
        base_id=draft.base_id,
        newest=draft.newest_number,
        is_behind=draft.is_behind,
    )


def name_of(draft: Draft) -> str:
    """Return what a draft is called."""
    return draft.title or _("A scenario without a title")


def began(draft: Draft) -> str:
    """Return where a draft comes from."""
    if draft.base_number:
        return _("a draft, begun from version %(n)s", n=draft.base_number)
    return _("a draft of a new scenario")
