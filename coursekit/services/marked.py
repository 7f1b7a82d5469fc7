"""Ratings as a label marks them: each read as a force, and one marked as a maximum asked about.

Where a label says "max" it may state the most that may hang on the item (WLL), or
how much it bears before it breaks (MBS).  To take one for the other is wrong by the
whole margin between the two, so nobody but a person with the label at hand may say
which it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from coursekit.mechanics.nomenclature import Newton
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import parse_quantity
from coursekit.quantities.units import Kind
from coursekit.services.checks import Checks

RATINGS = ("wll", "mbs")
_MOST = re.compile(r"\bmax(imum)?\b\.?", re.IGNORECASE)


@dataclass(frozen=True)
class Marked:
    """One rating: the text on the label, and the force that it was read as. [N]."""

    text: str
    newtons: Newton


def is_marked_most(text: str) -> bool:
    """Whether a rating is marked as a maximum.

    >>> is_marked_most("8000 kg max."), is_marked_most("Maximum 8 t"), is_marked_most("8 t")
    (True, True, False)
    """
    return _MOST.search(text) is not None


def without_most(text: str) -> str:
    """Return the rating without the word that marks it as a maximum.

    >>> without_most("max. 8000 kg")
    '8000 kg'
    """
    return " ".join(_MOST.sub(" ", text).split())


def ratings_marked(
    checks: Checks, typed: Mapping[str, str], means: Mapping[str, str]
) -> dict[str, Marked]:
    """Return the ratings by name; what is wrong with one is noted beside its field.

    `means` says which rating a text that is marked as a maximum states.
    """
    found: dict[str, Marked] = {}
    for field in RATINGS:
        text = checks.line(field, typed[field], needed=False)
        force = _force(checks, field, text) if text else None
        if force is None:
            continue
        name = _name(checks, field, text, means.get(field, ""))
        if name in found:
            mend = "Leave one of the two empty, and look at the label again"
            checks.add(field, f"{name.upper()} is {found[name].text} already", mend)
        elif name:
            found[name] = Marked(text, force)
    if len(found) == len(RATINGS) and found["wll"].newtons > found["mbs"].newtons:
        checks.add("wll", "It is above the breaking strength", "Look at the label again")
    return found


def _force(checks: Checks, field: str, text: str) -> Newton | None:
    """Return a rating as a force; a mass is read as its weight."""
    try:
        rating = parse_quantity(without_most(text), Kind.FORCE).value
    except QuantityError as error:
        checks.add(field, error.what, error.mend)
        return None
    if rating <= 0.0:
        checks.add(field, f"{text} is no rating", "Write what the label says")
        return None
    return rating


def _name(checks: Checks, field: str, text: str, meant: str) -> str:
    """Return which rating a text states, nothing where it has to be asked."""
    if not is_marked_most(text):
        return field
    if meant in RATINGS:
        return meant
    what = (
        f"Is {without_most(text)} the least strength at break (MBS), "
        "or the most that may hang on it (WLL)?"
    )
    mend = "Look at the label, or ask whoever made it; write it as the one that it is, without max"
    checks.add(field, what, mend)
    return ""
