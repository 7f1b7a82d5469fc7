"""The entry point: `coursekit COMMAND`."""

from __future__ import annotations

import click

from coursekit.cli.check import check
from coursekit.cli.kit import kit
from coursekit.cli.mark import mark
from coursekit.cli.outcome import Commands
from coursekit.cli.rigs import rigs
from coursekit.cli.serve import serve
from coursekit.cli.solve import solve


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="coursekit")
def main() -> None:
    """Prepare, teach and assess courses in off-road vehicle recovery.

    It verifies formulas for training; it clears no real pull. The exit code is 0
    when it holds, 1 when what was asked does not hold, and 2 for wrong usage or a
    file that can't be read.
    """


for command in (serve, check, solve, rigs, mark, kit):
    main.add_command(command)


if __name__ == "__main__":
    main()
