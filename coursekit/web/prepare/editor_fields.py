"""What the controls of the editor say: labels, examples, choices, and how a value is typed."""

from __future__ import annotations

from collections.abc import Mapping

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString

from coursekit.files.as_typed import Shape
from coursekit.files.yaml_tree import FieldPath
from coursekit.mechanics.tables import SURFACES
from coursekit.quantities.units import Kind
from coursekit.rigging.gear import ITEM_KINDS
from coursekit.rigging.site import ANCHOR_KINDS, BOGGED, METHODS
from coursekit.rigging.vehicle import POINT_KINDS
from coursekit.scenario.model import EXPECTATIONS, LEVELS
from coursekit.web import words

Choices = tuple[tuple[str, str], ...]

LABELS: Mapping[str, LazyString] = {
    "format": _l("Format"),
    "id": _l("Id"),
    "title": _l("Title"),
    "level": _l("Level"),
    "brief": _l("Brief"),
    "method": _l("Method"),
    "expect": _l("The answer is to"),
    "name": _l("Name"),
    "mass": _l("Mass as it stands"),
    "at": _l("Where"),
    "exit": _l("Way out, bearing"),
    "travel": _l("How far it must move"),
    "grip": _l("Tyre grip"),
    "held": _l("Held by"),
    "kind": _l("Kind"),
    "wll": _l("WLL"),
    "mbs": _l("MBS"),
    "length": _l("Length"),
    "made": _l("Made on"),
    "material": _l("Material"),
    "wet": _l("Wet"),
    "condition": _l("Condition"),
    "edge": _l("Edge"),
    "efficiency": _l("Efficiency"),
    "bearing": _l("Bearing"),
    "stretch": _l("Stretch"),
    "latch": _l("Latch"),
    "diameter": _l("Diameter"),
    "sheave": _l("Sheave"),
    "girth": _l("Girth"),
    "lying": _l("Lying on its"),
    "pull": _l("Pull on layer 1"),
    "drum": _l("Drum"),
    "rope": _l("Rope"),
    "drum_width": _l("Width of the drum"),
    "wraps_per_layer": _l("Wraps a layer"),
    "dead_wraps": _l("Wraps that stay on"),
    "line": _l("Its line"),
    "surface": _l("Surface"),
    "rolling": _l("Rolling share"),
    "slope": _l("Slope"),
    "downhill": _l("Falls toward, bearing"),
    "bogged": _l("Sunk to"),
    "holds": _l("Assessed to hold"),
    "pickets": _l("Set of pickets"),
    "deadman": _l("Buried log"),
    "soil": _l("Soil"),
    "worked": _l("Worked in"),
    "tested": _l("Tested"),
    "factors": _l("Factors on MBS by kind"),
    "anchor_factor": _l("Factor of an untested anchor"),
    "sling_factors": _l("Set of sling factors"),
    "tow_allowance": _l("Allowance of a tow"),
    "kinetic_allowance": _l("Allowance of a kinetic pull"),
    "bent_synthetic": _l("Strength kept by a bent synthetic line"),
    "wet_stiffness": _l("Factor on the stiffness of wet rope"),
    "worked_stiffness": _l("Factor on the stiffness of worked rope"),
    "stop_on": _l("Major rules that stop a pull"),
    "from": _l("From"),
    "to": _l("To"),
    "step": _l("Step"),
    "role": _l("Role"),
    "with": _l("Joined with"),
    "made_of": _l("Made of"),
    "by": _l("Pulley"),
    "dampers": _l("Dampers"),
    "speed": _l("Closing speed"),
    "drive": _l("Drive force kept on"),
    "marks": _l("Marks"),
    "prompt": _l("Question, where it needs its own"),
    "after": _l("Builds on"),
    "strand": _l("Strand"),
    "of": _l("Asks for"),
    "rig": _l("In which rig"),
    "tolerance": _l("Tolerance"),
    "unit": _l("Unit"),
    "catches": _l("Mistakes to tell apart"),
    "scheme": _l("Marks by part"),
    "options": _l("Options"),
    "answer": _l("Right option"),
    "because": _l("Because"),
    "text": _l("What is to be seen"),
    "source": _l("Who publishes it"),
    "critical": _l("A wrong choice is unsafe"),
    "items": _l("In the right order"),
    "pass": _l("Pass mark"),
    "weakest_may_change": _l("The weakest link may change"),
}
EXAMPLES: Mapping[str, LazyString] = {
    "id": _l("ford-exit"),
    "at": _l("east, north: 22, -4"),
    "wraps_per_layer": _l("8"),
    "dead_wraps": _l("10"),
    "made": _l("2024-05-31"),
    "condition": _l("cut, no-label"),
    "stretch": _l("low, or strain 30 %, at 100 %"),
    "factors": _l("bow-shackle 5, winch-line 2"),
    "stop_on": _l("off-line-pull, strap-mismatch"),
    "with": _l("sling-1 basket 40 deg, bow-1"),
    "made_of": _l("winch-line, soft-1, line-2"),
    "dampers": _l("damper-1"),
    "after": _l("total, pull"),
    "of": _l("resistance.total"),
    "rig": _l("given, or own"),
    "tolerance": _l("5 %, or below 3 %, above 8 %"),
    "scheme": _l("safe 3, reaches 1, margin 1, economy 1"),
    "options": _l("one a line, go: pull now"),
    "items": _l("one a line"),
    "marks": _l("3"),
    "catches": _l("mass-for-weight"),
    "unit": _l("kN"),
}
EXAMPLES_BY_KIND: Mapping[Kind, LazyString] = {
    Kind.MASS: _l("2650 kg"),
    Kind.FORCE: _l("88 kN, or 3.25 t"),
    Kind.LENGTH: _l("28 m"),
    Kind.ANGLE: _l("90 deg"),
    Kind.RATIO: _l("0.95, or 95 %"),
    Kind.SPEED: _l("2.5 m/s"),
}
_LISTS = Shape.NAMES
SHAPES: Mapping[str, Shape] = {
    "brief": Shape.LONG,
    "prompt": Shape.LONG,
    "because": Shape.LONG,
    "at": _LISTS,
    "condition": _LISTS,
    "made_of": _LISTS,
    "dampers": _LISTS,
    "after": _LISTS,
    "catches": _LISTS,
    "stop_on": _LISTS,
    "with": Shape.PIECES,
    "items": Shape.LINES,
    "options": Shape.OPTIONS,
    "stretch": Shape.PAIRS,
    "tolerance": Shape.PAIRS,
    "factors": Shape.PAIRS,
    "scheme": Shape.PAIRS,
}
_OF_A_LINE = {
    "from": _l("Starts at"),
    "to at": _l("Ends at"),
    "to with": _l("Joined there with"),
}
_SUGGESTED = {"by": "items", "at": "places", "from": "places"}
_FLAGS = frozenset({"wet", "worked", "latch", "tested", "critical", "weakest_may_change"})
ASKS: Mapping[str, LazyString] = {
    "quantity": _l("a quantity"),
    "rig": _l("a rig"),
    "item": _l("the weakest link"),
    "items": _l("gear that must stay out of use"),
    "choice": _l("a choice"),
    "order": _l("an order"),
}


