"""The recall of a batch: which items it has, and where each stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.kit import ItemRow
from coursekit.wear.status import AWAY
from coursekit.web.kit.pages import ItemLine, item_line


@dataclass(frozen=True)
class RecallPage:
    """Every item of a batch, those that are gone too."""

    batch: str
    title: str
    lines: tuple[ItemLine, ...]
    any_here: bool


def recall_page(batch: str, rows: Sequence[ItemRow]) -> RecallPage:
    """Return the page of a batch."""
    here = sum(row.status not in AWAY for row in rows)
    return RecallPage(
        batch=batch,
        title=ngettext(
            "Take %(num)d item of batch %(batch)s out of use?",
            "Take all %(num)d items of batch %(batch)s out of use?",
            here,
            batch=batch,
        )
        if here
        else _("Nothing of batch %(batch)s is left", batch=batch),
        lines=tuple(map(item_line, rows)),
        any_here=bool(here),
    )
