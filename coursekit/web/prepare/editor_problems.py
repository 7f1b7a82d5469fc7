"""Which control of the editor a problem of the file stands beside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from coursekit.files.yaml_tree import dotted
from coursekit.problems import Problem
from coursekit.web.prepare.editor_sections import Section, all_controls, all_rows


@dataclass(frozen=True)
class Placed:
    """Problems by the name of the control or row that they stand beside, and those names.

    `links` leads from the field of a problem to the name of its place.
    """

    beside: Mapping[str, tuple[str, ...]]
    links: Mapping[str, str]


def placed_at(sections: Iterable[Section], problems: Iterable[Problem]) -> Placed:
    """Return where each problem stands: at its field, else at what holds the field."""
    names = dict(_places(tuple(sections)))
    beside: dict[str, tuple[str, ...]] = {}
    links: dict[str, str] = {}
    for problem in problems:
        field = _nearest(problem.where.field, names)
        if field is not None:
            name = names[field]
            links[problem.where.field] = name
            beside[name] = (*beside.get(name, ()), problem.text)
    return Placed(beside, links)


def _places(sections: tuple[Section, ...]) -> Iterator[tuple[str, str]]:
    for section in sections:
        yield section.key, section.name
    yield from ((dotted(row.path), row.name) for row in all_rows(sections))
    yield from ((dotted(control.path), control.name) for control in all_controls(sections))


def _nearest(field: str, names: Mapping[str, str]) -> str | None:
    """Return the longest known field that a field is part of.

    >>> _nearest("gear.bow-1.wll", {"gear": "/gear", "gear.bow-1": "/gear/bow-1"})
    'gear.bow-1'
    """
    while field and field not in names:
        field = field.rpartition(".")[0]
    return field or None
