"""`coursekit check`: whether scenario files are whole, and hold for every variation."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from coursekit.cli.coverage import say_coverage
from coursekit.cli.outcome import DOES_NOT_HOLD, HOLDS, UNREADABLE, say_json, say_problems
from coursekit.cli.proof_report import proof_details, proof_document, proof_line
from coursekit.files.reading import Unreadable, unreadable
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import SUFFIXES, placed_in_file, read_scenario
from coursekit.problems import Problem, Problems
from coursekit.scenario.proof import Progress, Proof, prove

# A line on the terminal for each so many variations.
SHOWN_EVERY = 20

_UNPROVEN = {DOES_NOT_HOLD: "invalid   ", UNREADABLE: "unreadable"}


@dataclass(frozen=True)
class Checked:
    """What the check of one file found."""

    path: Path
    proof: Proof | None
    problems: tuple[Problem, ...]
    code: int


@click.command()
@click.argument("paths", nargs=-1, type=click.Path(path_type=Path), metavar="[PATH]...")
@click.option("--json", "as_json", is_flag=True, help="Write the results as JSON.")
@click.option("--coverage", is_flag=True, help="Tell what the scenarios cover; prove none.")
@click.pass_context
def check(ctx: click.Context, paths: tuple[Path, ...], *, as_json: bool, coverage: bool) -> None:
    """Validate scenario files and prove each.

    PATH is a file, or a folder of scenario files; without one, the scenarios that
    come with coursekit are checked. Proof is by the scenario's own named rigs and by
    a search for all others, over every variation of its numbers or a stated sample.
    """
    if coverage:
        ctx.exit(say_coverage(scenario_files(paths), as_json=as_json))
    code, results = HOLDS, []
    for path in scenario_files(paths):
        found = _checked(path)
        say_problems(found.problems)
        if not as_json:
            click.echo(_line(found))
        code = max(code, found.code)
        results.append(found)
    if as_json:
        say_json({"scenarios": [_document(found) for found in results]})
    ctx.exit(code)


def scenario_files(paths: tuple[Path, ...]) -> Iterator[Path]:
    """Yield the files of paths, or without any those that come with the program."""
    for path in paths or (resource_dir("scenarios"),):
        yield from _in_folder(path) if path.is_dir() else [path]


def _in_folder(folder: Path) -> list[Path]:
    found = sorted(path for path in folder.iterdir() if path.suffix in SUFFIXES)
    if not found:
        what = "The folder holds no scenario file"
        raise unreadable(str(folder), what, "Name a folder with files such as ford-exit.yaml")
    return found


def _checked(path: Path) -> Checked:
    try:
        proof = prove(read_scenario(path), progress=_progress(path))
    except Problems as error:
        code = UNREADABLE if isinstance(error, Unreadable) else DOES_NOT_HOLD
        return Checked(path, None, error.items, code)
    problems = tuple(placed_in_file(problem, path) for problem in proof.problems)
    return Checked(path, proof, problems, HOLDS if proof.is_proven else DOES_NOT_HOLD)


def _progress(path: Path) -> Progress | None:
    """Return what shows the progress of a proof on a terminal, and nothing elsewhere."""
    if not sys.stderr.isatty():
        return None

    def show(number: int, examined: int) -> None:
        if number % SHOWN_EVERY == 0 or number == examined:
            end = "\r\x1b[K" if number == examined else ""
            click.echo(f"\r{path.name}: {number} of {examined} variations{end}", nl=False, err=True)

    return show


def _line(found: Checked) -> str:
    proof = found.proof
    if proof is None:
        word, count = _UNPROVEN[found.code], len(found.problems)
        return f"{word} {found.path}: {count} problem{'' if count == 1 else 's'}"
    word = "proven    " if proof.is_proven else "unproven  "
    return "\n".join((f"{word} {found.path}: {proof_line(proof)}", *proof_details(proof)))


def _document(found: Checked) -> dict[str, Any]:
    proof = found.proof
    problems = [
        {
            "file": problem.where.file,
            "line": problem.where.line,
            "field": problem.where.field,
            "what": problem.what,
            "mend": problem.mend,
        }
        for problem in found.problems
    ]
    document: dict[str, Any] = {
        "file": str(found.path),
        "valid": proof is not None,
        "proven": proof is not None and proof.is_proven,
        "problems": problems,
    }
    return document if proof is None else document | proof_document(proof)
