"""The trade's words for what files name by keys: kinds, places, surfaces, conditions."""

from __future__ import annotations

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.rigging.gear import Item
from coursekit.rigging.site import Situation

WITHOUT_EYES = frozenset({"roundsling", "soft-shackle"})

KINDS = {
    "winch-line": _l("winch line"),
    "extension-line": _l("extension line"),
    "kinetic-rope": _l("kinetic rope"),
    "kinetic-strap": _l("kinetic strap"),
    "roundsling": _l("round sling"),
    "tree-strap": _l("tree strap"),
    "tow-strap": _l("tow strap"),
    "chain": _l("chain"),
    "bow-shackle": _l("bow shackle"),
    "soft-shackle": _l("soft shackle"),
    "hook": _l("hook"),
    "pulley-block": _l("pulley block"),
    "pulley-ring": _l("pulley ring"),
    "receiver-mount": _l("receiver mount"),
    "bridle": _l("bridle"),
    "ground-anchor": _l("ground anchor"),
    "line-damper": _l("line damper"),
    "winch": _l("winch"),
    "fairlead": _l("fairlead"),
    "pin": _l("pin"),
    "recovery-point": _l("recovery point"),
    "towing-eye": _l("towing eye"),
    "tie-down-point": _l("tie-down point"),
    "tow-ball": _l("tow ball"),
    "tree": _l("tree"),
    "rock": _l("rock"),
    "vehicle": _l("parked vehicle"),
    "structure": _l("structure"),
}
# What an eye sees, never the verdict that a task asks for.
CONDITIONS = {
    "cut": _l("a nick as long as a thumb is wide, near one eye"),
    "worn": _l("fluffy along a hand's breadth; the strands lie flat there"),
    "melted": _l("a hard, glossy patch as long as a thumb"),
    "bent": _l("laid on a flat bench, it rocks"),
    "no-label": _l("a torn stub of thread where a label was sewn"),
    "knotted": _l("a knot half-way along, pulled too tight to open"),
    "chemical": _l("pale stains that smell of battery acid"),
    "uv": _l("bleached to straw; a fingernail brings powder off"),
    "overloaded": _l("tag tied to it: was on the line when the winch stalled hard last week"),
    "retired": _l("red tag: taken out of service"),
}
# Where the general sentence would not fit the thing.
CONDITIONS_OF_STEEL = {
    "cut": _l("a saw-like groove across it"),
    "worn": _l("a waist where its mate sits; a coin drops into it"),
    "melted": _l("blue and brown rings of heat around it"),
    "no-label": _l("no marking left to read under the rust"),
    "uv": _l("rust that comes off in flakes"),
    "knotted": _l("links twisted into one another"),
}
CONDITIONS_WITHOUT_EYES = {"cut": _l("a nick as long as a thumb is wide, through its cover")}
SURFACES = {
    "asphalt": _l("asphalt"),
    "gravel": _l("gravel"),
    "firm-earth": _l("firm earth"),
    "medium-earth": _l("medium earth"),
    "wet-grass": _l("wet grass"),
    "hard-wet-sand": _l("hard wet sand"),
    "soft-wet-sand": _l("soft wet sand"),
    "loose-sand": _l("loose sand"),
    "shallow-mud": _l("shallow mud"),
    "deep-mud": _l("deep mud"),
    "snow": _l("snow"),
}
SOILS = {
    "loam": _l("in loam"),
    "wet-sand": _l("in wet sand or fine soil"),
}
BOGGED = {
    "none": _l("standing free"),
    "hubs": _l("sunk to the hubs"),
    "sills": _l("sunk to the sills"),
    "bonnet": _l("sunk to the bonnet"),
}
LYING = {"side": _l("lying on its side")}
RIG_METHODS = {
    "winch": _l("Winch pull"),
    "kinetic": _l("Kinetic pull"),
    "tow": _l("Steady tow"),
}
HITCHES = {
    "straight": _l("straight"),
    "choker": _l("choker"),
    "basket": _l("basket"),
}
ROLES = {
    "instructor": _l("instructor"),
    "storekeeper": _l("storekeeper"),
    "head": _l("head"),
    "student": _l("student"),
}
STRANDS = {
    "resistance": _l("Weight and resistance"),
    "line": _l("Line and pull"),
    "anchor": _l("Anchors"),
    "kinetic": _l("Kinetic pull"),
    "kit": _l("Gear and its limits"),
    "rig": _l("Building a rig"),
    "decision": _l("Decisions and their order"),
}
LEVELS = {
    "foundation": _l("Foundation"),
    "intermediate": _l("Intermediate"),
    "advanced": _l("Advanced"),
}


def item_name(item_id: str) -> str:
    """Return an item's id as a name.

    >>> item_name("bow-1")
    'Bow 1'
    """
    words = item_id.replace("-", " ").replace("_", " ")
    return words[:1].upper() + words[1:]


def condition_seen(item: Item, condition: str) -> str:
    """Return what an eye sees of a condition on this kind of thing."""
    special = CONDITIONS_OF_STEEL if item.is_metal or item.is_surely_wire else {}
    if item.kind in WITHOUT_EYES:
        special = CONDITIONS_WITHOUT_EYES
    return str(special.get(condition, CONDITIONS[condition]))


def place_phrase(situation: Situation, place: str) -> str:
    """Return a place as a sentence speaks of it."""
    return _("the %(place)s", place=place_name(situation, place))


def place_name(situation: Situation, place: str) -> str:
    """Return a place in the words of the brief: an anchor, or a vehicle and its point."""
    vehicle = situation.vehicle_at(place)
    if vehicle is None:
        return place.replace("-", " ")
    point = place.partition(".")[2].replace("-", " ").replace("_", " ")
    return _("%(vehicle)s, %(point)s", vehicle=vehicle.name, point=point)
