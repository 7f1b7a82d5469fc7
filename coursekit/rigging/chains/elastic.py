"""What stretches in a kinetic line: each part by its stated stretch, all of them in a row."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from coursekit.mechanics import kinetic
from coursekit.mechanics.constants import FOOT
from coursekit.mechanics.nomenclature import (
    Metre,
    Newton,
    NewtonPerMetre,
    Newtons,
    Ratio,
    Seconds,
)
from coursekit.mechanics.rope import InSeries, Law, PowerLaw, Tabulated
from coursekit.mechanics.stiff_snatch import StiffSnatch
from coursekit.mechanics.tables import KINETIC_STRAIN
from coursekit.rigging.gear import Item, Stretch
from coursekit.rigging.rig import Line
from coursekit.rigging.site import Policy, Situation
from coursekit.rigging.steps import Values


@dataclass(frozen=True)
class ElasticPart:
    """One item that stretches, and how much stiffer the school takes it than stated."""

    item: Item
    stretch: Stretch
    stiffer_by: float

    def law(self, *, as_new: bool = False, length: Metre | None = None) -> Law:
        """Return how it answers to its tension, for another length if one is given.

        Dry breaking strength is taken also for a wet rope: stiffer is the safe side.
        """
        load = (self.item.mbs or 0.0) * (1.0 if as_new else self.stiffer_by)
        of = self.item.line_length if length is None else length
        if self.stretch.curve:
            strains, shares = zip(*self.stretch.curve, strict=True)
            return Tabulated(tuple(load * share for share in shares), strains, of)
        return PowerLaw(load * self.stretch.at, self._strain, of, self.stretch.stiffening)

    def secant(self, *, as_new: bool = False, length: Metre | None = None) -> NewtonPerMetre:
        """Return its stiffness from rest to the last point that is stated of it."""
        load = (self.item.mbs or 0.0) * (1.0 if as_new else self.stiffer_by) * self.stretch.at
        of = self.item.line_length if length is None else length
        return kinetic.linear_stiffness(load, self._strain, of)

    @property
    def stated_stretch(self) -> Metre:
        """Its stretch at the last point that is stated of it."""
        return self._strain * self.item.line_length

    @property
    def _strain(self) -> float:
        return self.stretch.strain or 0.0


@dataclass(frozen=True)
class ElasticLine:
    """The parts of a kinetic line that stretch; the others only add to its length."""

    parts: tuple[ElasticPart, ...]
    unit: Metre

    @property
    def is_straight(self) -> bool:
        """Whether the tension of every part is a straight line over its stretch."""
        return all(part.stretch.is_straight for part in self.parts)

    @property
    def factors(self) -> str:
        """The factors on the stated stiffness, part by part; empty where all are 1."""
        return ", ".join(
            f"{part.item.id} x {part.stiffer_by:g}" for part in self.parts if part.stiffer_by != 1.0
        )

    @property
    def law(self) -> Law:
        """How the whole line answers to its tension."""
        return InSeries(tuple(part.law() for part in self.parts))

    @property
    def law_as_new(self) -> Law:
        """How it would if no part were worked or wet."""
        return InSeries(tuple(part.law(as_new=True) for part in self.parts))

    @property
    def law_by_strain(self) -> Law:
        """How it would if every strain were a stretch of so many metres, or feet."""
        return InSeries(tuple(part.law(length=self.unit) for part in self.parts))

    @property
    def secant(self) -> NewtonPerMetre:
        """The stiffness of the line as if all of it were linear."""
        return kinetic.series_stiffness([part.secant() for part in self.parts])

    @property
    def secant_as_new(self) -> NewtonPerMetre:
        """That stiffness if no part were worked or wet."""
        return kinetic.series_stiffness([part.secant(as_new=True) for part in self.parts])

    @property
    def secant_by_strain(self) -> NewtonPerMetre:
        """That stiffness if every strain were a stretch of so many metres, or feet."""
        return kinetic.series_stiffness([part.secant(length=self.unit) for part in self.parts])

    @property
    def stated_stretch(self) -> Metre:
        """The stretch of all parts, each at the last point that is stated of it."""
        return sum(part.stated_stretch for part in self.parts)

    def history(self, values: Values) -> tuple[Seconds, Newtons]:
        """Return times and tensions of a pull whose chain has been folded."""
        moving, stuck, speed = values["recovery_mass"], values["mass"], values["kinetic.speed"]
        resistance, drive = values["pull"], values["drive"]
        if self.is_straight:
            stiffness = values["kinetic.stiffness"]
            return kinetic.force_history(moving, stuck, speed, stiffness, resistance, drive)
        return StiffSnatch(moving, stuck, speed, self.law, resistance, drive).history()

    def peak(self, values: Values) -> Newton:
        """Return the peak of a pull whose chain has been folded, with this line in it."""
        moving, stuck, speed = values["recovery_mass"], values["mass"], values["kinetic.speed"]
        resistance, drive = values["pull"], values["drive"]
        if self.is_straight:
            return kinetic.peak_tension(moving, stuck, speed, self.secant, resistance, drive)
        return StiffSnatch(moving, stuck, speed, self.law, resistance, drive).peak

    def with_factor(self, item: str, factor: Ratio) -> ElasticLine:
        """Return the line with another factor on the stated stiffness of one item."""
        parts = tuple(
            replace(part, stiffer_by=factor) if part.item.id == item else part
            for part in self.parts
        )
        return replace(self, parts=parts)


def elastic_line(situation: Situation, line: Line) -> ElasticLine | None:
    """Return what stretches in a line, None where nobody knows that anything does."""
    parts = tuple(_parts(situation, line))
    return ElasticLine(parts, FOOT if situation.us_units else 1.0) if parts else None


def _parts(situation: Situation, line: Line) -> Iterator[ElasticPart]:
    for name in line.made_of:
        item = situation.gear[name]
        if item.is_elastic and item.mbs is not None and item.line_length:
            stretch = item.stretch or Stretch(KINETIC_STRAIN[item.kind])
            yield ElasticPart(item, stretch, _stiffer_by(situation.policy, item))


def _stiffer_by(policy: Policy, item: Item) -> float:
    """Return the factor on an item's stated stiffness.

    A stiffer rope peaks higher, so the safe side is a high factor: where nobody knows
    that a rope is nylon, water makes it no softer.
    """
    wet = policy.wet_stiffness if item.is_wet_nylon else 1.0
    if wet < 1.0 and item.may_be_no_nylon:
        wet = 1.0
    return wet * (policy.worked_stiffness if item.worked else 1.0)
