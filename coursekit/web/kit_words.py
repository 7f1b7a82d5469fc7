"""The words of the kit ledger: entries, endings of a pull, sizes of a load, origins."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l

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


def kind_word(kind: str) -> str:
    """Return the trade's word for a kind of gear."""
    return str(KINDS.get(kind, kind))
