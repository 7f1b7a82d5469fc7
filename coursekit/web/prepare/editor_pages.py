"""View models of the editor: the drafts, a draft as text, a draft to throw away."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from flask_babel import gettext as _

from coursekit.services.drafting import Draft
from coursekit.web.prepare.editor_result import Result


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
