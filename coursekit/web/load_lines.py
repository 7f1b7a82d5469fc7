"""How much of its limit each item, point and anchor of a solved rig uses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.quantities.display import show_load, show_pair
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.solver import ItemLoad, Solution
from coursekit.scenario.model import Scenario
from coursekit.web import words
from coursekit.web.labels import limits_marked
from coursekit.web.plan import names_of

FULL = 1.0


@dataclass(frozen=True)
class LoadLine:
    """One bar: `use` is a share of the limit, None where there is no limit."""

    name: str
    use: float | None
    detail: str
    word: str
    tone: str


def load_lines(scenario: Scenario, solution: Solution) -> tuple[LoadLine, ...]:
    """Return the bar of everything that carries load, the fullest first."""
    items = [item for line in solution.lines for item in line.items]
    items += [item for place in solution.places for item in place.items]
    lines = [_of_item(scenario, solution, item) for item in items]
    lines += _of_anchors(scenario, solution)
    return tuple(sorted(lines, key=lambda line: -(line.use or 0.0)))


def _of_item(scenario: Scenario, solution: Solution, item: ItemLoad) -> LoadLine:
    vehicle, _dot, point = item.item.partition(".")
    path = f"{vehicle}.points.{point}" if point else f"gear.{item.item}"
    marked = [f"{word} {text}" for word, text in limits_marked(scenario, path)]
    told = _load_of_limit(scenario, item.load, item.limit)
    name = names_of(scenario)[item.item]
    return _line(solution, item.item, name, item.use, " · ".join([told, *marked]))


def _of_anchors(scenario: Scenario, solution: Solution) -> Iterator[LoadLine]:
    for place in solution.places:
        anchor = scenario.situation.anchors.get(place.at)
        use = solution.values.get(f"place.{place.at}.use")
        if anchor is not None and place.load is not None and use:
            tested = _("tested") if anchor.tested else _("not tested")
            told = _load_of_limit(scenario, place.load, place.load / use)
            name = words.item_name(place.at)
            yield _line(solution, place.at, name, use, f"{told} · {tested}")


def _line(solution: Solution, item: str, name: str, use: float | None, detail: str) -> LoadLine:
    if use is not None and use > FULL:
        return LoadLine(name, use, detail, _("▲ over its limit"), "over")
    if solution.weakest is not None and solution.weakest.item == item:
        return LoadLine(name, use, detail, _("◆ weakest link"), "weak")
    return LoadLine(name, use, detail, "", "")


def _load_of_limit(scenario: Scenario, load: float | None, limit: float | None) -> str:
    unit = units_of(scenario)[Kind.FORCE]
    if load is None:
        return _("no load")
    if limit is None:
        return _("%(load)s, no limit known", load=show_load(load, unit))
    shown, most = show_pair(load, limit, unit)
    return _("%(load)s of %(limit)s", load=shown, limit=most)
