"""What kind of layout a rig is, as the trade names it: straight, redirect, double line."""

from __future__ import annotations

from coursekit.rigging.rig import Line, Rig

STRAIGHT, REDIRECT, DOUBLE, TRIPLE = "straight", "redirect", "double", "triple"
REDIRECT_AND_DOUBLE, REDIRECT_AND_TRIPLE = "redirect and double", "redirect and triple"
OWN_WINCH, OWN_WINCH_DOUBLE = "own winch", "own winch, double"
LAYOUT_KINDS = (
    STRAIGHT,
    REDIRECT,
    DOUBLE,
    REDIRECT_AND_DOUBLE,
    TRIPLE,
    OWN_WINCH,
    OWN_WINCH_DOUBLE,
    "kinetic",
    "tow",
)
_BY_PARTS = {
    (1, False): STRAIGHT,
    (1, True): REDIRECT,
    (2, False): DOUBLE,
    (2, True): REDIRECT_AND_DOUBLE,
    (3, False): TRIPLE,
    (3, True): REDIRECT_AND_TRIPLE,
}


def layout_kind(rig: Rig) -> str:
    """Return the kind of layout of a rig's pull.

    A kinetic pull and a tow pass no pulley, so their method says it all.  A vehicle
    that pulls itself up is named for its own winch first.

    >>> from coursekit.rigging.rig import LineEnd, PulleyStation
    >>> to_truck = Line("recovery_vehicle.winch", ("line",), LineEnd("stuck_vehicle.front"))
    >>> layout_kind(Rig("winch", (to_truck,)))
    'straight'
    >>> moving = PulleyStation("stuck_vehicle.front", "block")
    >>> back = Line("recovery_vehicle.winch", ("line",), LineEnd("oak"), pulleys=(moving,))
    >>> layout_kind(Rig("winch", (back,)))
    'double'
    """
    if rig.method != "winch":
        return rig.method
    line = rig.pull_line
    parts = parts_on_stuck(line)
    if _is_stuck(line.start):
        return OWN_WINCH_DOUBLE if parts > 1 else OWN_WINCH
    kind = _BY_PARTS.get((parts, _redirects(line) > 0))
    return f"{parts} parts" if kind is None else kind


def parts_on_stuck(line: Line) -> int:
    """Return how many parts of a line bear on the stuck vehicle: two at a pulley there."""
    moving = sum(_is_stuck(pulley.at) for pulley in line.pulleys)
    return 2 * moving + _is_stuck(line.start) + _is_stuck(line.to.at)


def _redirects(line: Line) -> int:
    """Return how many fixed pulleys only turn the line: more than its parts ask for."""
    moving = sum(_is_stuck(pulley.at) for pulley in line.pulleys)
    fixed = len(line.pulleys) - moving
    return fixed - (moving if _is_stuck(line.to.at) else moving - 1)


def _is_stuck(place: str) -> bool:
    return place.startswith("stuck_vehicle.")
