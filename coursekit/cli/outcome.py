"""How a command ends: exit codes, problems on standard error, JSON on standard output.

0 it holds; 1 what was asked does not hold: an unsafe rig, a scenario with
problems or without proof; 2 wrong usage, or a file that can't be read at all:
not there, too large, binary, not UTF-8, not YAML.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import click

from coursekit.files.reading import Unreadable
from coursekit.problems import CoursekitError, Problem, Problems

HOLDS, DOES_NOT_HOLD, UNREADABLE = 0, 1, 2


class Commands(click.Group):
    """A group whose commands answer every error of the project in one line."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; what is wrong goes to standard error, and into the exit code."""
        try:
            return super().invoke(ctx)
        except CoursekitError as error:
            ctx.exit(say_what_is_wrong(error))


def say_what_is_wrong(error: CoursekitError) -> int:
    """Write an error to standard error and return its exit code."""
    if isinstance(error, Problems):
        say_problems(error.items)
    else:
        click.echo(str(error), err=True)
    return UNREADABLE if isinstance(error, Unreadable) else DOES_NOT_HOLD


def say_problems(problems: Iterable[Problem]) -> None:
    """Write problems to standard error, one a line."""
    for problem in problems:
        click.echo(" ".join(str(problem).split()), err=True)


def say_json(document: Any) -> None:
    """Write a document to standard output, with no other text around it."""
    click.echo(json.dumps(document, ensure_ascii=False, allow_nan=False, indent=2))
