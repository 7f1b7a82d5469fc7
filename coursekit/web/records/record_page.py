"""View models of one record and its certificate, the same for the page and the printed sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask_babel import format_datetime
from flask_babel import gettext as _

from coursekit.assessment.codes import grouped
from coursekit.assessment.validity import Act
from coursekit.drawing.site_plan import SitePlan
from coursekit.problems import Message
from coursekit.scenario.model import Scenario
from coursekit.scenario.strands import STRANDS
from coursekit.scenario.yard import Level
from coursekit.services.records import CertificateRow, RecordView
from coursekit.web import words
from coursekit.web.answer_text import typed_text, understood_text
from coursekit.web.filters import day
from coursekit.web.own_rig import own_rig
from coursekit.web.plan import asking_plan
from coursekit.web.questions import question
from coursekit.web.rig_text import rig_text
from coursekit.web.verdicts import LEVELS, outcome_of, validity_of, verdict_of
from coursekit.web.worded import worded

Fact = tuple[str, str]


@dataclass(frozen=True)
class BuiltRig:
    """The rig that a student built, in words and drawn as it lay, without its loads."""

    text: tuple[str, ...]
    plan: SitePlan


@dataclass(frozen=True)
class TaskLine:
    """One task of a paper: what was asked, answered and earned, and why."""

    question: str
    typed: str
    understood: str
    verdict: str
    verdict_word: str
    earned: float
    out_of: float
    feedback: str
    rig: BuiltRig | None

    @property
    def marks(self) -> str:
        """What it earned, of what it could."""
        return f"{self.earned:g} / {self.out_of:g}"


@dataclass(frozen=True)
class PaperPart:
    """One paper of the record."""

    title: str
    outcome: str
    facts: tuple[Fact, ...]
    stops: tuple[str, ...]
    tasks: tuple[TaskLine, ...]
    changes: tuple[str, ...]


@dataclass(frozen=True)
class YardPart:
    """One yard list of the record: what each assessor saw, criterion by criterion."""

    title: str
    facts: tuple[Fact, ...]
    rows: tuple[Fact, ...]


@dataclass(frozen=True)
class ActLine:
    """What was done to a certificate."""

    text: str
    reason: str


@dataclass(frozen=True)
class CertificatePage:
    """What a certificate says, and no more."""

    record_id: int
    title: str
    student: str
    school: str
    standing: str
    code: str
    facts: tuple[Fact, ...]
    question: str
    assessed: tuple[str, ...]
    not_assessed: tuple[str, ...]
    limits: str


@dataclass(frozen=True)
class RecordPage:
    """One record of assessment."""

    record_id: int
    person_id: int
    class_id: int
    title: str
    student: str
    outcome: str
    standing: str | None
    moved: str | None
    facts: tuple[Fact, ...]
    papers: tuple[PaperPart, ...]
    yard: tuple[YardPart, ...]
    seal: tuple[Fact, ...]
    acts: tuple[ActLine, ...]
    follows_id: int | None
    followed_by: int | None
    certificate_id: int | None

    @property
    def is_drawn(self) -> bool:
        """Whether a rig is drawn in it."""
        return any(task.rig for paper in self.papers for task in paper.tasks)


def record_page(view: RecordView) -> RecordPage:
    """Return the page of a record."""
    row, line = view.record, view.record.line
    certificate = line.certificate
    word = outcome_of(line.outcome).word
    return RecordPage(
        record_id=line.record_id,
        person_id=line.person_id,
        class_id=line.class_id,
        title=_("%(student)s: %(outcome)s", student=line.student, outcome=str(word).lower()),
        student=line.student,
        outcome=line.outcome,
        standing=None if view.validity is None else view.validity.value,
        moved=view.moved,
        facts=tuple(_facts(view)),
        papers=tuple(_paper(view, paper) for paper in row.document["papers"]),
        yard=tuple(_yard(view, place) for place in row.document.get("yard", [])),
        seal=tuple(_seal(view)),
        acts=_acts(certificate),
        follows_id=row.follows_id,
        followed_by=row.followed_by,
        certificate_id=None if certificate is None else certificate.id,
    )


def certificate_page(view: RecordView) -> CertificatePage | None:
    """Return what the certificate of a record says, None where it has none."""
    line, document = view.record.line, view.record.document
    certificate = line.certificate
    if certificate is None or view.validity is None:
        return None
    assessed = document["assessed"]
    return CertificatePage(
        record_id=line.record_id,
        title=_title(view, certificate),
        student=line.student,
        school=view.record.school,
        standing=view.validity.value,
        code=grouped(certificate.code),
        facts=tuple(_certificate_facts(view, certificate)),
        question=_(
            "Marks behind it changed after it was issued. Ask the school before you rely on it."
        )
        if view.validity == "in-question"
        else "",
        assessed=tuple(str(words.STRANDS[strand]) for strand in assessed),
        not_assessed=(
            *(str(words.STRANDS[strand]) for strand in STRANDS if strand not in assessed),
            _("driving, first aid, and any pull outside the school's own training"),
        ),
        limits=_(
            "This is a record of assessment by a school, on the scenarios named here. It is no "
            "licence and clears no pull: the maker's rating, local codes and the qualified people "
            "on the spot decide."
        ),
    )


def _title(view: RecordView, certificate: CertificateRow) -> str:
    student, until = view.record.line.student, day(certificate.term.expires)
    if view.validity in ("valid", "expiring"):
        return _("%(student)s is competent until %(until)s", student=student, until=until)
    standing = str(validity_of(str(view.validity)).word).lower()
    return _("%(student)s: this certificate is %(standing)s", student=student, standing=standing)


def _certificate_facts(view: RecordView, certificate: CertificateRow) -> Iterator[Fact]:
    line, document = view.record.line, view.record.document
    yield _("Name"), line.student
    yield _("Assessed by"), view.record.school
    yield _("Course and class"), f"{line.course} · {line.title}"
    for paper in document["papers"]:
        yield (
            _("Scenario"),
            _("%(title)s, version %(digest)s", title=paper["title"], digest=paper["digest"][:12]),
        )
    yield _("Holds from"), day(certificate.term.effective)
    yield _("Holds until"), day(certificate.term.expires)
    yield _("Record"), str(line.seq)
    yield _("Code"), grouped(certificate.code)


def _facts(view: RecordView) -> Iterator[Fact]:
    line, document = view.record.line, view.record.document
    group = document["class"]
    yield _("Student"), line.student
    yield _("Course and class"), f"{line.course} · {line.title}"
    yield _("Day"), day(line.on)
    yield _("Place"), document["place"]
    for label, key in ((_("Conditions"), "conditions"), (_("Adjustments"), "adjustments")):
        if document[key]:
            yield label, document[key]
    if group["opened_at"] and group["closed_at"]:
        times = (_moment(group[key], group["timezone"]) for key in ("opened_at", "closed_at"))
        yield _("Open"), _span(times)
    yield _("Assessor"), _name(view, document["assessor"])
    if document["papers"]:
        yield _("Marks"), f"{document['marks']:g} / {document['out_of']:g}"
        yield _("Assessed"), ", ".join(str(words.STRANDS[one]) for one in document["assessed"])
    if document["missing"]:
        yield _("Not handed in"), ", ".join(document["missing"])
    if document["kit"]:
        yield _("Kit that was pulled in the class"), ", ".join(document["kit"])


def _seal(view: RecordView) -> Iterator[Fact]:
    row = view.record
    yield _("Record"), str(row.line.seq)
    yield _("Issued"), _("%(when)s by %(who)s", who=row.issued_by,
        when=_moment(row.line.issued_at.isoformat(), row.timezone))  # fmt: skip
    yield _("School's policy"), _("version %(number)s", number=row.document["policy"])
    yield _("Solver"), _("version %(number)s", number=row.document["solver"])
    yield _("Hash"), row.hash
    yield _("Hash of the record before"), row.prev_hash


def _paper(view: RecordView, paper: Mapping[str, Any]) -> PaperPart:
    scenario = view.scenarios[paper["attempt"]]
    return PaperPart(
        title=paper["title"],
        outcome=paper["outcome"],
        facts=tuple(_paper_facts(view, paper)),
        stops=tuple(dict.fromkeys(worded(scenario, Message.of(said)) for said in paper["stops"])),
        tasks=tuple(_task(scenario, task) for task in paper["tasks"]),
        changes=tuple(_changes(view, paper)),
    )


def _yard(view: RecordView, place: Mapping[str, Any]) -> YardPart:
    facts = []
    if place["outcome"] is not None:
        facts = [
            (_("Outcome"), str(outcome_of(place["outcome"]).word)),
            (_("Marks"), f"{place['marks']:g} / {place['out_of']:g}"),
        ]
    facts += [
        (
            _("Agreed by") if sheet["kind"] == "agreed" else _("Seen by"),
            f"{_name(view, sheet['by'])}, {_moment(sheet['at'], view.record.timezone)}. "
            f"{sheet['reason']}".strip(),
        )
        for sheet in place["sheets"]
    ]
    return YardPart(
        _("Yard list: %(title)s", title=place["title"]),
        tuple(facts) or ((_("Outcome"), _("not marked in the yard")),),
        tuple(
            (text, "; ".join(_level_seen(sheet, name) for sheet in place["sheets"]))
            for name, text in place["criteria"].items()
            if place["sheets"]
        ),
    )


def _level_seen(sheet: Mapping[str, Any], name: str) -> str:
    shape, word = LEVELS[Level(sheet["levels"][name])]
    said = f"{shape} {word}"
    return f"{said} ({sheet['notes'][name]})" if name in sheet["notes"] else said


def _paper_facts(view: RecordView, paper: Mapping[str, Any]) -> Iterator[Fact]:
    zone = view.record.timezone
    yield _("Outcome"), str(outcome_of(paper["outcome"]).word)
    yield (
        _("Marks"),
        _(
            "%(marks)s of %(out_of)s; %(needed)s are needed",
            marks=f"{paper['marks']:g}",
            out_of=f"{paper['out_of']:g}",
            needed=f"{100 * paper['pass_share']:.3g} %",
        ),
    )
    yield (
        _("Begun and handed in"),
        _span(_moment(paper[key], zone) for key in ("started_at", "submitted_at")),
    )
    yield _("Try"), str(paper["try"])
    yield _("Scenario version"), paper["digest"]
    yield _("Numbers"), _numbers(paper)
    yield _("Solver"), _("version %(number)s", number=paper["solver"])
    for strand, (marks, out_of, minimum) in paper["strands"].items():
        least = "" if minimum is None else _(", at least %(share)s", share=f"{100 * minimum:g} %")
        yield str(words.STRANDS[strand]), f"{marks:g} / {out_of:g}{least}"


def _numbers(paper: Mapping[str, Any]) -> str:
    drawn = "; ".join(f"{field} = {value}" for field, value in paper["numbers"].items())
    return _("seed %(seed)s: %(drawn)s", seed=paper["seed"], drawn=drawn or _("as in the file"))


def _task(scenario: Scenario, task: Mapping[str, Any]) -> TaskLine:
    asked = scenario.task(task["task"])
    said = (worded(scenario, Message.of(message)) for message in task["feedback"])
    built = own_rig(scenario, {asked.id: task["typed"]})
    return TaskLine(
        question=question(scenario, asked),
        typed=_("the rig below") if built else typed_text(scenario, asked, task["typed"]),
        understood=understood_text(scenario, asked, task["typed"]),
        verdict=task["verdict"],
        verdict_word=str(verdict_of(task["verdict"]).word),
        earned=task["marks"],
        out_of=task["out_of"],
        feedback=" ".join(said),
        rig=BuiltRig(rig_text(scenario, built), asking_plan(scenario, built)) if built else None,
    )


def _changes(view: RecordView, paper: Mapping[str, Any]) -> Iterator[str]:
    """Yield what became of the marks after the first marking."""
    for one in paper["markings"][1:]:
        yield _(
            "%(when)s, %(who)s: %(marks)s of %(out_of)s, %(outcome)s. %(reason)s",
            when=_moment(one["at"], view.record.timezone),
            who=_name(view, one["by"]),
            marks=f"{one['marks']:g}",
            out_of=f"{one['out_of']:g}",
            outcome=str(outcome_of(one["outcome"]).word).lower(),
            reason=one["reason"] or "",
        )


def _acts(certificate: CertificateRow | None) -> tuple[ActLine, ...]:
    if certificate is None:
        return ()
    said = {
        Act.SUSPENDED: _("Suspended"),
        Act.REINSTATED: _("Reinstated"),
        Act.WITHDRAWN: _("Withdrawn"),
    }
    return tuple(
        ActLine(
            _("%(act)s by %(who)s on %(when)s", act=said[one.act], who=one.by,
              when=_moment(one.at.isoformat(), certificate.timezone)),
            one.reason,
        )
        for one in certificate.acts
    )  # fmt: skip


def _name(view: RecordView, person_id: int | None) -> str:
    return _("the solver") if person_id is None else view.names.get(person_id, _("no longer named"))


def _short(digest: str) -> str:
    """Return as much of a digest as tells versions apart."""
    return digest.rpartition(":")[2][:12]


def _span(moments: Iterable[str]) -> str:
    return _("%(first)s to %(last)s", **dict(zip(("first", "last"), moments, strict=True)))


def _moment(stored: str, timezone: str) -> str:
    """Return a stored moment on the clock of the class, with its distance from UTC."""
    local = datetime.fromisoformat(stored).astimezone(ZoneInfo(timezone))
    return f"{format_datetime(local, 'd MMM y HH:mm', rebase=False)} {local:%z}"
