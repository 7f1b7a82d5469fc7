"""What a load cell wrote: read within bounds, or refused with line and column."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.files.load_cell import (
    LARGEST_CELL_FILE,
    MOST_SAMPLES,
    MOST_TOLD,
    CellFile,
    read_cell,
)
from coursekit.files.reading import Unreadable
from coursekit.problems import Problems
from tests.shell.cell_files import swing, written

PULL = swing(20.0)


def read(data: bytes, unit: str = "", *, balance: bool = False) -> CellFile:
    return read_cell("pull.csv", data, unit=unit, balance=balance)


def told(data: bytes, unit: str = "", *, balance: bool = False) -> list[str]:
    with pytest.raises(Problems) as raised:
        read(data, unit, balance=balance)
    return [str(problem) for problem in raised.value.items]


def test_peak_its_time_the_rate_and_the_number_of_readings_are_found() -> None:
    cell = read(written(PULL))

    # The hump begins after 20 readings of rest and is highest in its middle, 35 on.
    assert cell.trace.peak == pytest.approx(20_000.0)
    assert cell.trace.peak_time == pytest.approx(0.55)
    assert cell.trace.rate == pytest.approx(100.0)
    assert cell.trace.times.size == len(PULL)
    assert cell.rest == 0.0
    assert cell.gaps == ()


# Factors by definition: lbf and kgf from the international pound (1959) and standard
# gravity (CGPM 1901), NIST SP 811 appendix B; the kip and the ton-forces follow.
@pytest.mark.parametrize(
    ("head", "newtons"),
    [
        ("force [kN]", 1_000.0),
        ("Force (N)", 1.0),
        ("load lbf", 4.4482216152605),
        ("tension_kgf", 9.80665),
        ("pull {daN}", 10.0),
        ("force [tf]", 9_806.65),
        ("load [kip]", 4_448.2216152605),
        ("load [short ton]", 8_896.443230521),
        ("load [kg]", 9.80665),
    ],
)
def test_every_unit_of_force_is_read(head: str, newtons: float) -> None:
    cell = read(written(PULL, head=f"time [s],{head}"))

    assert cell.trace.peak == pytest.approx(20.0 * newtons, rel=1e-9)


@pytest.mark.parametrize("ton", ["t", "T", "ton", "tons", "te"])
@pytest.mark.parametrize(
    ("chosen", "newtons"),
    [("tf", 9_806.65), ("short ton", 8_896.443230521), ("long ton", 9_964.01641818352)],
)
def test_a_bare_ton_is_asked_about(ton: str, chosen: str, newtons: float) -> None:
    data = written(PULL, head=f"time [s],load [{ton}]")

    (problem,) = told(data)
    assert problem.startswith(f'pull.csv:1: load [{ton}]: "{ton}" does not say which ton. Choose')
    assert read(data, unit=chosen).trace.peak == pytest.approx(20.0 * newtons, rel=1e-9)


@pytest.mark.parametrize(
    ("head", "rate"), [("time [s]", 100.0), ("t (ms)", 100_000.0), ("Elapsed_us", 1e8)]
)
def test_every_unit_of_time_is_read(head: str, rate: float) -> None:
    assert read(written(PULL, head=f"{head},force [kN]")).trace.rate == pytest.approx(rate)


def test_one_unit_may_be_chosen_for_the_file_and_must_not_gainsay_its_head() -> None:
    bare, named = (written(PULL, head=f"time [s],{head}") for head in ("force", "force [kN]"))

    assert read(bare, unit="lbf").unit == "lbf"
    assert "The force has no unit" in told(bare)[0]
    assert "The head says kN, and lbf was chosen" in told(named, unit="lbf")[0]


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace(",", ";").replace(".", ","),
        lambda text: text.replace(",", ";"),
        lambda text: text.replace(",", "\t"),
        lambda text: text.replace("\n", "\r\n"),
        lambda text: "\ufeff" + text,
        lambda text: text.replace("\n", "\n\n"),
        lambda text: "cell of the yard\nnumber,3\n\n" + text,
        lambda text: "".join(f"note,{line}\n" for line in text.splitlines()),
    ],
    ids=["comma", "semicolon", "tab", "crlf", "bom", "empty-lines", "preamble", "third-column"],
)
def test_the_same_pull_is_read_however_it_is_written(change: Callable[[str], str]) -> None:
    text = written(PULL).decode()

    assert read(change(text).encode()).trace.forces == pytest.approx(
        read(text.encode()).trace.forces
    )


@pytest.mark.parametrize(
    ("cell", "what"),
    [
        ("NaN", '"NaN" is not a number'),
        ("inf", '"inf" is not a number'),
        ("1e999", '"1e999" is too large to be meant'),
        ("1_000", '"1_000" is not a number'),
        ("", "The cell is empty"),
        ("12 kN", '"12 kN" is not a number'),
        ('"1,5"', '"1,5" is not a number'),
    ],
)
def test_a_cell_that_is_no_number_is_told_with_its_line_and_column(cell: str, what: str) -> None:
    rows = written(PULL).decode().splitlines()
    rows[30] = f"0.2900,{cell}"
    (problem,) = told("\n".join(rows).encode())

    assert problem.startswith(f"pull.csv:31: force [kN]: {what}")


def test_a_comma_and_a_point_for_decimals_in_one_file_are_refused() -> None:
    rows = written(PULL).decode().replace(",", ";").splitlines()
    rows[30] = "0.2900;11,5"

    assert told("\n".join(rows).encode())[0].startswith("pull.csv:31: force [kN]: ")


def test_a_file_that_is_wrong_throughout_tells_its_first_rows_only() -> None:
    assert len(told(written(PULL).replace(b"0000\n", b"x\n"))) == MOST_TOLD


def test_time_that_does_not_rise_is_told_row_by_row() -> None:
    rows = written(PULL).decode().splitlines()
    rows[30], rows[31] = rows[31], rows[30]
    rows[50] = rows[49]

    found = told("\n".join(rows).encode())
    assert [problem.partition(" The")[0] for problem in found] == [
        "pull.csv:32: time [s]:",
        "pull.csv:51: time [s]:",
    ]


@pytest.mark.parametrize(
    ("row", "newtons"),
    [
        ("Cell 4711,Range: 25 kN", 25_000.0),
        ("capacity [lbf],10000", 44_482.216152605),
        ("Full scale,0,50.5 kN", 50_500.0),
        ("Range 25 t", None),
        ("Range: 12,500 N", None),
        ("Sampling range,2 kHz", None),
        ("range of dates, 2026-06-13", None),
        ("Date,2026-06-13", None),
    ],
)
def test_the_range_that_a_file_states_before_its_head_is_read_where_it_is_plain(
    row: str, newtons: float | None
) -> None:
    most = read(f"{row}\n".encode() + written(PULL)).most

    assert most == (None if newtons is None else pytest.approx(newtons))


def test_a_gap_is_told_with_the_line_after_it() -> None:
    rows = written(PULL).decode().splitlines()
    del rows[41:48]
    (gap,) = read("\n".join(rows).encode()).gaps

    assert (gap.line, round(gap.lasted, 6)) == (42, 0.08)


def test_a_cell_that_reads_below_zero_at_rest_is_refused_until_it_is_balanced() -> None:
    data = written(swing(20.0, rest=-1.5))

    assert "below zero at rest, so every force is too low" in told(data)[0]
    assert read(data, balance=True).trace.peak == pytest.approx(20_000.0)


def test_a_cell_that_reads_above_zero_at_rest_is_told_and_may_be_balanced() -> None:
    data = written(swing(20.0, rest=1.5))
    as_read = read(data)

    assert as_read.has_drift
    assert as_read.rest == pytest.approx(1_500.0)
    assert as_read.trace.peak == pytest.approx(21_500.0)
    assert read(data, balance=True).trace.peak == pytest.approx(20_000.0)


def test_a_line_under_load_is_not_balanced_away() -> None:
    """Held at 12 kN, pulled to 20: balanced, 8 kN would scale the load of every item."""
    held = written(swing(8.0, rest=12.0))

    (problem,) = told(held, balance=True)
    assert "The cell reads 60 % of its peak at rest: the line was under load" in problem
    assert "Take the readings as they stand" in problem
    assert read(held).trace.peak == pytest.approx(20_000.0)


@pytest.mark.parametrize(("rest", "may_be"), [(1.9, True), (2.1, False), (-6.0, True)])
def test_a_zero_above_a_tenth_of_the_peak_is_none(rest: float, *, may_be: bool) -> None:
    data = written(swing(20.0 - rest, rest=rest))

    if may_be:
        # What it reads below zero is put on every force, and so to the safe side.
        assert read(data, balance=True).trace.peak == pytest.approx((20.0 - rest) * 1_000)
    else:
        assert "under load" in told(data, balance=True)[0]


def test_without_a_quiet_start_the_zero_can_not_be_balanced() -> None:
    data = written(PULL[30:])

    assert read(data).rest is None
    assert "begins in the middle" in told(data, balance=True)[0]


@pytest.mark.parametrize("part", [slice(0, 50), slice(56, None)])
def test_a_file_that_ends_or_begins_at_its_highest_reading_is_refused(part: slice) -> None:
    assert "the peak may lie beyond the file" in told(written(PULL[part]))[0]


@pytest.mark.parametrize("forces", [[-force for force in PULL], [0.0] * 50])
def test_a_file_without_a_pull_is_refused(forces: list[float]) -> None:
    assert "reads no pull, or pulls as negative forces" in told(written(forces))[0]


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "It is empty"),
        (b"\n\n", "It is empty"),
        (b"time [s],force [kN]\n", "It has 0 samples"),
        (b"0.1,2.0\n0.2,3.0\n", "No row at its start names both a time and a force"),
        (b"time [s],force [kN]\n0.0,\x000\n", "It is a binary file"),
        (b"\xff\xd8\xff\xe0 a picture", "It is not UTF-8 text"),
        (b'time [s],force [kN]\n0.0,"1\n', "It is no CSV"),
        (b"x" * (LARGEST_CELL_FILE + 1), "It is larger than 16 MB"),
    ],
)
def test_what_is_no_file_of_a_cell_is_refused(data: bytes, what: str) -> None:
    with pytest.raises(Unreadable, match=what):
        read(data)


@pytest.mark.parametrize(
    ("head", "what"),
    [
        ("time [s],force [kN],load [kN]", '"force [kN]" and "load [kN]" can both be the force'),
        ("time,force [kN]", "The time has no unit"),
        ("time [fortnight],force [kN]", '"fortnight" is no unit of time'),
        ("time [s],force [m]", '"m" is no unit of force'),
    ],
)
def test_a_head_that_is_not_clear_is_refused(head: str, what: str) -> None:
    assert what in told(written(PULL, head=head))[0]


def test_a_million_rows_are_refused_at_the_line_where_they_pass_the_limit() -> None:
    rows = b"".join(b"%d,0\n" % number for number in range(1_000_000))
    (problem,) = told(b"t [ms],f [N]\n" + rows)

    assert problem.startswith(f"pull.csv:{MOST_SAMPLES + 2}: file: It has over 500,000 samples")


@given(
    st.lists(st.floats(-5.0, 300.0), min_size=12, max_size=60).filter(lambda f: max(f) > 5.0),
    st.floats(1.0, 2_000.0),
)
def test_the_peak_is_the_highest_reading_whatever_the_shape(
    forces: list[float], rate: float
) -> None:
    # A quiet start, so that the zero is known to be right.
    data = written([*[0.0] * 10, *forces, 0.0], rate=rate)

    assert read(data).trace.peak == pytest.approx(1000.0 * max(forces), abs=0.1)
