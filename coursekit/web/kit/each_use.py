"""What to look at before every use, kind by kind, from the lists of thorough examinations."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.rigging.gear import is_unclear
from coursekit.services.kit import ItemRow
from coursekit.wear.lists import InspectionList, list_for
from coursekit.web.kit_words import core_text, kind_word


@dataclass(frozen=True)
class EachUse:
    """One kind: what would keep an item of it in the store, and who says so."""

    kind: str
    lines: tuple[str, ...]
    source: str


def each_use(items: Iterable[ItemRow]) -> tuple[EachUse, ...]:
    """Return the short list of each kind among some items, by the kind's word."""
    lists = {
        list_for(item.kind, item.type.material).name: each_use_of(item.kind, item.type.material)
        for item in items
    }
    return tuple(sorted(lists.values(), key=lambda one: one.kind))


def each_use_of(kind: str, material: str | None) -> EachUse:
    """Return the short list of a kind."""
    listed = list_for(kind, material)
    return _short(_word(kind, material, listed), listed)


def _short(word: str, listed: InspectionList) -> EachUse:
    sources = dict.fromkeys(core_text(each.source) for each in listed.each_use)
    return EachUse(
        word, tuple(core_text(each.text) for each in listed.each_use), "; ".join(sources)
    )


def _word(kind: str, material: str | None, listed: InspectionList) -> str:
    word = kind_word(kind)
    if listed.name == kind:
        return word
    if is_unclear(kind, material):
        return _("%(kind)s (material not known)", kind=word)
    return _("%(kind)s (%(material)s)", kind=word, material=material)
