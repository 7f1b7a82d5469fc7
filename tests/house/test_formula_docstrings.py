"""The docstring of a formula is its record: units, limits, source, example."""

import re

import pytest

from coursekit.mechanics.nomenclature import GLOSSARY
from tests.house.formulas import (
    FORMULAS,
    Formula,
    annotations_of,
    bracketed,
    name_of,
    record_of,
    units_of,
)

SECTIONS = ["Parameters", "Returns", "Raises", "Notes", "Examples"]
formulas = pytest.mark.parametrize("formula", FORMULAS, ids=name_of)


def test_the_formulas_are_found() -> None:
    assert {"mechanics.line.turn_load", "mechanics.kinetic.peak_tension"} <= {
        name_of(formula) for formula in FORMULAS
    }


def test_every_formula_has_a_name_of_its_own() -> None:
    names = [formula.__name__ for formula in FORMULAS]

    assert sorted(names) == sorted(set(names))


@formulas
def test_every_section_is_there_in_its_order(formula: Formula) -> None:
    assert list(record_of(formula).sections) == SECTIONS


@formulas
def test_every_parameter_is_documented_in_its_order(formula: Formula) -> None:
    annotated = [name for name in annotations_of(formula) if name != "return"]

    assert list(record_of(formula).parameters) == annotated


@formulas
def test_the_unit_in_brackets_is_that_of_the_annotation_and_of_the_glossary(
    formula: Formula,
) -> None:
    for name, unit in record_of(formula).parameters.items():
        annotated = ", ".join(units_of(annotations_of(formula)[name]))

        assert (name, unit) == (name, annotated)
        assert (name, unit) == (name, GLOSSARY[name].unit)


@formulas
def test_every_annotation_names_a_unit(formula: Formula) -> None:
    assert [name for name, hint in annotations_of(formula).items() if not units_of(hint)] == []


@formulas
def test_what_is_returned_has_its_unit_in_brackets(formula: Formula) -> None:
    returned = units_of(annotations_of(formula)["return"])

    assert bracketed(record_of(formula).sections["Returns"]) == ", ".join(returned)


@formulas
def test_the_record_says_its_limits_its_safe_side_and_its_source(formula: Formula) -> None:
    notes = record_of(formula).sections["Notes"]
    labels = re.findall(r"(Limits|Safe\s+side|Source): +\S", notes)

    assert [label.replace("\n", " ") for label in labels] == ["Limits", "Safe side", "Source"]


@formulas
def test_the_record_shows_the_formula_and_an_example(formula: Formula) -> None:
    is_look_up = formula.__module__.endswith(".tables")

    assert is_look_up or ".. math::" in record_of(formula).summary
    assert ">>> " in record_of(formula).sections["Examples"]


def test_every_name_of_the_glossary_is_used() -> None:
    used = {name for formula in FORMULAS for name in annotations_of(formula)}

    assert sorted(set(GLOSSARY) - used) == []


def test_the_glossary_is_in_order() -> None:
    assert list(GLOSSARY) == sorted(GLOSSARY)
