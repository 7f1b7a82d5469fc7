"""The words of the kit ledger: entries, pulls and loads, and what an examination saw."""

from __future__ import annotations

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel import ngettext

from coursekit.problems import Message
from coursekit.rigging.gear import KINETIC_LINES, is_unclear
from coursekit.services.exposing import Exposed
from coursekit.services.register import TypeRow
from coursekit.wear.inspection import Occasion, Seen
from coursekit.wear.ledger import Ending, Kind, Origin, Size
from coursekit.web.words import KINDS

ENTRIES = {
    Kind.RECEIVED: _l("received"),
    Kind.ISSUED: _l("issued"),
    Kind.RETURNED: _l("returned"),
    Kind.PULL: _l("pull"),
    Kind.EXPOSURE: _l("exposure"),
    Kind.INSPECTED: _l("inspected"),
    Kind.REPAIRED: _l("repaired"),
    Kind.QUARANTINED: _l("into quarantine"),
    Kind.RELEASED: _l("released"),
    Kind.RETIRED: _l("retired"),
    Kind.LOST: _l("lost"),
    Kind.CORRECTION: _l("correction"),
}
EXPOSURES = {
    Exposed.WET: _l("water"),
    Exposed.MUD: _l("mud"),
    Exposed.SUN: _l("the sun"),
    Exposed.HEAT: _l("heat"),
    Exposed.CHEMICAL: _l("acid, lye or another chemical"),
}
ENDINGS = {
    Ending.CAME_FREE: _l("came free"),
    Ending.STUCK: _l("stayed stuck"),
    Ending.STALLED: _l("winch stalled"),
    Ending.JERKED: _l("jerked"),
    Ending.PARTED: _l("a line parted"),
}
SIZES = {
    Size.LIGHT: _l("light pull"),
    Size.HEAVY: _l("heavy pull"),
    Size.OVERLOAD: _l("overload"),
    Size.UNKNOWN: _l("load not known"),
}
ORIGINS = {
    Origin.SOLVED: _l("solved"),
    Origin.MEASURED: _l("measured"),
    Origin.DECLARED: _l("declared"),
}
SEEN = {
    Seen.FINE: _l("fine"),
    Seen.FOUND: _l("found"),
    Seen.UNSEEN: _l("not looked at"),
}
OCCASIONS = {
    Occasion.FIRST: _l("before its first use"),
    Occasion.PERIODIC: _l("as due by the calendar"),
    Occasion.AFTER: _l("after something out of the ordinary"),
}
MEASURED = {
    "as-new": _l("as new"),
    "now": _l("now"),
    "number": _l("how many"),
    "of": _l("of how many"),
}


def core_text(text: str) -> str:
    """Return a text of a list of the core in the page's language."""
    return Message(text).text(_)


def kind_word(kind: str) -> str:
    """Return the trade's word for a kind of gear."""
    return str(KINDS.get(kind, kind))


def ratings_of(row: TypeRow) -> tuple[str, ...]:
    """Return the ratings of a type as they are marked, each with its name."""
    return tuple(f"{rating.name.upper()} {rating.marked}" for rating in row.ratings)


def unclear_material(kind: str, material: str | None) -> str:
    """Return what holds where nobody has said what an item is made of, nothing where it is said."""
    if not is_unclear(kind, material):
        return ""
    said = _("“%(words)s” is not known", words=material) if material else _("not stated")
    if kind in KINETIC_LINES:
        return _("%(said)s: taken for nylon, which water weakens", said=said)
    if material:
        return _("%(said)s: the stricter rules of fibre and of metal both hold", said=said)
    return _(
        "%(said)s: examined as fibre and as metal; a rig takes it as its scenario says, "
        "and above its limit it retires like fibre",
        said=said,
    )


def planned_text(pulls: int, made: int) -> str:
    """Return how often a rig is to be pulled, and was by now."""
    planned = ngettext("%(num)d pull planned", "%(num)d pulls planned", pulls)
    return _("%(planned)s, %(made)s made", planned=planned, made=made)
