"""View models of the register: which type an item is of, which rule a type lives by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.rigging.gear import HITCHED, LINES, MATERIALS, STEELS, is_unclear
from coursekit.services.register import TypeRow
from coursekit.wear.lists import REGISTER_KINDS
from coursekit.wear.policy import default_policy
from coursekit.web.kit.policy_text import PolicyText, policy_text
from coursekit.web.kit_words import kind_word, unclear_material


@dataclass(frozen=True)
class NewItemPage:
    """The types that an item may be of."""

    choices: tuple[tuple[int, str], ...]


@dataclass(frozen=True)
class KindsPage:
    """Every kind of gear, by its word."""

    kinds: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class TypeFormPage:
    """The kind of a type, its usual rule, and the words for what it may be made of.

    Some kinds are hitched round things, and some have a length.
    """

    kind: str
    word: str
    usual: PolicyText
    materials: tuple[str, ...]
    material: str
    is_hitched: bool
    has_length: bool
    is_new: bool


def new_item_page(types: Sequence[TypeRow]) -> NewItemPage:
    """Return the page that registers an item."""
    return NewItemPage(tuple((row.id, f"{row.name} ({kind_word(row.kind)})") for row in types))


def kinds_page() -> KindsPage:
    """Return the page that asks for a kind."""
    return KindsPage(tuple(sorted(((k, kind_word(k)) for k in REGISTER_KINDS), key=lambda k: k[1])))


def type_form_page(kind: str, *, is_new: bool) -> TypeFormPage:
    """Return the page that registers a type of a kind, or changes one."""
    return TypeFormPage(
        kind=kind,
        word=kind_word(kind),
        usual=policy_text(default_policy(kind)),
        materials=MATERIALS.get(kind, STEELS),
        material=_material_hint(kind),
        is_hitched=kind in HITCHED,
        has_length=kind in LINES | HITCHED,
        is_new=is_new,
    )


def _material_hint(kind: str) -> str:
    if not is_unclear(kind, None):
        return ""
    words = ", ".join(MATERIALS[kind])
    unsaid = unclear_material(kind, None)
    return _("Say what it is: %(words)s. Left empty: %(unsaid)s.", words=words, unsaid=unsaid)
