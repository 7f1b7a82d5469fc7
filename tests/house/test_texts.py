"""Every text that a user reads can be taken out for translation."""

import ast
import re
import shlex
from io import StringIO
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.frontend import CommandLineInterface
from babel.messages.pofile import read_po
from jinja2 import Environment, nodes

from coursekit.assessment.marking import mark_paper
from coursekit.files.answer_file import read_answers
from coursekit.files.replies import replies_of
from coursekit.quantities.voice import METRIC, shower
from coursekit.rigging.given import GIVEN
from coursekit.rigging.methods import by_both
from coursekit.rigging.solver import solve
from coursekit.rigging.working import worked_solution
from tests.core.scenario import stock
from tests.house.tree import PACKAGE, ROOT, name_of, python_files, template_files

MARKS = {"_", "_l", "gettext", "lazy_gettext", "ngettext", "pgettext"}
NAMED = re.compile(r"%\((\w+)\)s")


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Catalog:
    """The texts that the command of the developers' page collects."""
    target = tmp_path_factory.mktemp("texts") / "messages.pot"
    (command,) = re.findall(r"`(pybabel extract .*?)`", (ROOT / "DEVELOPERS.md").read_text("utf-8"))
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(ROOT)
        CommandLineInterface().run(shlex.split(command.replace("messages.pot", str(target))))
    return read_po(StringIO(target.read_text("utf-8")))


def _called(node: ast.Call) -> str:
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def _marked_in_python(path: Path) -> list[ast.Call]:
    tree = ast.parse(path.read_text("utf-8"))
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return [call for call in calls if _called(call) in MARKS]


def _marked_in_template(path: Path) -> list[str]:
    tree = Environment(extensions=["jinja2.ext.i18n"], autoescape=True).parse(
        path.read_text("utf-8")
    )
    return [
        call.args[0].value
        for call in tree.find_all(nodes.Call)
        if isinstance(call.node, nodes.Name)
        and call.node.name in MARKS
        and isinstance(call.args[0], nodes.Const)
    ]


def _messages(catalogue: Catalog) -> set[str]:
    return {part for message in catalogue for part in _parts(message.id)}


def _parts(message: str | tuple[str, ...] | list[str]) -> list[str]:
    return [message] if isinstance(message, str) else list(message)


@pytest.mark.parametrize("path", python_files(PACKAGE / "web"), ids=name_of)
def test_each_text_in_python_is_a_literal_that_can_be_extracted(path: Path) -> None:
    calls = _marked_in_python(path)

    assert [call.lineno for call in calls if not isinstance(call.args[0], ast.Constant)] == []


def test_extraction_finds_the_texts_of_every_template(catalogue: Catalog) -> None:
    marked = {text for path in template_files() for text in _marked_in_template(path)}

    assert marked
    assert marked - _messages(catalogue) == set()


def test_extraction_finds_the_texts_of_every_module(catalogue: Catalog) -> None:
    calls = [call for path in python_files(PACKAGE / "web") for call in _marked_in_python(path)]
    marked = {call.args[0].value for call in calls if isinstance(call.args[0], ast.Constant)}

    assert marked
    assert marked - _messages(catalogue) == set()


def test_values_in_a_text_have_names_so_that_another_language_can_move_them(
    catalogue: Catalog,
) -> None:
    unnamed = re.compile(r"(?<!%)%[sdrf]|\{\}")

    assert [text for text in _messages(catalogue) if unnamed.search(NAMED.sub("", text))] == []


def _texts_of_solved_rigs() -> set[str]:
    texts = {term.name for term in GIVEN.values()}
    for scenario in map(stock.scenario, stock.IDS):
        for rig in scenario.rigs.values():
            solution = solve(scenario.situation, rig)
            texts |= {finding.message.template for finding in solution.findings}
            texts |= {str(part.title) for part in worked_solution(solution)}
            both = by_both(scenario.situation, rig).compared
            texts |= {reason.template for each in both for reason in each.reasons}
            texts |= {each.verdict.template for each in both if each.verdict is not None}
            for step in solution.chain:
                texts |= {step.name, step.formula, step.source, step.limits} - {""}
                texts |= {term.name for term in step.terms}
                texts |= {text for slip in step.slips for text in (slip.name, slip.text)}
    return texts


def test_every_text_of_a_solved_rig_is_collected(catalogue: Catalog) -> None:
    texts = _texts_of_solved_rigs()

    assert len(texts) > 150
    assert texts - _messages(catalogue) == set()


@pytest.mark.parametrize(
    "path", sorted((ROOT / "tests" / "shell" / "cli" / "answers").glob("*.yaml")), ids=name_of
)
def test_every_text_of_a_marked_paper_is_collected(path: Path, catalogue: Catalog) -> None:
    answers = read_answers(path)
    scenario = stock.scenario(answers.scenario)
    paper = mark_paper(scenario, replies_of(scenario, answers.answers), shower(METRIC))
    said = [message.template for mark in paper.tasks for message in mark.feedback]

    assert set(said) - _messages(catalogue) == set()
