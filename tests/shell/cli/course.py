"""The commands as a person at a shell runs them, on the invented scenario of the file tests."""

import json
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from coursekit.cli.main import main
from tests.shell.files.ford import FORD

ANSWERS = """\
scenario: ford-exit
answers:
  total: 7.22 kN
  rear: 7220 N
  build:
    method: winch
    lines:
      - from: recovery_vehicle.winch
        made_of: [winch-line]
        to: {at: stuck_vehicle.rear, with: [bow-1]}
  weak: bow-1
  bin: [old-strap]
  go: go
  steps: [brief everyone, walk the line, take the slack]
"""


@dataclass(frozen=True)
class Course:
    """A folder with files, and the commands on them."""

    folder: Path

    def write(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.write_text(text, "utf-8")
        return path

    def scenario(self, text: str = FORD, name: str = "ford-exit.yaml") -> str:
        return str(self.write(name, text))

    def answers(self, text: str = ANSWERS) -> str:
        return str(self.write("answers.yaml", text))

    def run(self, *arguments: str) -> Result:
        return CliRunner().invoke(main, list(arguments))

    def json(self, *arguments: str) -> Any:
        """Return what a command writes, which is JSON and nothing else, with no nan in it."""
        result = self.run(*arguments, "--json")
        assert result.stdout, result.stderr
        return json.loads(result.stdout, parse_constant=_never)


def _never(constant: str) -> float:
    message = f"{constant} is no JSON"
    raise AssertionError(message)


def numbers_in(value: Any) -> list[float]:
    """Return every number of a document."""
    if isinstance(value, dict):
        return [number for part in value.values() for number in numbers_in(part)]
    if isinstance(value, list):
        return [number for part in value for number in numbers_in(part)]
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return [value] if is_number and math.isfinite(value) else []
