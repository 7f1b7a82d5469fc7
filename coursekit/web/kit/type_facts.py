"""What the register says of a type of kit, as words and texts."""

from __future__ import annotations

from collections.abc import Iterator

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.services.register import TypeRow
from coursekit.web.kit_words import kind_word, unclear_material

HITCHES = {"choker": _l("WLL in a choker hitch"), "basket": _l("WLL in a basket, legs upright")}


def type_facts(row: TypeRow) -> Iterator[tuple[str, str]]:
    """Yield what is marked on a type; what nobody stated is left out."""
    yield _("type"), f"{row.name}, {kind_word(row.kind)}"
    yield from ((rating.name.upper(), rating.marked) for rating in row.ratings)
    yield from ((str(HITCHES[rating.name]), rating.marked) for rating in row.hitches)
    for word, text in (
        (_("length"), row.length),
        (_("size"), row.size),
        (_("material"), unclear_material(row.kind, row.material) or row.material),
        (_("not to be used below"), row.coldest),
        (_("not to be used above"), row.hottest),
    ):
        if text:
            yield word, text
