"""The documents cannot lie: their commands, options, settings and examples are real."""

import re
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from coursekit.cli.main import main
from tests.house.tree import PACKAGE, ROOT, name_of, python_files

README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
COMMANDS = sorted(main.commands.items())


def _blocks(language: str) -> list[str]:
    return [text for found, text in BLOCK.findall(README) if found == language]


class TestReadme:
    def test_opens_with_one_paragraph_that_states_the_job(self) -> None:
        heading, paragraph, *_ = README.split("\n\n")

        assert heading == "# coursekit"
        assert "\n" not in paragraph
        for word in ("off-road vehicle recovery", "prepare", "teach and assess", "kit"):
            assert word in paragraph

    def test_gives_one_command_that_starts_the_demo_and_one_that_runs_the_tests(self) -> None:
        start, test = _blocks("sh")[:2]

        assert start.count("\n") == test.count("\n") == 1
        assert start.rstrip().endswith("coursekit serve --demo")
        assert test.rstrip().endswith("pytest")

    def test_says_that_no_real_pull_is_cleared(self) -> None:
        assert "clears no real pull" in README

    def test_names_each_setting_that_the_code_reads(self) -> None:
        read = {
            name
            for path in python_files(PACKAGE)
            for name in re.findall(r"\bCOURSEKIT_\w+", path.read_text("utf-8"))
        }

        assert read
        assert {name for name in read if f"`{name}`" not in README} == set()

    def test_names_no_setting_that_the_code_does_not_read(self) -> None:
        code = "".join(path.read_text("utf-8") for path in python_files(PACKAGE))

        assert [name for name in re.findall(r"`(COURSEKIT_\w+)`", README) if name not in code] == []

    def test_shows_a_scenario_file_that_passes_the_check(self, tmp_path: Path) -> None:
        (text,) = _blocks("yaml")
        stem = re.search(r"^id: (\S+)$", text, re.MULTILINE)
        assert stem
        file = tmp_path / f"{stem.group(1)}.yaml"
        file.write_text(text, encoding="utf-8")

        result = CliRunner().invoke(main, ["check", str(file)])
        assert result.exit_code == 0, result.output


def test_every_command_that_the_readme_names_exists() -> None:
    named = set(re.findall(r"`coursekit (\w+)", README))

    assert named == {name for name, _ in COMMANDS}


@pytest.mark.parametrize(("name", "command"), COMMANDS)
def test_each_command_and_each_of_its_options_has_help(name: str, command: click.Command) -> None:
    options = [option for option in command.params if isinstance(option, click.Option)]

    assert command.help
    assert [option.name for option in options if not option.help] == []
    assert CliRunner().invoke(main, [name, "--help"]).exit_code == 0


@pytest.mark.parametrize("word", re.findall(r"`((?:\w+/)+[\w.]*)`", DEVELOPERS))
def test_each_path_that_the_developers_page_names_exists(word: str) -> None:
    known = [ROOT / word, PACKAGE / word]

    assert any(path.exists() for path in known), name_of(known[0])
