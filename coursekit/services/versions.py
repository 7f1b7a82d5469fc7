"""Stored scenario versions as scenarios again, with a student's numbers in place."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache

from coursekit.files.scenario_file import scenario_from_document
from coursekit.scenario.model import Scenario
from coursekit.scenario.vary import read_variation


def scenario_of(document: str, variation: Mapping[str, str]) -> Scenario:
    """Return the scenario of a stored document, with the fields of a variation set.

    The snapshot rules, not the seed: a stored attempt keeps its numbers
    whatever becomes of the drawing of variations.
    """
    return _scenario(document, tuple(sorted(variation.items())))


@lru_cache(maxsize=256)
def _scenario(document: str, variation: tuple[tuple[str, str], ...]) -> Scenario:
    # A cache by content: what is stored never changes, so any worker may keep it.
    if variation:
        # As most numbers lie on the grids of their file, it is not read once more for them.
        read = read_variation(_scenario(document, ()), dict(variation))
        if read is not None:
            return read
    return scenario_from_document(json.loads(document), "stored", dict(variation))