def label_of(path: FieldPath) -> str:
    """Return the label of a field, its own key where the editor has no word for it."""
    key = str(path[-1])
    if path[0] == "rigs" and (key == "from" or "to" in path):
        return str(_OF_A_LINE["from" if key == "from" else f"to {key}"])
    if path[0] == "yard" and key == "critical":
        return _("Critical")
    return str(LABELS.get(key, key.replace("_", " ")))


def example_of(path: FieldPath, kind: Kind | None) -> str:
    """Return what may stand in a field, empty where its label says it all."""
    key = str(path[-1])
    if path[0] == "rigs" and key in {"at", "from"}:
        return "stuck_vehicle.rear" if key == "at" else "recovery_vehicle.winch"
    if key in EXAMPLES:
        return str(EXAMPLES[key])
    return str(EXAMPLES_BY_KIND[kind]) if kind and kind in EXAMPLES_BY_KIND else ""


def shape_of(path: FieldPath) -> Shape:
    """Return how the value of a field is typed."""
    if path[0] == "rigs" and path[-1] == "at":
        return Shape.TEXT
    return SHAPES.get(str(path[-1]), Shape.TEXT)


def suggested_for(path: FieldPath) -> str:
    """Return which names of the draft a field can mean: the id of a list of them, or none."""
    key = str(path[-1])
    if path[0] == "rigs":
        return _SUGGESTED.get(key, "")
    if path[0] == "tasks":
        return {"of": "quantities", "rig": "rigs", "strand": "strands"}.get(key, "")
    if key == "kind":
        return "anchor-kinds" if path[0] == "anchors" else f"{path[-3]}-kinds"
    return "items" if key == "line" else ""


def choices_of(path: FieldPath) -> Choices:
    """Return the values that a field may have, none where any text may stand."""
    key = str(path[-1])
    if key in _FLAGS:
        return ("true", _("yes")), ("false", _("no"))
    if key == "method":
        return _rig_methods() if path[0] == "rigs" else _methods()
    found = _CHOICES.get(key)
    return _worded(*found) if found else ()


def kind_choices(holder: FieldPath) -> Choices:
    """Return the kinds of what stands in a part of the file: gear, anchors, points."""
    known = {"gear": ITEM_KINDS, "anchors": ANCHOR_KINDS}.get(str(holder[0]), POINT_KINDS)
    return _worded(known, words.KINDS)


def _worded(known: tuple[str, ...], said: Mapping[str, LazyString]) -> Choices:
    return tuple((value, str(said.get(value, value.replace("-", " ")))) for value in known)


def _methods() -> Choices:
    return tuple(zip(METHODS, (_("vector"), _("field rule")), strict=False))


def _rig_methods() -> Choices:
    return tuple((method, str(word)) for method, word in words.RIG_METHODS.items())


_EDGES = {"rounded": _l("rounded"), "sharp": _l("sharp")}
_EXPECTED = {"go": _l("pull, with a safe rig"), "no-go": _l("leave it: no safe rig exists")}
_HELD = {"braked": _l("its brakes"), "anchored": _l("a tie-back: it can't be dragged")}
_BEARINGS = {"rolling": _l("rolling"), "plain": _l("plain")}
_ROLES = {"pull": _l("pulls"), "hold": _l("holds the vehicle back")}
_CHOICES: Mapping[str, tuple[tuple[str, ...], Mapping[str, LazyString]]] = {
    "level": (LEVELS, words.LEVELS),
    "expect": (EXPECTATIONS, _EXPECTED),
    "surface": (tuple(SURFACES), words.SURFACES),
    "bogged": (BOGGED, words.BOGGED),
    "edge": (tuple(_EDGES), _EDGES),
    "held": (tuple(_HELD), _HELD),
    "bearing": (tuple(_BEARINGS), _BEARINGS),
    "role": (tuple(_ROLES), _ROLES),
}
