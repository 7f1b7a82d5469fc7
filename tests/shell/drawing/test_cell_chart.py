"""The chart of a measured pull: the measured force, the solved one over it, in words too."""

from __future__ import annotations

from collections.abc import Callable
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from coursekit.drawing.cell_chart import CellLoads, cell_chart, describe_cell
from coursekit.mechanics.trace import ForceTrace

SVG = "{http://www.w3.org/2000/svg}"
TIMES = np.linspace(0.0, 2.0, 201)
MEASURED = ForceTrace(TIMES, 21e3 * np.maximum(0.0, np.sin(np.pi * (TIMES - 0.5))))
CURVE = ForceTrace(TIMES[:101], 20e3 * np.sin(np.pi * TIMES[:101]))
CHARTS = {
    "kinetic": CellLoads(MEASURED, 20e3, CURVE),
    "winch": CellLoads(MEASURED, 20e3, unit="lbf"),
}


def line_in(root: ET.Element, colour: str) -> list[tuple[float, float]]:
    """Return the points of the longest line of a colour, as they stand on the sheet."""
    drawn = [
        path.get("d", "").split()
        for path in root.iter(f"{SVG}path")
        if path.get("stroke") == colour and path.get("clip-path")
    ]
    numbers = [float(word) for word in max(drawn, key=len) if word not in "MLz"]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


@pytest.mark.parametrize("name", CHARTS)
def test_it_has_a_title_a_description_and_no_style(
    name: str, read_svg: Callable[[bytes | str], ET.Element]
) -> None:
    root = read_svg(cell_chart(CHARTS[name]))

    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert not [each for each in root.iter() if "style" in each.attrib]
    assert root.get("viewBox", "").split()[:3] == ["0", "0", "360"]


def test_both_peaks_stand_at_one_time_and_the_higher_one_is_higher(
    read_svg: Callable[[bytes | str], ET.Element],
) -> None:
    root = read_svg(cell_chart(CHARTS["kinetic"]))
    measured, solved = (
        min(line_in(root, colour), key=lambda point: point[1]) for colour in ("#0072b2", "#d55e00")
    )

    assert measured[0] == pytest.approx(solved[0], abs=1.0)
    assert measured[1] < solved[1]


def test_the_words_round_loads_up_and_tell_when_the_peak_came() -> None:
    assert describe_cell(CHARTS["winch"]) == (
        "Measured, peak 4,730 lbf; solved, peak 4,500 lbf; "
        "the peak comes 1 s after the first reading."
    )


def test_the_same_pull_gives_the_same_bytes() -> None:
    assert cell_chart(CHARTS["kinetic"]) == cell_chart(CHARTS["kinetic"])
