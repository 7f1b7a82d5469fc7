"""The numbers that a command works with: the file's own, a seed's, or some set by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import click

from coursekit.files.scenario_file import read_scenario
from coursekit.scenario.model import Scenario
from coursekit.scenario.vary import vary


@dataclass(frozen=True)
class Numbers:
    """A scenario with its numbers in place, and which of them are not the file's own."""

    scenario: Scenario
    seed: int | None
    own: Mapping[str, str]

    def __str__(self) -> str:
        origin = "the file's own numbers" if self.seed is None else f"seed {self.seed}"
        values = "".join(f", {field} {text}" for field, text in self.own.items())
        return f"{origin}{values}"


def numbers_of(path: Path, seed: int | None, fields: Mapping[str, str]) -> Numbers:
    """Return a scenario as a seed varies it, with fields that were set put on top."""
    scenario, drawn = read_scenario(path), {}
    if seed is not None:
        variation = vary(scenario, seed)
        scenario, drawn = variation.scenario, dict(variation.values)
    own = {**drawn, **fields}
    if fields:
        scenario = read_scenario(path, own)
    return Numbers(scenario, seed, own)


def parse_fields(
    _ctx: click.Context, _param: click.Parameter, values: tuple[str, ...]
) -> dict[str, str]:
    """Return FIELD=VALUE options by field."""
    fields = {}
    for value in values:
        field, sign, text = value.partition("=")
        if not sign or not field.strip():
            message = f"{value!r} is not FIELD=VALUE, as in stuck_vehicle.mass=3000 kg"
            raise click.BadParameter(message)
        fields[field.strip()] = text.strip()
    return fields


SEED = click.option(
    "--seed",
    type=click.IntRange(min=0),
    help="Take the numbers of this variation, in place of the file's own.",
)
JSON = click.option("--json", "as_json", is_flag=True, help="Write JSON in SI units.")
FILE = click.argument("file", type=click.Path(path_type=Path))
