"""A student's answers as read: what was typed, and what it was understood to be."""

from __future__ import annotations

from dataclasses import dataclass

from coursekit.problems import Problem
from coursekit.rigging.rig import Rig


@dataclass(frozen=True)
class Reading:
    """The typed number read in some other common unit, in SI."""

    unit: str
    value: float


@dataclass(frozen=True)
class QuantityReply:
    """A number with its unit; `value` is None where the unit is missing or unclear.

    `rounding` is half a unit of the last digit typed, as a share of the number.
    """

    text: str
    value: float | None
    rounding: float = 0.0
    readings: tuple[Reading, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class RigReply:
    """A rig as built; None where it can't be solved, with the problems that say why."""

    rig: Rig | None
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True)
class NameReply:
    """One name: an item or a choice."""

    name: str


@dataclass(frozen=True)
class NamesReply:
    """Several names: a set of items, or an order."""

    names: tuple[str, ...]


Reply = QuantityReply | RigReply | NameReply | NamesReply
