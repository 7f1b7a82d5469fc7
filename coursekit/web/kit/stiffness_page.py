"""What a rope's measured pulls say of its stiffness, solved against measured."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.mechanics.nomenclature import NewtonPerMetre
from coursekit.quantities.display import show, show_load
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import METRIC
from coursekit.services.stiffness import MeasuredPeak, RopeStiffness
from coursekit.wear.stiffness import StiffnessFit
from coursekit.web.filters import percent

NOTABLY = 1.1
"""A rope this much stiffer than it is reckoned is worth a look; common practice, no source."""
FEW = 3
"""Fewer pulls than this fit by chance; common practice, no source."""


@dataclass(frozen=True)
class PeakLine:
    """One measured peak beside the solved ones."""

    at: datetime
    url: str
    speed: str
    measured: str
    stated: str
    fitted: str


@dataclass(frozen=True)
class StiffnessPage:
    """The fit in a sentence, what it means, and the pulls that it is made of."""

    verdict: str
    alarm: str
    caution: str
    facts: tuple[tuple[str, str], ...]
    lines: tuple[PeakLine, ...]


def stiffness_page(rope: RopeStiffness) -> StiffnessPage:
    """Return the part of an item's page about its measured stiffness."""
    fit = rope.fit if rope.fit is not None and not rope.fit.is_at_an_end else None
    return StiffnessPage(
        verdict=_verdict(rope, fit),
        alarm=_alarm(rope, fit),
        caution=_caution(rope),
        facts=_facts(rope, fit),
        lines=tuple(_line(peak, fits=fit is not None) for peak in reversed(rope.peaks)),
    )


def _verdict(rope: RopeStiffness, fit: StiffnessFit | None) -> str:
    if fit is None:
        return _("No stiffness explains what was measured: look at speeds, units and places.")
    return ngettext(
        "%(num)d measured pull fits %(share)s of the stated stiffness",
        "%(num)d measured pulls fit %(share)s of the stated stiffness",
        len(rope.peaks),
        share=percent(fit.factor),
    )


def _alarm(rope: RopeStiffness, fit: StiffnessFit | None) -> str:
    if fit is None or fit.factor <= NOTABLY * rope.reckoned:
        return ""
    return _(
        "It is stiffer than it is reckoned, so its peaks come higher than solved: "
        "have it looked over, and drive slower with it."
    )


def _caution(rope: RopeStiffness) -> str:
    if len(rope.peaks) >= FEW:
        return ""
    return _("So few pulls may fit by chance (common practice, no source).")


def _facts(rope: RopeStiffness, fit: StiffnessFit | None) -> tuple[tuple[str, str], ...]:
    stated = (_("as stated"), _stiffness(rope.stated))
    reckoned = (_("as reckoned"), _stiffness(rope.reckoned * rope.stated))
    if fit is None:
        return stated, reckoned
    alone = _(
        "%(low)s to %(high)s",
        low=_stiffness(fit.lowest * rope.stated),
        high=_stiffness(fit.highest * rope.stated),
    )
    fitted = (_("as it fits"), _stiffness(fit.factor * rope.stated))
    if len(rope.peaks) == 1:
        return stated, reckoned, fitted
    return stated, reckoned, fitted, (_("by single pulls"), alone)


def _line(peak: MeasuredPeak, *, fits: bool) -> PeakLine:
    return PeakLine(
        at=peak.at,
        url=url_for("teach.pull", class_id=peak.class_id, pull_id=peak.pull_id),
        speed=show(peak.speed, Kind.SPEED, METRIC[Kind.SPEED]),
        measured=show_load(peak.measured),
        stated=show_load(peak.stated),
        fitted=show_load(peak.fitted) if fits and peak.fitted is not None else "",
    )


def _stiffness(stiffness: NewtonPerMetre) -> str:
    return show(stiffness, Kind.STIFFNESS, METRIC[Kind.STIFFNESS], "up")
