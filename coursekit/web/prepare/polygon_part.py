"""The force polygon of a place, with its words in the units of the scenario."""

from __future__ import annotations

from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.drawing.force_polygon import ForcePolygon, force_polygon
from coursekit.quantities.display import show_given
from coursekit.quantities.units import Kind, si_factor, unit_of
from coursekit.rigging.polygons import PlaceForces
from coursekit.rigging.working import Reader, amount_of


@dataclass(frozen=True)
class PolygonPart:
    """A force polygon as a page shows it."""

    title: str
    description: str
    drawn: ForcePolygon
    north: str
    scale: str


def polygon_part(
    place: PlaceForces, reader: Reader, unit: str, said: tuple[str, ...]
) -> PolygonPart | None:
    """Return the polygon of a place in a unit of force; `said` tells each of its parts."""

    def force(value: float) -> str:
        return reader.amount(amount_of(value, "N", "up"))

    load = force(place.load)
    drawn = force_polygon(
        [part.force for part in place.parts],
        [
            *((f"{i}: {force(part.tension)}",) for i, part in enumerate(place.parts, start=1)),
            (_("resultant"), load),
        ],
        float(si_factor(unit_of(unit), Kind.FORCE)),
    )
    if drawn is None:
        return None
    return PolygonPart(
        _("Force polygon: %(place)s", place=reader.names.get(place.at, place.at)),
        _described(place, reader, said, load),
        drawn,
        _("N"),
        show_given(drawn.bar_force, Kind.FORCE, unit),
    )


def _described(place: PlaceForces, reader: Reader, said: tuple[str, ...], load: str) -> str:
    return _(
        "Head to tail, north up. %(parts)s. Resultant: %(load)s, bearing %(bearing)s.",
        parts="; ".join(f"{i}: {text}" for i, text in enumerate(said, start=1)),
        load=load,
        bearing=reader.amount(amount_of(place.bearing, "rad", "nearest")),
    )
