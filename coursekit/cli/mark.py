"""`coursekit mark`: marks an answer file against the solver."""

from __future__ import annotations

from pathlib import Path

import click

from coursekit.assessment.marking import mark_paper
from coursekit.cli.numbers import FILE, JSON, SEED, numbers_of
from coursekit.cli.outcome import say_json
from coursekit.cli.report import paper_report
from coursekit.files.answer_file import check_answers, read_answers
from coursekit.files.paper_document import paper_document
from coursekit.files.replies import replies_of
from coursekit.quantities.voice import shower, units_of


@click.command()
@FILE
@click.argument("answers", type=click.Path(path_type=Path))
@SEED
@JSON
def mark(file: Path, answers: Path, *, seed: int | None, as_json: bool) -> None:
    """Mark the ANSWERS file of a student to the scenario in FILE.

    The numbers are those of the seed in the answer file, of --seed where it is
    given, and the scenario's own where there is neither. The exit code is 0
    whenever the answers could be marked.
    """
    typed = read_answers(answers)
    numbers = numbers_of(file, typed.seed if seed is None else seed, {})
    check_answers(typed, numbers.scenario)
    # Files are written as this page's numbers are: thousands by a comma, decimals by a point.
    replies = replies_of(numbers.scenario, typed.answers, decimal_comma=False)
    paper = mark_paper(numbers.scenario, replies, shower(units_of(numbers.scenario)))
    if None not in (seed, typed.seed) and seed != typed.seed:
        others = f"The answers were given to the numbers of seed {typed.seed}"
        click.echo(f"{others}; they are marked by those of {seed}, as --seed says.", err=True)
    if as_json:
        say_json(paper_document(paper, numbers.seed))
    else:
        click.echo(paper_report(paper, str(numbers)))
