"""The view model of a pull that is logged from a load cell: what was read, and what it would do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext
from markupsafe import Markup

from coursekit.drawing.cell_chart import CellLoads, CellWords, cell_chart
from coursekit.mechanics.tables import KINETIC_ALLOWANCE
from coursekit.quantities.display import show_capacity, show_load, show_pair
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.services.loads import Felt
from coursekit.services.measuring import Measured
from coursekit.wear.measured import SLOW_STEADY_RATE, CellProof
from coursekit.web.filters import percent
from coursekit.web.teach.cell_upload import CellUpload
from coursekit.web.teach.pull_pages import RigPage
from coursekit.web.teach.pulled import Pulled


@dataclass(frozen=True)
class WouldBear:
    """One item of the store and what it bore by the measured pull."""

    mark: str
    load: str
    share: str
    is_over: bool


@dataclass(frozen=True)
class DryRun:
    """What a file says of the pull, the chart, and the loads that it would log."""

    title: str
    facts: tuple[tuple[str, str], ...]
    doubts: tuple[str, ...]
    chart: Markup
    lines: tuple[WouldBear, ...]


@dataclass(frozen=True)
class CellPage:
    """The rig, and the dry run where a file was tried."""

    rig: RigPage
    act: str
    is_kinetic: bool
    dry_run: DryRun | None


def cell_page(rig: RigPage, pulled: Pulled, tried: tuple[CellUpload, Measured] | None) -> CellPage:
    """Return the page of a measured pull."""
    force = units_of(pulled.scenario)[Kind.FORCE]
    return CellPage(
        rig=rig,
        act=url_for("teach.log_measured", class_id=pulled.class_id, **pulled.args),
        is_kinetic=pulled.rig.speed is not None,
        dry_run=None if tried is None else _dry_run(*tried, force),
    )


def _dry_run(upload: CellUpload, measured: Measured, force: str) -> DryRun:
    proof = measured.compared.proof
    loads = CellLoads(upload.trace, proof.solved, measured.compared.solved, force)
    return DryRun(
        title=_title(proof, force),
        facts=tuple(_facts(measured, force)),
        doubts=tuple(_doubts(upload, measured, force)),
        chart=_inline(cell_chart(loads, _words())),
        lines=tuple(_would_bear(felt, force) for felt in measured.felt),
    )


def _title(proof: CellProof, force: str) -> str:
    measured, solved = show_load(proof.force, force), show_load(proof.solved, force)
    if proof.is_cut:
        return _(
            "Measured %(measured)s or more, solved %(solved)s", measured=measured, solved=solved
        )
    return _("Measured %(measured)s, solved %(solved)s", measured=measured, solved=solved)


def _facts(measured: Measured, force: str) -> Iterator[tuple[str, str]]:
    proof = measured.compared.proof
    reading = proof.reading
    yield (
        _("highest reading"),
        _(
            "%(peak)s at %(time)s s",
            peak=show_load(reading.peak, force),
            time=f"{reading.peak_time:.3g}",
        ),
    )
    if proof.missed:
        yield (
            _("may be missed"),
            _(
                "%(share)s between two readings; with it %(force)s",
                share=percent(proof.missed),
                force=show_load(proof.force, force),
            ),
        )
    yield _("solved there"), show_load(proof.solved, force)
    yield _("over solved"), percent(proof.ratio)
    yield (
        _("readings"),
        _(
            "%(number)s in %(unit)s, %(rate)s a second",
            number=f"{reading.samples:,}",
            rate=f"{reading.rate:.4g}",
            unit=reading.unit,
        ),
    )
    if reading.most:
        yield _("range of the cell"), _("up to %(most)s", most=show_capacity(reading.most, force))
    if reading.zero:
        yield _("zero"), _("%(force)s taken off", force=_signed(reading.zero, force))


def _doubts(upload: CellUpload, measured: Measured, force: str) -> Iterator[str]:
    reading = measured.compared.proof.reading
    if not 1 / KINETIC_ALLOWANCE <= measured.compared.proof.ratio <= KINETIC_ALLOWANCE:
        yield _(
            "Measured and solved are further apart than the model explains: look at the unit, "
            "the place of the cell and the speed before you log it."
        )
    if upload.rest is None:
        yield _("The file begins in the middle of the pull: the cell's zero can't be judged.")
    elif reading.zero > 0.0 and upload.drifts:
        yield _(
            "%(force)s was taken off every force: that is right only where the line hung slack "
            "before the pull.",
            force=show_load(reading.zero, force),
        )
    elif upload.drifts and not reading.zero:
        yield _(
            "The cell read %(force)s before the pull: every force is high by that, "
            "unless the rig was under load.",
            force=_signed(upload.rest, force),
        )
    yield from _cut(measured, force)
    if upload.gaps:
        yield ngettext(
            "The cell wrote nothing for a while, %(lasted)s s before line %(line)s: "
            "a peak there is not seen.",
            "The cell wrote nothing %(num)d times, longest %(lasted)s s before line %(line)s: "
            "a peak there is not seen.",
            upload.gaps,
            lasted=f"{upload.longest_gap:.2g}",
            line=upload.gap_line,
        )
    if measured.compared.solved is None and reading.rate < SLOW_STEADY_RATE:
        yield _(
            "Fewer than %(rate)s readings a second may hide a jerk (common practice, no source).",
            rate=f"{SLOW_STEADY_RATE:g}",
        )


def _cut(measured: Measured, force: str) -> Iterator[str]:
    """Yield what is to be told of a cell that may have been at the end of its range."""
    reading = measured.compared.proof.reading
    if reading.is_at_end and reading.most is not None:
        yield _(
            "The cell was at the end of its range of %(most)s, so the force may have been higher.",
            most=show_capacity(reading.most, force),
        )
    elif measured.compared.proof.is_cut:
        yield _(
            "The highest reading stands still for %(lasted)s s: the cell may have been at the "
            "end of its range, and the force higher.",
            lasted=f"{reading.flat:.2g}",
        )
    elif measured.compared.solved is None and reading.most is None and reading.stands_still:
        yield _(
            "The highest reading stands still for %(lasted)s s: say below what the cell reads "
            "at most, so that a force beyond it is not taken for this one.",
            lasted=f"{reading.flat:.2g}",
        )
    if measured.compared.proof.is_cut:
        yield _(
            "It is logged as a load that is not known: every item goes into quarantine, and "
            "what was over its limit even so counts as overloaded."
        )


def _signed(newtons: float, force: str) -> str:
    sign = "-" if newtons < 0 else ""
    return f"{sign}{show_load(abs(newtons), force)}"


def _would_bear(felt: Felt, force: str) -> WouldBear:
    load, limit, share = felt.pull.load, felt.pull.limit, felt.pull.share
    if load is None:
        return WouldBear(felt.kit.mark, _("not known"), "", is_over=False)
    if limit is None or share is None:
        told = _("%(load)s, no limit known", load=show_load(load, force))
        return WouldBear(felt.kit.mark, told, "", is_over=False)
    shown, most = show_pair(load, limit, force)
    told = _("%(load)s of %(limit)s", load=shown, limit=most)
    return WouldBear(felt.kit.mark, told, percent(share), is_over=share > 1.0)


def _inline(svg: bytes) -> Markup:
    """Return a chart of ours as a part of the page: all texts in it are escaped there."""
    _head, tag, drawn = svg.decode().partition("<svg ")
    return Markup(tag + drawn)  # noqa: S704  # nosec B704


def _words() -> CellWords:
    return CellWords(
        title=_("Measured and solved force"),
        time=_("time, s"),
        force=_("force, {unit}"),
        measured=_("measured, peak {load}"),
        solved=_("solved, peak {load}"),
        at=_("the peak comes {time} s after the first reading"),
    )
