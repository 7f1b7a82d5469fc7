"""The tables, one module a noun; importing the package makes all of them known."""

from coursekit.store.columns import Base
from coursekit.store.tables.answers import Answer, Attempt
from coursekit.store.tables.calendars import CalendarAddress
from coursekit.store.tables.classes import (
    ClassScenario,
    ClassSession,
    Course,
    Enrolment,
    PullPlan,
)
from coursekit.store.tables.drafts import ScenarioDraft
from coursekit.store.tables.follow_ups import FollowUpReply
from coursekit.store.tables.items import KitChange, KitCount, KitItem, KitType
from coursekit.store.tables.kit_files import KitFile, KitFileRemoval
from coursekit.store.tables.ledger import LedgerEntry, PullRecord
from coursekit.store.tables.marks import AttemptResult, TaskMark
from coursekit.store.tables.people import Person, PersonRole
from coursekit.store.tables.policies import SchoolPolicyVersion
from coursekit.store.tables.practice import PracticeQuestion, PracticeSkill
from coursekit.store.tables.records import AssessmentRecord, Certificate, CertificateAct
from coursekit.store.tables.reviews import ReviewAnswer, ReviewRequest
from coursekit.store.tables.runs import MarkingRun, MarkingRunPaper
from coursekit.store.tables.scenarios import ScenarioVersion
from coursekit.store.tables.schools import School
from coursekit.store.tables.sign_ins import FailedTries, SignIn
from coursekit.store.tables.standards import PassMark, StandardRating, StandardSheet
from coursekit.store.tables.yard import YardMark, YardSheet

__all__ = [
    "Answer",
    "AssessmentRecord",
    "Attempt",
    "AttemptResult",
    "Base",
    "CalendarAddress",
    "Certificate",
    "CertificateAct",
    "ClassScenario",
    "ClassSession",
    "Course",
    "Enrolment",
    "FailedTries",
    "FollowUpReply",
    "KitChange",
    "KitCount",
    "KitFile",
    "KitFileRemoval",
    "KitItem",
    "KitType",
    "LedgerEntry",
    "MarkingRun",
    "MarkingRunPaper",
    "PassMark",
    "Person",
    "PersonRole",
    "PracticeQuestion",
    "PracticeSkill",
    "PullPlan",
    "PullRecord",
    "ReviewAnswer",
    "ReviewRequest",
    "ScenarioDraft",
    "ScenarioVersion",
    "School",
    "SchoolPolicyVersion",
    "SignIn",
    "StandardRating",
    "StandardSheet",
    "TaskMark",
    "YardMark",
    "YardSheet",
]
