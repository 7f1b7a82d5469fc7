"""The public formulas of the core, with their units and the record in their docstring."""

import importlib
import inspect
import pkgutil
import re
import types
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from coursekit import mechanics, wear

Formula = Callable[..., Any]

NO_FORMULAS = {
    "coursekit.mechanics.elementary",
    "coursekit.mechanics.many",
    "coursekit.mechanics.ranges",
}
"""Modules of `mechanics` that formulas are written with: they are none themselves."""


def _functions(package: types.ModuleType) -> Iterator[Formula]:
    for found in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
        module = importlib.import_module(found.name)
        for name, value in vars(module).items():
            is_own = inspect.isfunction(value) and value.__module__ == module.__name__
            if is_own and not name.startswith("_") and found.name not in NO_FORMULAS:
                yield value


def _formulas() -> Iterator[Formula]:
    """Yield every function of `mechanics`, and those of `wear` that return a quantity."""
    yield from _functions(mechanics)
    for function in _functions(wear):
        if units_of(get_type_hints(function, include_extras=True)["return"]):
            yield function


def units_of(annotation: object) -> tuple[str, ...]:
    """Return the units that an annotation names, each once, in order."""
    if get_origin(annotation) is Annotated:
        _, *notes = get_args(annotation)
        return tuple(note for note in notes if isinstance(note, str))
    found = [unit for part in get_args(annotation) for unit in units_of(part)]
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True)
class Record:
    """The sections of a numpydoc docstring, and the entries of its parameters."""

    summary: str
    sections: Mapping[str, str]

    @property
    def parameters(self) -> dict[str, str]:
        """The unit in brackets of each parameter, in order; empty where it has none."""
        entries = re.split(r"^(\w+) : .*$", self.sections["Parameters"], flags=re.MULTILINE)
        return {
            name: bracketed(text) for name, text in zip(entries[1::2], entries[2::2], strict=True)
        }


def bracketed(text: str) -> str:
    """Return what stands in the brackets that end a description."""
    found = re.search(r"\[([^\]]*)\]\s*$", text)
    return found[1] if found else ""


def record_of(formula: Formula) -> Record:
    """Return the docstring of a formula, taken apart."""
    parts = re.split(r"^(\w+)\n-+$", inspect.getdoc(formula) or "", flags=re.MULTILINE)
    return Record(parts[0], dict(zip(parts[1::2], parts[2::2], strict=True)))


def annotations_of(formula: Formula) -> dict[str, Any]:
    """Return the annotation of each parameter and of the `return`."""
    return get_type_hints(formula, include_extras=True)


def name_of(formula: Formula) -> str:
    """Return the name of a formula with its module, as test ids show it."""
    return f"{formula.__module__.removeprefix('coursekit.')}.{formula.__name__}"


FORMULAS = tuple(_formulas())
