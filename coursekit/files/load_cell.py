"""What a load cell wrote of one pull: a CSV file of times and forces, read within bounds.

A head names time and force, each with its unit; comma, semicolon or tab part the cells,
and decimals may have a comma where it parts no cells.  Other columns are passed over.
"""

from __future__ import annotations

import csv
import hashlib
import io
import math
import re
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from coursekit.files.cell_head import EXAMPLE, CellHead, Column, is_head, read_head, stated_range
from coursekit.files.reading import text_of, unreadable
from coursekit.mechanics.nomenclature import Newton, Newtons, Second, Seconds
from coursekit.mechanics.trace import ForceTrace
from coursekit.problems import Problem, Problems, Where
from coursekit.quantities.errors import quoted
from coursekit.quantities.parse import BOUND

LARGEST_CELL_FILE = 16 * 1024 * 1024
MOST_SAMPLES = 500_000
# A logger may write some lines about itself before the head.
_HEAD_WITHIN = 20
# So many bad rows are told; a file with more is wrong in one and the same way.
MOST_TOLD = 20
FEWEST_SAMPLES = 10
# A gap is an interval of so many usual ones.
_GAP = 5.0
# The start is quiet while it stays within this share of the range.
_QUIET = 0.05
# A reading at rest beyond this share of the peak is told.
DRIFT = 0.02
# More than this share of the peak is no zero that is off, but a line that is pulled already:
# taken off, it would be missing from every load. Common practice, no source.
MOST_BALANCED = 0.10
_NUMBER = re.compile(r"[+-]?(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,4})?")


@dataclass(frozen=True)
class Gap:
    """Where the cell wrote nothing for a while: the line after it, and how long it was."""

    line: int
    lasted: Second


@dataclass(frozen=True)
class CellFile:
    """One pull as a cell wrote it; `rest` is what it read before, None without a quiet start.

    The forces of `trace` have `rest` taken off where the zero `is_balanced`.  `most` is the
    end of the cell's range where the file states it before its head.
    """

    trace: ForceTrace
    unit: str
    sha256: str
    rest: Newton | None
    is_balanced: bool
    gaps: tuple[Gap, ...]
    most: Newton | None = None

    @property
    def has_drift(self) -> bool:
        """Whether what it read at rest is too much to pass over."""
        return self.rest is not None and abs(self.rest) > DRIFT * self.trace.peak


def read_cell(name: str, data: bytes, *, unit: str = "", balance: bool = False) -> CellFile:
    r"""Return what a load cell wrote; `unit` is what a person chose for its forces.

    `balance` takes off what the cell read before the pull, which may be little: more is load.
    What it read below zero may be much, as that only puts force on.

    Raises
    ------
    Unreadable
        If it is no such file at all, too large or too long.
    Problems
        If units are unclear, numbers can't be read, time does not rise, or the zero is off.

    >>> rows = "\n".join(f"0,{n + 10};{min(n, 12 - n)},5" for n in range(13))
    >>> read = read_cell("pull.csv", f"time [s];load [kN]\n{rows}".encode())
    >>> read.trace.peak, round(read.trace.peak_time, 9)
    (6500.0, 0.06)
    """
    if len(data) > LARGEST_CELL_FILE:
        size = LARGEST_CELL_FILE // 1024 // 1024
        raise unreadable(name, f"It is larger than {size} MB", "Keep the part with the pull")
    mark = _mark(text_of(data, name))
    rows = _filled_rows(data, mark, name)
    head, most = _head(rows, name, unit)
    samples = _samples(rows, head, mark, name)
    _require_whole(samples, head, name)
    times = np.array(samples.times) * head.time.factor
    _require_rising(times, samples.lines, head, name)
    forces = np.array(samples.forces) * head.force.factor
    _require_both_sides(forces, samples.lines, head.force.head, name)
    rest = _rest(forces)
    _require_zero(forces, rest, Where(head.force.head, head.line, name), balance=balance)
    if balance and rest is not None:
        forces = forces - rest
    return CellFile(
        trace=ForceTrace(times - times[0], forces),
        unit=head.force.unit,
        sha256=hashlib.sha256(data).hexdigest(),
        rest=rest,
        is_balanced=balance,
        gaps=tuple(_gaps(times, samples.lines)),
        most=most,
    )


@dataclass
class _Samples:
    """Numbers as they stand in the file, with their lines."""

    lines: array[int] = field(default_factory=lambda: array("l"))
    times: array[float] = field(default_factory=lambda: array("d"))
    forces: array[float] = field(default_factory=lambda: array("d"))
    problems: list[Problem] = field(default_factory=list)


def _mark(text: str) -> str:
    """Return what parts the cells: a semicolon or tab leaves the comma to the decimals."""
    first = "\n".join(text[:4096].splitlines()[:_HEAD_WITHIN])
    return next((mark for mark in (";", "\t") if mark in first), ",")


def _filled_rows(data: bytes, mark: str, name: str) -> Iterator[tuple[int, list[str]]]:
    # Decoded as it is read: a second copy of all text would be four times as large.
    stream = io.TextIOWrapper(io.BytesIO(data), "utf-8-sig", newline="")
    reader = csv.reader(stream, delimiter=mark, strict=True)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield reader.line_num, cells
    except csv.Error as error:
        raise unreadable(
            name, f"It is no CSV: {error}", "Save it again as CSV", reader.line_num
        ) from None


