"""`coursekit rigs`: the safe rigs that the gear at hand allows."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import click

from coursekit.cli.numbers import FILE, JSON, SEED, numbers_of
from coursekit.cli.outcome import DOES_NOT_HOLD, HOLDS, say_json
from coursekit.cli.rigs_report import rigs_report
from coursekit.files.search_document import search_document
from coursekit.rigging.search import safe_rigs, single_changes

# A line on the terminal for each so many layouts.
SHOWN_EVERY = 50


@click.command()
@FILE
@click.option(
    "--limit",
    type=click.IntRange(min=0),
    help="List so many rigs, the best ones; all are counted.",
)
@SEED
@JSON
@click.pass_context
def rigs(
    ctx: click.Context, file: Path, *, limit: int | None, seed: int | None, as_json: bool
) -> None:
    """Find the safe rigs of the scenario in FILE, best first.

    One rig is listed for each layout (method, stations in order, what the line is made
    of), with the gear that is loaded least and the number of ways to choose it. The exit
    code is 1 where no rig is safe and brings the vehicle out; then it says what single
    change would make one safe.
    """
    numbers = numbers_of(file, seed, {})
    search = safe_rigs(numbers.scenario.situation, progress=_progress())
    changes = () if search.rigs else single_changes(numbers.scenario.situation)
    _end_of_progress()
    listed = search.rigs[:limit]
    if as_json:
        say_json(search_document(numbers.scenario, search, seed, listed, changes))
    else:
        click.echo(rigs_report(numbers, search, listed, changes))
    ctx.exit(HOLDS if search.rigs else DOES_NOT_HOLD)


def _progress() -> Callable[[int, int], None] | None:
    """Return what shows the progress of a search on a terminal, and nothing elsewhere."""
    if not sys.stderr.isatty():
        return None

    def show(examined: int, safe: int) -> None:
        if examined % SHOWN_EVERY == 0:
            click.echo(f"\r{examined} layouts, {safe} safe\x1b[K", nl=False, err=True)

    return show


def _end_of_progress() -> None:
    if sys.stderr.isatty():
        click.echo("\r\x1b[K", nl=False, err=True)
