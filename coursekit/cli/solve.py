"""`coursekit solve`: the loads of one rig."""

from __future__ import annotations

from pathlib import Path

import click

from coursekit.cli.numbers import FILE, JSON, SEED, numbers_of, parse_fields
from coursekit.cli.outcome import DOES_NOT_HOLD, HOLDS, say_json
from coursekit.cli.report import solution_report
from coursekit.cli.spread_report import spread_report
from coursekit.cli.worked_report import worked_report
from coursekit.files.rig_file import read_rig
from coursekit.files.solution_document import solution_document
from coursekit.files.spread_document import SPREAD_SEED, spread_document
from coursekit.files.worked_document import worked_document
from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import Solution
from coursekit.rigging.solver import solve as solve_rig
from coursekit.rigging.spread import Uncertainty, uncertainty_of
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import GIVEN_RIG


@click.command()
@FILE
@click.option(
    "--rig",
    "name",
    default=GIVEN_RIG,
    metavar="FILE|NAME",
    help="A rig of the scenario by its name, or a file with a rig; the rig 'given' without it.",
)
@SEED
@click.option(
    "--set",
    "fields",
    multiple=True,
    callback=parse_fields,
    metavar="FIELD=VALUE",
    help="Try another value, as in stuck_vehicle.mass='3000 kg'; may be given several times.",
)
@click.option(
    "--worked",
    "is_worked",
    is_flag=True,
    help="Show the worked solution: every step with its numbers, and both methods side by side.",
)
@click.option(
    "--spread",
    "is_spread",
    is_flag=True,
    help="Show what becomes of the rig where mass, ground, slope and pulleys are misjudged.",
)
@JSON
def solve(  # noqa: PLR0913 - one for each option
    file: Path,
    *,
    name: str,
    seed: int | None,
    fields: dict[str, str],
    is_worked: bool,
    is_spread: bool,
    as_json: bool,
) -> None:
    """Solve one rig of the scenario in FILE.

    Shows what was found, the load, limit and use of every item and place, and the
    worked steps with formula and source. The exit code is 1 where a finding is
    critical.
    """
    numbers = numbers_of(file, seed, fields)
    scenario = numbers.scenario
    solution = solve_rig(scenario.situation, _rig(scenario, name))
    if as_json:
        worked = worked_document(scenario, solution) if is_worked else {}
        spread = {"spread": spread_document(_spread(solution))} if is_spread else {}
        say_json({**solution_document(scenario, solution), **worked, **spread})
    else:
        report = worked_report if is_worked else solution_report
        click.echo(report(scenario, solution, f"Rig {name}; {numbers}"))
        if is_spread:
            click.echo(f"\n{spread_report(scenario, _spread(solution))}")
    click.get_current_context().exit(HOLDS if solution.is_safe else DOES_NOT_HOLD)


def _spread(solution: Solution) -> Uncertainty:
    return uncertainty_of(solution.situation, solution.rig, SPREAD_SEED)


def _rig(scenario: Scenario, name: str) -> Rig:
    if name in scenario.rigs:
        return scenario.rigs[name]
    path = Path(name)
    if path.suffix or path.exists():
        return read_rig(path, scenario.situation)
    known = ", ".join(scenario.rigs) or "none"
    message = f"{name!r} is neither a rig of the scenario ({known}) nor a file"
    raise click.BadParameter(message, param_hint="--rig")
