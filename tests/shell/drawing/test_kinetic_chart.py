"""The chart of a snatch: true to scale, in words as well, fit for a strict policy."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from coursekit.drawing.canvas import BLUE, GREEN, INK, SOFT, VERMILLION
from coursekit.drawing.kinetic_chart import (
    SnatchLoads,
    SnatchWords,
    SpeedWindow,
    describe_snatch,
    kinetic_chart,
)
from coursekit.mechanics.kinetic import force_history

Reader = Callable[[bytes | str], ET.Element]
SVG = "{http://www.w3.org/2000/svg}"

# 2,500 kg at 3 m/s, 3,000 kg stuck with 20 kN, 50 kN/m: the peak is 31.7727 kN,
# derived by hand and by numerical integration.
TIMES, FORCES = force_history(2500.0, 3000.0, 3.0, 50_000.0, 20_000.0, 0.0)
SNATCH = SnatchLoads(
    times=TIMES.tolist(),
    forces=FORCES.tolist(),
    resistance=20_000.0,
    peak=31_772.7,
    design=41_304.5,
    limit=46_500.0,
    weakest="rope-k",
)


def line_heights(chart: ET.Element, colour: str) -> list[float]:
    """Return the heights of the points of the longest line of a colour, upward."""
    found = [
        [float(y) for _, y in re.findall(r"[ML] ([\d.]+) ([\d.]+)", path.get("d", ""))]
        for path in chart.iter(f"{SVG}path")
        if path.get("stroke") == colour and path.get("clip-path")
    ]
    return [-y for y in max(found, key=len)]


def test_the_lines_stand_at_their_loads(read_svg: Reader) -> None:
    chart = read_svg(kinetic_chart(SNATCH))
    curve = line_heights(chart, BLUE)
    zero = curve[0]

    def kilonewtons(colour: str) -> float:
        height = max(line_heights(chart, colour)) - zero
        return 31.7727 * height / (max(curve) - zero)

    assert kilonewtons(SOFT) == pytest.approx(20.0, rel=1e-3)
    assert kilonewtons(INK) == pytest.approx(41.3045, rel=1e-3)
    assert kilonewtons(GREEN) == pytest.approx(46.5, rel=1e-3)


def test_a_limit_below_the_design_load_changes_its_colour_and_its_words(read_svg: Reader) -> None:
    over = replace(SNATCH, limit=35_000.0)

    assert line_heights(read_svg(kinetic_chart(over)), VERMILLION)
    assert "The design load is over the smallest limit" in describe_snatch(over)
    assert "The design load is within the smallest limit" in describe_snatch(SNATCH)


def test_the_words_round_loads_up_and_the_limit_down() -> None:
    described = describe_snatch(replace(SNATCH, limit=46_581.5))

    assert "peak 31.8 kN" in described
    assert "design load 41.4 kN" in described
    assert "smallest limit 46.5 kN, rope-k" in described


def test_the_words_say_whether_the_vehicle_comes_free() -> None:
    assert describe_snatch(SNATCH).startswith("The vehicle comes free")
    assert describe_snatch(replace(SNATCH, resistance=40_000.0)).startswith(
        "The vehicle stays stuck"
    )


def test_a_rig_without_a_limit_is_drawn_without_one() -> None:
    unrated = replace(SNATCH, limit=None)

    assert kinetic_chart(unrated)
    assert "No item of the load path has a limit" in describe_snatch(unrated)


def test_the_words_can_be_translated() -> None:
    words = SnatchWords(title="Kraft im Seil", time="Zeit, s", force="Kraft, kN")

    assert b"<title>Kraft im Seil</title>" in kinetic_chart(SNATCH, words)


def test_a_name_with_marks_of_its_own_stays_text(read_svg: Reader) -> None:
    chart = kinetic_chart(replace(SNATCH, weakest='<b>&"rope"'))

    description = read_svg(chart).findtext(f"{SVG}desc")
    assert description is not None
    assert '<b>&"rope"' in description


def test_the_same_snatch_gives_the_same_bytes() -> None:
    assert kinetic_chart(SNATCH) == kinetic_chart(replace(SNATCH))


def test_drawing_needs_no_pyplot_and_loads_matplotlib_only_when_drawn() -> None:
    program = (
        "import sys; import coursekit.drawing.kinetic_chart as chart;"
        "before = 'matplotlib' in sys.modules;"
        "chart.kinetic_chart(chart.SnatchLoads((0.0, 1.0), (0.0, 1.0), 1.0, 1.0, 1.0));"
        "print(before, 'matplotlib' in sys.modules, 'matplotlib.pyplot' in sys.modules)"
    )

    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert run.stdout.split() == ["False", "True", "False"]


def _ends(chart: ET.Element, colour: str) -> tuple[float, float]:
    """Return how far left and right the largest filled shape of a colour reaches."""
    shapes = [
        [float(x) for x, _ in re.findall(r"[ML] ([\d.]+) ([\d.]+)", path.get("d", ""))]
        for path in chart.iter(f"{SVG}path")
        if path.get("fill") == colour and path.get("clip-path")
    ]
    widest = max(shapes, key=lambda xs: max(xs) - min(xs))
    return min(widest), max(widest)


def test_the_window_of_speeds_stands_to_scale_below_the_force(read_svg: Reader) -> None:
    narrow = replace(SNATCH, window=SpeedWindow(2.0, 1.0, 3.0))
    wide = replace(SNATCH, window=SpeedWindow(2.0, 0.5, 3.0))
    left, right = _ends(read_svg(kinetic_chart(narrow)), GREEN)
    further, same = _ends(read_svg(kinetic_chart(wide)), GREEN)

    assert same == pytest.approx(right)
    # From 1 to 3 m/s and from 0.5 to 3 m/s on one scale.
    assert (right - further) / (right - left) == pytest.approx(2.5 / 2.0, rel=1e-3)


def test_the_window_is_told_in_words_rounded_inward() -> None:
    told = describe_snatch(replace(SNATCH, window=SpeedWindow(2.0, 1.2341, 3.4567)))
    assert told.endswith("This pull 2.00 m/s; window of speeds 1.24 m/s to 3.45 m/s.")


@pytest.mark.parametrize(("lowest", "highest"), [(3.0, 2.0), (1.0, None), (None, 2.0)])
def test_where_there_is_no_window_it_says_so(lowest: float | None, highest: float | None) -> None:
    shut = replace(SNATCH, window=SpeedWindow(2.0, lowest, highest))
    assert describe_snatch(shut).endswith("This pull 2.00 m/s; no window of speeds.")
    assert b"no window of speeds" in kinetic_chart(shut)
