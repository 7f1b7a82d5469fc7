"""The unit library is loaded before the clock runs for any single example."""

from __future__ import annotations

import pytest

from coursekit.quantities.units import unit_of


@pytest.fixture(autouse=True, scope="session")
def _unit_library() -> None:
    """Convert once: the first conversion takes half a second, and no later one."""
    _ = unit_of("kN").factor
