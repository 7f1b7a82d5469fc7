"""The head of a load cell's file: which columns hold time and force, and in which units."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coursekit.mechanics.nomenclature import Newton
from coursekit.problems import Problem, Problems, Where
from coursekit.quantities.errors import quoted
from coursekit.quantities.units import Kind, find_unit, is_ambiguous_ton, si_factor, units_for

# Seconds in each; "min" would be the lowest reading as often as a minute.
TIMES = {
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), 1.0),
    **dict.fromkeys(("ms", "msec", "millisecond", "milliseconds"), 1e-3),
    **dict.fromkeys(("us", "µs", "μs", "microsecond", "microseconds"), 1e-6),
}
# A tonne shows on many cells as t, and stands there for a force: which, the person says.
_TONS = frozenset({"t", "te"})
TON_FORCES = ("tf", "short ton", "long ton")
_TIME_NAMES = frozenset({"time", "t", "elapsed", "timestamp"})
_FORCE_NAMES = frozenset({"force", "load", "pull", "tension", "f"})
_BRACKETS = re.compile(r"[\[({]([^\])}]*)[\])}]\s*$")
_BRACKETED = re.compile(r"[\[({]([^\])}]*)[\])}]")
_PARTS = re.compile(r"[\s_/,:]+")
EXAMPLE = "time [s], force [kN]"
# What a logger may write of its cell before the head, with its unit in brackets or after it.
_RANGE = re.compile(r"\b(?:range|capacity|full[ _-]?scale)\b(.*)", re.IGNORECASE)
_RANGE_NUMBER = re.compile(
    r"(?<![0-9.,])([0-9]+(?:[.,][0-9]{1,2}|\.[0-9]+)?)(?![0-9.,]) *([^\W\d_]*)"
)


@dataclass(frozen=True)
class Column:
    """One column of the file: its number, its head as written, SI units in one of its own."""

    number: int
    head: str
    unit: str
    factor: float


@dataclass(frozen=True)
class CellHead:
    """Where time and force stand in each row."""

    line: int
    time: Column
    force: Column


def is_head(cells: Sequence[str]) -> bool:
    """Return whether a row names a time and a force.

    >>> is_head(["time [s]", "force (kN)"]), is_head(["0.00", "0.12"])
    (True, False)
    """
    return {"time", "force"} <= {_meaning(cell) for cell in cells}


def read_head(line: int, cells: Sequence[str], name: str, chosen: str = "") -> CellHead:
    """Return the columns of time and force; `chosen` is the unit that a person gave the forces.

    Raises
    ------
    Problems
        If a column stands there twice, or its unit is missing, unknown or can mean two things.
    """
    problems = list(_twice(line, cells, name))
    if problems:
        raise Problems(problems)
    at = {_meaning(cell): number for number, cell in enumerate(cells)}
    found: list[Column] = []
    for meaning in ("time", "force"):
        head = " ".join(cells[at[meaning]].split())
        try:
            unit, factor = _time_unit(head) if meaning == "time" else _force_unit(head, chosen)
        except _Unclear as unclear:
            problems.append(Problem(Where(head, line, name), unclear.what, unclear.mend))
        else:
            found.append(Column(at[meaning], head, unit, factor))
    if problems:
        raise Problems(problems)
    return CellHead(line, *found)


def stated_range(cells: Sequence[str]) -> Newton | None:
    """Return the end of the cell's range that a row before the head states, else None.

    What isn't plain, such as a tonne that is no force, is passed over: who logs the pull
    may state it.

    >>> stated_range(["Range: 0-50 kN"]), stated_range(["Capacity [lbf]", "10000"])
    (50000.0, 44482.216152605)
    >>> stated_range(["Range", "2 kHz"]), stated_range(["Range 12,500 N"])
    (None, None)
    """
    said = _RANGE.search(" ".join(cells))
    numbers = _RANGE_NUMBER.findall(said[1]) if said else []
    found = [(float(number.replace(",", ".")), token) for number, token in numbers]
    # A range may begin at 0; other numbers beside its end are read by nobody.
    if said is None or not found or any(number for number, _token in found[:-1]):
        return None
    number, token = found[-1]
    bracketed = _BRACKETED.search(said[1])
    text = token or (bracketed[1].strip() if bracketed else "")
    unit = None if text in _TONS or is_ambiguous_ton(text) else find_unit(text)
    if unit is None or unit not in units_for(Kind.FORCE):
        return None
    return number * float(si_factor(unit, Kind.FORCE)) or None


class _Unclear(Exception):
    def __init__(self, what: str, mend: str) -> None:
        self.what, self.mend = what, mend
        super().__init__(what, mend)


def _meaning(cell: str) -> str:
    """Return what a column holds by its head: "time", "force" or nothing of ours."""
    words = [word.casefold() for word in _PARTS.split(_BRACKETS.sub("", cell).strip()) if word]
    if "time" in words or (words and words[0] in _TIME_NAMES):
        return "time"
    return "force" if _FORCE_NAMES & set(words) else ""


def _unit_text(head: str) -> str:
    """Return the unit that a head names, in brackets or after the name.

    >>> _unit_text("force (kN)"), _unit_text("load lbf"), _unit_text("time_ms"), _unit_text("pull")
    ('kN', 'lbf', 'ms', '')
    """
    bracketed = _BRACKETS.search(head)
    if bracketed:
        return bracketed[1].strip()
    words = [word for word in _PARTS.split(head.strip()) if word]
    named = [
        number
        for number, word in enumerate(words)
        if word.casefold() in _TIME_NAMES | _FORCE_NAMES and (number == 0 or word != "t")
    ]
    return " ".join(words[named[-1] + 1 :])


def _twice(line: int, cells: Sequence[str], name: str) -> Iterator[Problem]:
    for meaning in ("time", "force"):
        heads = [cell for cell in cells if _meaning(cell) == meaning]
        if len(heads) > 1:
            told = " and ".join(quoted(" ".join(head.split())) for head in heads[:3])
            where = Where(" ".join(heads[1].split()), line, name)
            yield Problem(where, f"{told} can both be the {meaning}", "Keep one of them")


def _time_unit(head: str) -> tuple[str, float]:
    text = _unit_text(head)
    if not text:
        raise _Unclear("The time has no unit", "Write it into the head, as time [s] or time [ms]")
    factor = TIMES.get(text.casefold())
    if factor is None:
        raise _Unclear(
            f"{quoted(text)} is no unit of time that is read here",
            "Write the time in seconds or milliseconds, as time [s] or time [ms]",
        )
    return text, factor


def _force_unit(head: str, chosen: str) -> tuple[str, float]:
    text = _unit_text(head)
    if is_ambiguous_ton(text) or text in _TONS:
        if chosen not in TON_FORCES:
            raise _Unclear(
                f"{quoted(text)} does not say which ton",
                "Choose beside the file whether it is a tonne-force, the weight of a short ton "
                "or that of a long ton",
            )
        text = chosen
    unit = find_unit(text or chosen)
    if not text and not chosen:
        raise _Unclear(
            "The force has no unit",
            "Write it into the head, as force [kN], or choose it beside the file",
        )
    if unit is None or unit not in units_for(Kind.FORCE):
        known = ", ".join(one.symbol for one in units_for(Kind.FORCE)[:6])
        raise _Unclear(f"{quoted(text)} is no unit of force", f"Use one of {known}")
    if chosen and unit.symbol != chosen:
        raise _Unclear(
            f"The head says {unit}, and {chosen} was chosen beside the file",
            "Choose what is right, or leave it to the head",
        )
    return unit.symbol, float(si_factor(unit, Kind.FORCE))
