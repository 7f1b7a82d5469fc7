"""Labels: which items, on which sheet, and the sheets place by place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.kit import ItemRow
from coursekit.wear.status import AWAY
from coursekit.web.kit.store_page import Search
from coursekit.web.kit_words import kind_word, ratings_of

# So many sheets are laid out at once.
MOST_SHEETS = 8


@dataclass(frozen=True)
class Grid:
    """A common sheet of labels: its paper, its places, and the size of each in millimetres."""

    key: str
    paper: str
    across: int
    down: int
    size: str

    @property
    def places(self) -> int:
        """How many labels are on a sheet."""
        return self.across * self.down


# Common sizes of label sheets, from memory; the css lays them out.  A sheet is
# tried on plain paper first.
GRIDS = (
    Grid("a4-24", "A4", 3, 8, "70 by 37 mm"),
    Grid("a4-14", "A4", 2, 7, "99.1 by 38.1 mm"),
    Grid("a4-65", "A4", 5, 13, "38.1 by 21.2 mm"),
    Grid("letter-30", "Letter", 3, 10, "2⅝ by 1 in"),
    Grid("letter-10", "Letter", 2, 5, "4 by 2 in"),
)


@dataclass(frozen=True)
class Asked:
    """Which labels are wanted: the items, the sheet, and how many places of it are used up."""

    search: Search
    grid: Grid
    skip: int


@dataclass(frozen=True)
class LabelText:
    """What stands on one label; None is a place that is left empty."""

    id: int
    mark: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class LabelsPage:
    """The choice of labels, and their sheets."""

    title: str
    search: Search
    grids: tuple[tuple[str, str, bool], ...]
    grid: Grid
    skip: int
    sheets: tuple[tuple[LabelText | None, ...], ...]
    left_off: int


def asked_labels(search: Search, sheet: str, skip: str) -> Asked:
    """Return what is wanted; what is not known takes the first sheet and no place used."""
    grid = next((grid for grid in GRIDS if grid.key == sheet), GRIDS[0])
    used = int(skip) if skip.isdecimal() and len(skip) <= len("99") else 0
    return Asked(search, grid, min(used, grid.places - 1))


def labels_page(rows: Sequence[ItemRow], wanted: Asked) -> LabelsPage:
    """Return the page of labels for the items that were found; what is gone needs none."""
    found = [row for row in rows if row.status not in AWAY]
    room = MOST_SHEETS * wanted.grid.places - wanted.skip
    labels = [None] * wanted.skip + [_label(row) for row in found[:room]]
    step = wanted.grid.places
    return LabelsPage(
        title=ngettext("%(num)d label to print", "%(num)d labels to print", min(len(found), room)),
        search=wanted.search,
        grids=tuple((grid.key, _told(grid), grid == wanted.grid) for grid in GRIDS),
        grid=wanted.grid,
        skip=wanted.skip,
        sheets=tuple(tuple(labels[at : at + step]) for at in range(0, len(labels), step)),
        left_off=max(0, len(found) - room),
    )


def _told(grid: Grid) -> str:
    return _(
        "%(paper)s, %(number)s labels of %(size)s",
        paper=grid.paper,
        number=grid.places,
        size=grid.size,
    )


def _label(row: ItemRow) -> LabelText:
    return LabelText(row.id, row.mark, (kind_word(row.kind), *ratings_of(row.type)))
