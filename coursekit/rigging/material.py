"""What the words for a material say, and what an item of a kind may so be made of.

The one rule for scenario files and for the school's register, whose words are free.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache


class Stuff(StrEnum):
    """What decides a rule: how it parts, what cuts it, what water does to it."""

    WIRE = "wire"
    CHAIN = "chain"
    METAL = "metal"
    NYLON = "nylon"
    FIBRE = "fibre that is no nylon"
    SYNTHETIC = "fibre of a kind that is not said"


UNKNOWN = "unknown"
"""The word for a material that nobody knows: of each rule the safe side holds."""

FIBRES = frozenset({Stuff.NYLON, Stuff.FIBRE})
# Parts of a word, so that polyamide, wirerope and galvanised are found; the first that
# is there decides: a coated wire is wire, a line with a steel thimble is of its fibre.
_PARTS: tuple[tuple[Stuff, tuple[str, ...]], ...] = (
    (Stuff.WIRE, ("wire",)),
    (Stuff.CHAIN, ("chain",)),
    (Stuff.NYLON, ("nylon", "polyamid")),
    (
        Stuff.FIBRE,
        ("polyester", "polyethylen", "polypropylen", "aramid", "hmpe", "canvas", "cotton"),
    ),
    (Stuff.SYNTHETIC, ("synthetic", "fibre", "fiber", "textile", "webbing")),
    (Stuff.METAL, ("steel", "metal", "alloy", "alumin", "galvani")),
)
# What is only meant where it stands alone.
_ALONE: Mapping[str, Stuff] = {
    **dict.fromkeys(("pa", "pa6", "pa66"), Stuff.NYLON),
    **dict.fromkeys(("pe", "pes", "pet", "pp", "uhmwpe"), Stuff.FIBRE),
    "iron": Stuff.METAL,
}
_WORD = re.compile(r"\w+")


@lru_cache(maxsize=1024)
def said_of(material: str | None) -> Stuff | None:
    """Return what the words for a material say, None where they say nothing that is known.

    Safe side: a mixture that names nylon is nylon.  Source: the trade's words; that a
    metal line is wire and one of several words decides is our choice.

    >>> said_of("Steel wire, galvanised"), said_of("Polyamide, double braid"), said_of("blue")
    (<Stuff.WIRE: 'wire'>, <Stuff.NYLON: 'nylon'>, None)
    """
    words = _WORD.findall((material or "").casefold())
    alone = {_ALONE[word] for word in words if word in _ALONE}
    for stuff, parts in _PARTS:
        if stuff in alone or any(part in word for word in words for part in parts):
            return stuff
    return None


@lru_cache(maxsize=4096)
def made_of(
    material: str | None,
    *,
    usual: frozenset[Stuff],
    possible: frozenset[Stuff],
) -> frozenset[Stuff]:
    """Return everything that an item may be made of, by the words for its material.

    Parameters
    ----------
    material : str or None
        The words; `unknown` says that nobody knows.
    usual, possible : frozenset of Stuff
        What such an item is made of where the words say nothing, and what it can be made of.

    Returns
    -------
    frozenset of Stuff
        More than one where the words leave it open: then each rule takes its safe side.

    Examples
    --------
    >>> line = frozenset({Stuff.WIRE, Stuff.NYLON, Stuff.FIBRE})
    >>> made_of("steel cable", usual=frozenset({Stuff.FIBRE}), possible=line)
    frozenset({<Stuff.WIRE: 'wire'>})
    >>> made_of("unknown", usual=frozenset({Stuff.FIBRE}), possible=line) == line
    True
    """
    said = said_of(material)
    if said is None:
        return possible if (material or "").strip().casefold() == UNKNOWN else usual
    if said is Stuff.SYNTHETIC:
        return frozenset({Stuff.FIBRE}) | (usual & {Stuff.NYLON})
    if said is Stuff.METAL:
        return possible - FIBRES or frozenset({said})
    return frozenset({said})
