"""What a set of scenarios puts before students, and what it leaves out.

A subject is a list that the format closes, such as the hitches; an entry is met
where a named rig uses it, a site shows it, or a task asks for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from coursekit.mechanics.tables import SURFACES
from coursekit.rigging.gear import CONDITIONS, HITCHED, HITCHES, ITEM_KINDS
from coursekit.rigging.layout_kind import LAYOUT_KINDS, layout_kind
from coursekit.rigging.rig import RIG_METHODS, Line, Piece
from coursekit.rigging.rules.finding import RULES
from coursekit.rigging.site import ANCHOR_KINDS, BOGGED, METHODS
from coursekit.rigging.solver import solve
from coursekit.rigging.vehicle import POINT_KINDS
from coursekit.scenario.model import EXPECTATIONS, LEVELS, Scenario
from coursekit.scenario.tasks import (
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)

ASK_KINDS = {
    QuantityTask: "quantity",
    RigTask: "rig",
    ItemTask: "item",
    ItemsTask: "items",
    ChoiceTask: "choice",
    OrderTask: "order",
}


@dataclass(frozen=True)
class Subject:
    """One list to be covered: each entry with the scenarios that it occurs in."""

    name: str
    places: Mapping[str, tuple[str, ...]]

    @property
    def missing(self) -> tuple[str, ...]:
        """The entries that no scenario has."""
        return tuple(entry for entry, places in self.places.items() if not places)


@dataclass(frozen=True)
class Coverage:
    """Every subject of a set of scenarios."""

    scenarios: int
    subjects: tuple[Subject, ...]

    @property
    def is_full(self) -> bool:
        """Whether each entry of each subject occurs somewhere."""
        return not any(subject.missing for subject in self.subjects)


Entries = Callable[[Scenario], Iterable[str]]


def coverage_of(scenarios: Sequence[Scenario], quantities: Iterable[str]) -> Coverage:
    """Return what scenarios cover; `quantities` names what a task can ask for.

    Of a place or an item what is asked counts, not its name: `item.limit`.

    Raises
    ------
    Problems
        If a named rig can't be solved.
    """
    subjects = [*_closed_lists(), ("quantities asked", quantities, _asked)]
    return Coverage(
        len(scenarios),
        tuple(_subject(name, known, entries, scenarios) for name, known, entries in subjects),
    )


def _closed_lists() -> list[tuple[str, Iterable[str], Entries]]:
    return [
        ("item kinds in a rig", ITEM_KINDS, _item_kinds),
        ("vehicle points in a rig", POINT_KINDS, _point_kinds),
        ("anchors in a rig", ANCHOR_KINDS, _anchor_kinds),
        ("hitches", HITCHES, _hitches),
        ("conditions of gear", CONDITIONS, _conditions),
        ("surfaces", SURFACES, lambda s: filter(None, [s.situation.ground.surface])),
        ("bogging", BOGGED, lambda s: [s.situation.ground.bogged]),
        ("rig methods", RIG_METHODS, lambda s: (rig.method for rig in s.rigs.values())),
        ("layouts", LAYOUT_KINDS, lambda s: map(layout_kind, s.rigs.values())),
        ("finding rules", RULES, _rules),
        ("levels", LEVELS, lambda s: [s.level]),
        ("methods", METHODS, lambda s: [s.situation.method]),
        ("expectations", EXPECTATIONS, lambda s: [s.expect]),
        ("ways to ask", ASK_KINDS.values(), lambda s: (ASK_KINDS[type(t)] for t in s.tasks)),
    ]


def _subject(
    name: str, known: Iterable[str], entries: Entries, scenarios: Sequence[Scenario]
) -> Subject:
    places: dict[str, list[str]] = {entry: [] for entry in known}
    for scenario in scenarios:
        for entry in dict.fromkeys(entries(scenario)):
            if entry in places:
                places[entry].append(scenario.id)
    return Subject(name, {entry: tuple(found) for entry, found in places.items()})


def _item_kinds(scenario: Scenario) -> Iterator[str]:
    gear = scenario.situation.gear
    yield from (gear[item].kind for rig in scenario.rigs.values() for item in rig.items())


def _point_kinds(scenario: Scenario) -> Iterator[str]:
    for place in _places(scenario):
        point = scenario.situation.point_at(place)
        if point is not None:
            yield point.kind


def _anchor_kinds(scenario: Scenario) -> Iterator[str]:
    anchors = scenario.situation.anchors
    yield from (anchors[place].kind for place in _places(scenario) if place in anchors)


def _places(scenario: Scenario) -> Iterator[str]:
    for rig in scenario.rigs.values():
        for line in rig.lines:
            yield from line.stations


def _hitches(scenario: Scenario) -> Iterator[str]:
    """Yield how slings and the like are hitched; a shackle is straight without a choice."""
    gear = scenario.situation.gear
    for rig in scenario.rigs.values():
        for line in rig.lines:
            yield from (p.hitch for p in _pieces(line) if gear[p.item].kind in HITCHED)


def _pieces(line: Line) -> Iterator[Piece]:
    yield from line.joined_with
    for pulley in line.pulleys:
        yield from pulley.joined_with
    yield from line.to.joined_with


def _conditions(scenario: Scenario) -> Iterator[str]:
    for item in scenario.situation.gear.values():
        yield from item.condition


def _rules(scenario: Scenario) -> Iterator[str]:
    for rig in scenario.rigs.values():
        yield from (finding.rule for finding in solve(scenario.situation, rig).findings)


def _asked(scenario: Scenario) -> Iterator[str]:
    yield from (_name(task) for task in scenario.tasks if isinstance(task, QuantityTask))


def _name(task: QuantityTask) -> str:
    head, _, rest = task.of.partition(".")
    return f"{head}.{rest.rpartition('.')[2]}" if head in {"place", "item"} else task.of
