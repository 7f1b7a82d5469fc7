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

from coursekit.mechanics.nomenclature import Metre, Newton
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import parse_quantity
from coursekit.quantities.units import Kind
from coursekit.services.checks import Checks

RATINGS = ("wll", "mbs")
# What a sling is rated for besides its WLL, which is for a straight pull, and the most that
# it can be: twice as much in a basket with upright legs, never more round a choker.
HITCH_RATINGS = {"choker": 1.0, "basket": 2.0}
# A table of a label is rounded, and its columns each by themselves.
_ROUNDED = 1.01
_DEGREES = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*(?:°|deg(?:rees?)?\.?)?\s*([CF])", re.IGNORECASE)
_ABSOLUTE_ZERO = -273.15
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


def hitches_marked(
    checks: Checks, typed: Mapping[str, str], wll: Marked | None
) -> dict[str, Marked]:
    """Return the ratings of a sling by its hitch; what is wrong stands beside its field."""
    found: dict[str, Marked] = {}
    for field, times in HITCH_RATINGS.items():
        text = checks.line(field, typed[field], needed=False)
        force = _force(checks, field, text) if text else None
        if force is None:
            continue
        if wll is not None and force > times * wll.newtons * _ROUNDED:
            most = "the WLL" if times == 1.0 else f"{times:g} times the WLL"
            checks.add(field, f"It is above {most} of {wll.text}", "Look at the label again")
        found[field] = Marked(text, force)
    return found


def length_marked(checks: Checks, field: str, typed: str) -> tuple[str, Metre] | None:
    """Return a length as typed and in metres, None where none is given or it is no length."""
    text = checks.line(field, typed, needed=False)
    if not text:
        return None
    try:
        length = parse_quantity(text, Kind.LENGTH).value
    except QuantityError as error:
        checks.add(field, error.what, error.mend)
        return None
    if length <= 0.0:
        checks.add(field, f"{text} is no length", "Measure it, or look at the label")
        return None
    return text, length


def temperatures_marked(checks: Checks, coldest: str, hottest: str) -> tuple[str, str]:
    """Return the limits of temperature as typed, checked by themselves and with each other."""
    texts = {"coldest": coldest, "hottest": hottest}
    texts = {field: checks.line(field, text, needed=False) for field, text in texts.items()}
    degrees = {field: _celsius(checks, field, text) for field, text in texts.items()}
    low, high = degrees["coldest"], degrees["hottest"]
    if low is not None and high is not None and low >= high:
        checks.add("coldest", f"It is not below {texts['hottest']}", "Look at the label again")
    return texts["coldest"], texts["hottest"]


def _celsius(checks: Checks, field: str, text: str) -> float | None:
    """Return a temperature in degrees Celsius, None where there is none."""
    if not text:
        return None
    read = _DEGREES.fullmatch(text)
    if read is None:
        checks.add(field, f"{text[:40]} is no temperature", "Write for example 82 °C or 180 °F")
        return None
    degrees = float(read[1].replace(",", "."))
    celsius = degrees if read[2].upper() == "C" else (degrees - 32.0) / 1.8
    if celsius < _ABSOLUTE_ZERO:
        checks.add(field, f"Nothing is as cold as {text}", "Look at the label again")
    return celsius


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
