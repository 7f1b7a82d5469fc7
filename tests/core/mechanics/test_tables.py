"""The tables keep their keys, name their sources and cannot be changed."""

from collections.abc import Mapping
from types import MappingProxyType

import pytest

from coursekit.mechanics import tables
from tests.reference.sources import source

MAPPINGS = {name: value for name, value in vars(tables).items() if isinstance(value, Mapping)}


def test_every_surface_names_where_its_figures_come_from() -> None:
    for surface in tables.SURFACES.values():
        assert surface.rolling_source
        assert surface.grip_source


def test_the_surfaces_are_those_that_a_scenario_may_name() -> None:
    assert list(tables.SURFACES) == [
        "asphalt",
        "gravel",
        "firm-earth",
        "medium-earth",
        "wet-grass",
        "hard-wet-sand",
        "soft-wet-sand",
        "loose-sand",
        "shallow-mud",
        "deep-mud",
        "snow",
    ]


@source("Common practice, no source")
@pytest.mark.parametrize(
    ("kind", "factor"),
    [
        ("winch-line", 2.0),
        ("extension-line", 2.0),
        ("kinetic-rope", 3.0),
        ("kinetic-strap", 3.0),
        ("soft-shackle", 5.0),
        ("tow-strap", 3.0),
        ("pulley-block", 3.0),
    ],
)
def test_a_kind_has_its_customary_design_factor(kind: str, factor: float) -> None:
    assert tables.design_factor(kind) == factor


@source("Wire Rope Users Manual, 4th ed., pp. 86-88: K = 1.04 anti-friction, 1.09 plain bearing")
@pytest.mark.parametrize(
    ("kind", "friction"), [("pulley-block", 1.04), ("plain-pulley-block", 1.09)]
)
def test_a_pulley_is_taken_for_no_better_than_published(kind: str, friction: float) -> None:
    assert 0.97 / friction < tables.PULLEY_EFFICIENCY[kind] < 1 / friction


@source("Measured low-friction rings that do not turn, 180 deg: 0.55 to 0.78, second-hand")
def test_a_ring_is_no_pulley() -> None:
    assert 0.55 <= tables.PULLEY_EFFICIENCY["pulley-ring"] <= 0.78


@pytest.mark.parametrize("name", [n for n in MAPPINGS if not n.startswith("_")])
def test_a_table_cannot_be_changed_by_who_reads_it(name: str) -> None:
    assert isinstance(MAPPINGS[name], MappingProxyType)
