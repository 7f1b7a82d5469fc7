"""`coursekit check --coverage`: what a set of scenarios puts before students."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from textwrap import wrap
from typing import Any

import click

from coursekit.cli.outcome import DOES_NOT_HOLD, HOLDS, say_json
from coursekit.files.quantity_names import ASKABLE
from coursekit.files.scenario_file import read_scenario
from coursekit.scenario.coverage import Coverage, Subject, coverage_of

WIDTH = 80
_ENTRY = 26


def say_coverage(paths: Iterable[Path], *, as_json: bool) -> int:
    """Write what the scenarios of files cover; return the exit code."""
    coverage = coverage_of([read_scenario(path) for path in paths], ASKABLE)
    if as_json:
        say_json(_document(coverage))
    else:
        click.echo("\n".join(_lines(coverage)))
    return HOLDS if coverage.is_full else DOES_NOT_HOLD


def _lines(coverage: Coverage) -> Iterator[str]:
    for subject in coverage.subjects:
        yield from _table(subject)
        yield ""
    missing = sum(len(subject.missing) for subject in coverage.subjects)
    entries = sum(len(subject.places) for subject in coverage.subjects)
    yield f"{coverage.scenarios} scenarios; {entries - missing} of {entries} entries occur"
    for subject in coverage.subjects:
        if subject.missing:
            names = f"missing from {subject.name}: {', '.join(subject.missing)}"
            yield from wrap(names, WIDTH, subsequent_indent="  ", break_on_hyphens=False)


def _table(subject: Subject) -> Iterator[str]:
    found = len(subject.places) - len(subject.missing)
    yield f"{subject.name}: {found} of {len(subject.places)}"
    for entry, places in subject.places.items():
        head = f"  {entry:<{_ENTRY}}{len(places):>3}  "
        names = ", ".join(places) or "MISSING"
        yield from wrap(
            names,
            WIDTH,
            initial_indent=head,
            subsequent_indent=" " * len(head),
            break_on_hyphens=False,
        )


def _document(coverage: Coverage) -> dict[str, Any]:
    return {
        "scenarios": coverage.scenarios,
        "full": coverage.is_full,
        "subjects": [
            {
                "name": subject.name,
                "entries": {entry: list(places) for entry, places in subject.places.items()},
                "missing": list(subject.missing),
            }
            for subject in coverage.subjects
        ],
    }
