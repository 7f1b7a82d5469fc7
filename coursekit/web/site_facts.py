"""What the brief states in figures: vehicles, ground, anchors, and the rules of the course."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.mechanics.constants import FOOT, STANDARD_GRAVITY
from coursekit.mechanics.tables import ANCHOR_FACTOR
from coursekit.rigging.gear import KINETIC_LINES, NEEDS_WLL, PULLEYS
from coursekit.rigging.holdfast import Holdfast, Pickets
from coursekit.rigging.plan import efficiency
from coursekit.rigging.site import Anchor, Situation
from coursekit.rigging.vehicle import Vehicle, Winch
from coursekit.scenario.model import Scenario
from coursekit.web import words
from coursekit.web.labels import ratings, seen

Row = tuple[str, str]


@dataclass(frozen=True)
class Facts:
    """Some facts under one heading, word and text."""

    title: str
    rows: tuple[Row, ...]


def site_facts(scenario: Scenario) -> tuple[Facts, ...]:
    """Return what is given about vehicles, ground and anchors."""
    found = [
        Facts(vehicle.name, tuple(_vehicle(scenario, name, vehicle)))
        for name, vehicle in scenario.situation.vehicles()
    ]
    found.append(Facts(_("Ground"), tuple(_ground(scenario))))
    if scenario.situation.anchors:
        found.append(Facts(_("Anchors"), tuple(_anchors(scenario))))
    return tuple(found)


def course_rules(scenario: Scenario) -> tuple[Row, ...]:
    """Return the figures that the course counts with where the labels give none."""
    return tuple(_course_rules(scenario))


def _vehicle(scenario: Scenario, name: str, vehicle: Vehicle) -> Iterator[Row]:
    yield _("mass as it stands"), scenario.shown[f"{name}.mass"]
    exit_bearing = scenario.shown.get(f"{name}.exit")
    if exit_bearing:
        yield _("way out, bearing"), exit_bearing
    travel = scenario.shown.get(f"{name}.travel")
    if travel:
        yield _("must move"), travel
    if name == "recovery_vehicle":
        yield _("tyre grip"), _shown(scenario, f"{name}.grip", scenario.situation.grip(vehicle))
        yield _("stands"), _("anchored") if vehicle.held == "anchored" else _("on its brakes")
    for point, item in vehicle.points.items():
        told = [str(words.KINDS[item.kind])]
        told += [f"{word} {text}" for word, text in ratings(scenario, f"{name}.points.{point}")]
        yield words.item_name(point), ", ".join([*told, *seen(item)])
    if vehicle.winch:
        yield from _winch(scenario, f"{name}.winch", vehicle.winch)


def _winch(scenario: Scenario, path: str, winch: Winch) -> Iterator[Row]:
    yield _("winch pull"), _("%(pull)s on layer 1", pull=scenario.shown[f"{path}.pull"])
    yield _("its drum"), scenario.shown[f"{path}.drum"]
    yield _("its rope"), scenario.shown[f"{path}.rope"]
    if winch.drum_width is not None:
        yield _("width of the drum"), scenario.shown[f"{path}.drum_width"]
    yield _("wraps a layer"), str(winch.wraps_per_layer)
    if winch.dead_wraps is not None:
        yield _("wraps that stay on"), str(winch.dead_wraps)
    yield _("its line"), words.item_name(winch.line)


def _ground(scenario: Scenario) -> Iterator[Row]:
    ground = scenario.situation.ground
    if ground.surface:
        yield _("surface"), str(words.SURFACES[ground.surface])
    yield _("rolling share"), _shown(scenario, "ground.rolling", ground.coefficient)
    if ground.slope:
        yield _("slope"), scenario.shown["ground.slope"]
        yield _("falls toward, bearing"), scenario.shown["ground.downhill"]
    lying = scenario.situation.stuck.lying
    yield _("vehicle"), str(words.LYING[lying] if lying else words.BOGGED[ground.bogged])


def _anchors(scenario: Scenario) -> Iterator[Row]:
    for name, anchor in scenario.situation.anchors.items():
        yield words.item_name(name), ", ".join(_anchor(scenario, name, anchor))


def _anchor(scenario: Scenario, name: str, anchor: Anchor) -> Iterator[str]:
    yield str(words.KINDS[anchor.kind])
    if anchor.holdfast is None:
        yield _("assessed to hold %(holds)s", holds=scenario.shown[f"anchors.{name}.holds"])
    else:
        yield from _holdfast(scenario, f"anchors.{name}.deadman", anchor.holdfast)
    if anchor.girth is not None:
        yield _("%(girth)s round", girth=scenario.shown[f"anchors.{name}.girth"])
    if anchor.mass is not None:
        yield _("stands on its brakes, %(mass)s", mass=scenario.shown[f"anchors.{name}.mass"])
        grip = _shown(scenario, f"anchors.{name}.grip", scenario.situation.grip(anchor))
        yield _("tyre grip %(grip)s", grip=grip)
    yield _("tested") if anchor.tested else _("not tested")
    if anchor.edge == "sharp":
        yield _("its edge is sharp to the thumb")


def _holdfast(scenario: Scenario, path: str, holdfast: Holdfast) -> Iterator[str]:
    if isinstance(holdfast, Pickets):
        yield _("pickets %(rows)s in loam", rows=holdfast.rows)
        return
    yield _("log buried %(depth)s deep", depth=scenario.shown[f"{path}.depth"])
    yield _("its face %(face)s", face=scenario.shown[f"{path}.face"])
    yield _("its length %(length)s", length=scenario.shown[f"{path}.length"])
    yield _("line at %(lead)s", lead=holdfast.lead)
    yield str(words.SOILS[holdfast.soil])


def _course_rules(scenario: Scenario) -> Iterator[Row]:
    situation = scenario.situation
    yield _("standard gravity"), _gravity(situation)
    if situation.method == "field-rule":
        yield _("method"), _("field rule: slope over 60 deg, 10 % for each pulley")
    by_strength = (i.kind for i in situation.gear.values() if i.mbs and not i.wll)
    for kind in dict.fromkeys(by_strength):
        if kind not in NEEDS_WLL:
            factor = f"{situation.policy.factor(kind):g}"
            yield _("limit, %(kind)s", kind=words.KINDS[kind]), _("MBS ÷ %(n)s", n=factor)
    for name, item in situation.gear.items():
        if item.kind in PULLEYS and item.efficiency is None:
            yield _("efficiency of %(item)s", item=words.item_name(name)), f"{efficiency(item):g}"
    if situation.policy.bent_synthetic is not None:
        kept = scenario.shown["policy.bent_synthetic"]
        yield _("synthetic line over a pulley"), _("keeps %(share)s of its strength", share=kept)
    yield from _kinetic_rules(situation)
    if situation.anchors:
        untested = situation.policy.anchor_factor or ANCHOR_FACTOR["untested"]
        yield _("limit of an untested anchor"), _("assessed load ÷ %(n)s", n=f"{untested:g}")


def _kinetic_rules(situation: Situation) -> Iterator[Row]:
    policy, gear = situation.policy, situation.gear.values()
    if any(item.kind in KINETIC_LINES for item in gear):
        yield (
            _("design load, kinetic pull"),
            _("%(n)s times the peak", n=f"{policy.kinetic_allowance:g}"),
        )
    stretching = [item for item in gear if item.is_elastic]
    for word, factor, has in (
        (_("stiffness, wet nylon"), policy.wet_stiffness, any(i.is_wet_nylon for i in stretching)),
        (_("stiffness, worked rope"), policy.worked_stiffness, any(i.worked for i in stretching)),
    ):
        if has:
            yield word, _("%(n)s times as stated", n=f"{factor:g}")


def _gravity(situation: Situation) -> str:
    if situation.us_units:
        return f"{STANDARD_GRAVITY / FOOT:.3f} ft/s²"
    return f"{STANDARD_GRAVITY} m/s²"


def _shown(scenario: Scenario, field: str, fallback: float) -> str:
    return scenario.shown.get(field) or f"{fallback:g}"
