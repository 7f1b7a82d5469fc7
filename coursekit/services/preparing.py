"""Preparing: scenario files become stored versions; an old version stays as it was."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.files.reading import read_text
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import SUFFIXES, canonical_document, scenario_from_document
from coursekit.problems import Problem, Problems
from coursekit.rigging.solver import SOLVER_VERSION
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import NotFound
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.scenarios import Newest, ScenarioCard
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit

__all__ = [
    "LoadReport",
    "ReadFile",
    "ScenarioCard",
    "ScenarioVersion",
    "list_scenarios",
    "load_folder",
    "load_scenarios",
    "newest_versions",
    "read_source",
    "require_version",
    "scenario_version",
    "version_row",
]


@dataclass(frozen=True)
class LoadReport:
    """What became of the files that were loaded, by scenario id."""

    added: tuple[str, ...]
    unchanged: tuple[str, ...]


@dataclass(frozen=True)
class ScenarioVersion:
    """One stored version of a scenario, with the text of the file it came from."""

    version_id: int
    number: int
    digest: str
    scenario: Scenario
    source: str


@dataclass(frozen=True)
class ReadFile:
    """A scenario file that holds: the scenario, what is stored of it, and its text."""

    scenario: Scenario
    document: str
    source: str


def load_scenarios(unit: Unit, actor: Actor, paths: Sequence[Path], now: datetime) -> LoadReport:
    """Store what is new or has changed of some files; one bad file and none is stored."""
    actor.require(Role.INSTRUCTOR)
    read = _read_all(paths)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        newest = queries.scenarios.newest(session, actor.school_id)
        added = [one for one in read if _is_new(one, newest)]
        session.add_all(version_row(actor, one, _next_number(one, newest), now) for one in added)
    ids = {one.scenario.id for one in added}
    return LoadReport(
        added=tuple(one.scenario.id for one in added),
        unchanged=tuple(one.scenario.id for one in read if one.scenario.id not in ids),
    )


def load_folder(unit: Unit, actor: Actor, now: datetime) -> LoadReport:
    """Store what is new or has changed in the folder of scenario files."""
    files = resource_dir("scenarios").iterdir()
    paths = sorted(path for path in files if path.suffix in SUFFIXES)
    return load_scenarios(unit, actor, paths, now)


def list_scenarios(unit: Unit, actor: Actor) -> tuple[ScenarioCard, ...]:
    """Return the newest version of each of the school's scenarios."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.scenarios.cards(session, actor.school_id)


def newest_versions(unit: Unit, actor: Actor) -> tuple[ScenarioVersion, ...]:
    """Return the newest version of each of the school's scenarios, whole: 2 queries."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        ids = [card.version_id for card in queries.scenarios.cards(session, actor.school_id)]
        rows = session.scalars(
            select(tables.ScenarioVersion).where(tables.ScenarioVersion.id.in_(ids))
        )
        found = {row.id: _version(row) for row in rows}
    return tuple(found[version_id] for version_id in ids)


def scenario_version(unit: Unit, actor: Actor, version_id: int) -> ScenarioVersion:
    """Return one stored version with its scenario."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return _version(require_version(session, actor, version_id))


def require_version(session: Session, actor: Actor, version_id: int) -> tables.ScenarioVersion:
    """Return a version of the actor's school."""
    row = session.get(tables.ScenarioVersion, version_id)
    if row is None or row.school_id != actor.school_id:
        raise NotFound("scenario")
    return row


def _version(row: tables.ScenarioVersion) -> ScenarioVersion:
    return ScenarioVersion(
        row.id, row.number, row.digest, scenario_of(row.document, {}), row.source
    )


def read_source(text: str, name: str) -> ReadFile:
    """Return the scenario of a text, or raise everything that is wrong with it."""
    return _read(canonical_document(text), name, text)


def version_row(actor: Actor, one: ReadFile, number: int, now: datetime) -> tables.ScenarioVersion:
    """Return the row of a new version."""
    return tables.ScenarioVersion(
        school_id=actor.school_id,
        slug=one.scenario.id,
        number=number,
        digest=one.scenario.digest,
        title=one.scenario.title,
        level=one.scenario.level,
        method=_method(one.scenario),
        task_count=len(one.scenario.tasks),
        document=one.document,
        source=one.source,
        solver_version=SOLVER_VERSION,
        loaded_at=now,
        loaded_by=actor.person_id,
    )


def _read(document: dict[str, Any], name: str, source: str) -> ReadFile:
    scenario = scenario_from_document(document, name)
    text = json.dumps(document, sort_keys=True, ensure_ascii=False)
    return ReadFile(scenario, text, source)


def _read_all(paths: Sequence[Path]) -> list[ReadFile]:
    read: list[ReadFile] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            read.append(_read(canonical_document(path), path.name, read_text(path)))
        except Problems as found:
            problems += found.items
    if problems:
        raise Problems(problems)
    return read


def _is_new(one: ReadFile, newest: dict[str, Newest]) -> bool:
    known = newest.get(one.scenario.id)
    return known is None or known.digest != one.scenario.digest


def _next_number(one: ReadFile, newest: dict[str, Newest]) -> int:
    known = newest.get(one.scenario.id)
    return known.number + 1 if known else 1


def _method(scenario: Scenario) -> str:
    """Return how the vehicle is to come out: by the given rig, none for a no-go."""
    rig = scenario.given_rig
    return rig.method if rig else scenario.expect