def _head(
    rows: Iterator[tuple[int, list[str]]], name: str, unit: str
) -> tuple[CellHead, Newton | None]:
    """Return the head, and the cell's range where a row before it states one."""
    seen, most = 0, None
    for line, cells in rows:
        if is_head(cells):
            return read_head(line, cells, name, unit), most
        most = stated_range(cells) or most
        seen += 1
        if seen == _HEAD_WITHIN:
            break
    mend = f"Begin with a head such as: {EXAMPLE}"
    if not seen:
        raise unreadable(name, "It is empty", mend)
    raise unreadable(name, "No row at its start names both a time and a force", mend)


def _samples(
    rows: Iterator[tuple[int, list[str]]], head: CellHead, mark: str, name: str
) -> _Samples:
    found, numbers = _Samples(), _Numbers(mark)
    for line, cells in rows:
        if len(found.lines) == MOST_SAMPLES:
            what = f"It has over {MOST_SAMPLES:,} samples"
            raise unreadable(name, what, "Keep the part with the pull", line)
        try:
            time, force = (_cell(numbers, cells, column) for column in (head.time, head.force))
        except _BadCell as bad:
            where = Where(bad.column.head, line, name)
            found.problems.append(Problem(where, bad.what, bad.mend))
            if len(found.problems) == MOST_TOLD:
                break
            continue
        found.lines.append(line)
        found.times.append(time)
        found.forces.append(force)
    return found


class _BadCell(Exception):
    def __init__(self, column: Column, what: str, mend: str) -> None:
        self.column, self.what, self.mend = column, what, mend
        super().__init__(what)


class _Numbers:
    """Reads the numbers of one file, whose decimals all have the same mark."""

    def __init__(self, mark: str) -> None:
        self._decimal = "." if mark == "," else ""

    def read(self, text: str) -> float | None:
        """Return a number, None where the text is none in this file."""
        if _NUMBER.fullmatch(text) is None:
            return None
        used = next((mark for mark in ".," if mark in text), "")
        self._decimal = self._decimal or used
        if used and used != self._decimal:
            return None
        return float(text.replace(",", "."))


def _cell(numbers: _Numbers, cells: Sequence[str], column: Column) -> float:
    text = cells[column.number].strip() if column.number < len(cells) else ""
    if not text:
        raise _BadCell(column, "The cell is empty", "Fill it in, or leave the row out")
    number = numbers.read(text)
    if number is None:
        mend = "Write plain digits, decimals with one and the same mark, nothing between thousands"
        raise _BadCell(column, f"{quoted(text)} is not a number", mend)
    if not math.isfinite(number) or abs(number * column.factor) >= BOUND:
        raise _BadCell(
            column, f"{quoted(text)} is too large to be meant", "Look at what the cell wrote there"
        )
    return number


def _require_whole(samples: _Samples, head: CellHead, name: str) -> None:
    if samples.problems:
        raise Problems(samples.problems)
    if len(samples.lines) < FEWEST_SAMPLES:
        raise unreadable(
            name,
            f"It has {len(samples.lines)} samples, too few for a pull",
            f"Give {FEWEST_SAMPLES} or more below the head",
            head.line,
        )


def _require_rising(
    times: Seconds,
    lines: Sequence[int],
    head: CellHead,
    name: str,
) -> None:
    falls = [int(at) for at in np.flatnonzero(np.diff(times) <= 0.0)[:MOST_TOLD]]
    if falls:
        what = "The time is not later than in the row before"
        mend = "Put the rows in the order of their time, each instant once, one pull a file"
        raise Problems(
            [Problem(Where(head.time.head, lines[at + 1], name), what, mend) for at in falls]
        )


def _rest(forces: Newtons) -> Newton | None:
    """Return what the cell read before the pull, None where it starts in the middle."""
    few = FEWEST_SAMPLES // 2
    level = np.median(forces[:few])
    loud = np.flatnonzero(np.abs(forces - level) > _QUIET * np.ptp(forces))
    quiet = int(loud[0]) if loud.size else 0
    return float(np.median(forces[:quiet])) if quiet >= few else None


def _require_zero(
    forces: Newtons,
    rest: Newton | None,
    where: Where,
    *,
    balance: bool,
) -> None:
    peak = float(forces.max())
    zero = rest or 0.0
    if peak - zero <= 0.0 or float(forces.min()) - zero < zero - peak:
        what = "The cell reads no pull, or pulls as negative forces"
        raise Problems([Problem(where, what, "Turn the sign, or look at how the cell was joined")])
    if balance and rest is None:
        what = "It begins in the middle of the pull: what the cell read at rest is not known"
        raise Problems([Problem(where, what, "Take the readings as they stand, or log it solved")])
    if balance and zero > MOST_BALANCED * peak:
        what = (
            f"The cell reads {100 * zero / peak:.0f} % of its peak at rest: the line was under load"
        )
        mend = "Take the readings as they stand; balance a cell only where its line hung slack"
        raise Problems([Problem(where, what, mend)])
    if not balance and rest is not None and rest < -DRIFT * peak:
        what = "The cell reads below zero at rest, so every force is too low"
        raise Problems([Problem(where, what, "Balance the zero")])


def _require_both_sides(forces: Newtons, lines: Sequence[int], column: str, name: str) -> None:
    highest = int(forces.argmax())
    if highest in (0, forces.size - 1) and forces[highest] > abs(forces.min()):
        what = "The highest reading is the first or the last: the peak may lie beyond the file"
        raise Problems([Problem(Where(column, lines[highest], name), what, "Give the whole pull")])


def _gaps(times: Seconds, lines: Sequence[int]) -> Iterator[Gap]:
    intervals = np.diff(times)
    for at in map(int, np.flatnonzero(intervals > _GAP * np.median(intervals))):
        yield Gap(lines[at + 1], float(intervals[at]))
