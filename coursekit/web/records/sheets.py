"""Records and certificates as printed sheets, from the same view models as their pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from flask_babel import gettext as _

from coursekit.drawing.pdf_sheet import Facts, Figure, Part, Sheet, Table, Text
from coursekit.web.filters import day
from coursekit.web.given_out import sheet_of
from coursekit.web.qr import qr_png
from coursekit.web.records.pages import RecordLine
from coursekit.web.records.record_page import CertificatePage, PaperPart, RecordPage, TaskLine
from coursekit.web.verdicts import outcome_of, validity_of


def record_sheet(page: RecordPage, school: str, at: datetime) -> Sheet:
    """Return a record as a sheet."""
    return sheet_of(page.title, _("Record of assessment"), school, at, tuple(_record(page)))


def person_sheet(lines: Sequence[RecordLine], school: str, at: datetime) -> Sheet:
    """Return all records of a student as a sheet, the newest first."""
    table = Table(
        head=(_("Day"), _("Class"), _("Outcome"), _("Certificate")),
        rows=[(day(line.on), _class(line), _outcome(line), _held(line)) for line in lines],
        heading=_("All records, the newest first"),
        widths=(0.15, 0.4, 0.2, 0.25),
    )
    return sheet_of(lines[0].student, _("Records of a student"), school, at, [table])


def certificate_sheet(page: CertificatePage, address: str, at: datetime) -> Sheet:
    """Return a certificate as a sheet, with the address where anybody can check it."""
    parts: list[Part] = [
        *([Text(page.question, warns=True)] if page.question else []),
        Facts(page.facts),
        Text("; ".join(page.assessed), _("What was assessed")),
        Text("; ".join(page.not_assessed), _("What was not assessed")),
        Text(page.limits, warns=True),
        Text(_("Anybody can check it at %(address)s", address=address), _("Check it")),
        Figure(qr_png(address), _("Code of the address"), width=0.2),
    ]
    return sheet_of(page.title, _("Certificate of a record of assessment"), page.school, at, parts)


def _record(page: RecordPage) -> Iterator[Part]:
    if page.moved is not None:
        yield Text(
            _(
                "Marks changed after this record was issued. They now say: %(outcome)s",
                outcome=outcome_of(page.moved).word,
            ),
            warns=True,
        )
    yield Facts(page.facts)
    for paper in page.papers:
        yield from _paper(paper)
    for place in page.yard:
        yield Facts(place.facts, place.title)
        if place.rows:
            yield Table((_("To be seen"), _("Seen")), place.rows, widths=(0.6, 0.4))
    if page.acts:
        rows = tuple((act.text, act.reason) for act in page.acts)
        yield Facts(rows, _("What became of the certificate"))
    yield Facts(page.seal, _("How it is kept"))


def _paper(paper: PaperPart) -> Iterator[Part]:
    yield Facts(paper.facts, paper.title)
    for stop in paper.stops:
        yield Text(f"{outcome_of('unsafe').word}: {stop}", warns=True)
    yield Table(
        head=(_("Asked"), _("Answered"), _("Marks"), _("Verdict and why")),
        rows=[
            (
                task.question,
                _answered(task),
                task.marks,
                _verdict(task),
            )
            for task in paper.tasks
        ],
        widths=(0.3, 0.22, 0.1, 0.38),
    )
    for task in paper.tasks:
        if task.rig is not None:
            yield Text(" ".join(task.rig.text), _("The rig: %(asked)s", asked=task.question))
    for change in paper.changes:
        yield Text(change)


def _answered(task: TaskLine) -> str:
    if task.understood:
        return f"{task.typed} ({task.understood})"
    return task.typed or _("nothing")


def _verdict(task: TaskLine) -> str:
    """Return the verdict and why, once where the reason says it already."""
    if task.feedback.startswith(task.verdict_word):
        return task.feedback
    return f"{task.verdict_word}. {task.feedback}".strip()


def _class(line: RecordLine) -> str:
    return f"{line.course}, {line.title}" if line.course else line.title


def _outcome(line: RecordLine) -> str:
    recorded = str(outcome_of(line.outcome).word)
    if line.moved is None:
        return recorded
    return _(
        "%(recorded)s; marks now say: %(now)s", recorded=recorded, now=outcome_of(line.moved).word
    )


def _held(line: RecordLine) -> str:
    if line.validity is None or line.until is None:
        return _("none")
    return _("%(standing)s, until %(day)s", standing=validity_of(line.validity).word,
             day=day(line.until))  # fmt: skip
