"""Verdicts and outcomes for the eye: always a shape and a word, never colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString

from coursekit.scenario.yard import Level


@dataclass(frozen=True)
class Mark:
    """A shape, a word, and the tone that the style sheet colours."""

    shape: str
    word: LazyString
    tone: str


VERDICTS = {
    "right": Mark("✓", _l("Right"), "good"),
    "carried": Mark("✓", _l("Right for your earlier answer"), "good"),
    "unit": Mark("◆", _l("Right number, other unit"), "care"),
    "slip": Mark("◆", _l("A usual mistake"), "care"),
    "part": Mark("◆", _l("Partly right"), "care"),
    "wrong": Mark("✕", _l("Not right"), "stop"),
    "missing": Mark("○", _l("No answer"), "soft"),
}
OUTCOMES = {
    "competent": Mark("✓", _l("Competent"), "good"),
    "not-yet": Mark("◆", _l("Not yet competent"), "care"),
    "unsafe": Mark("▲", _l("Unsafe"), "stop"),
}
SEVERITIES = {
    "critical": Mark("▲", _l("Critical"), "stop"),
    "major": Mark("◆", _l("Major"), "care"),
    "note": Mark("●", _l("Note"), "soft"),
}
VALIDITIES = {
    "valid": Mark("✓", _l("Valid"), "good"),
    "expiring": Mark("◆", _l("Runs out soon"), "care"),
    "in-question": Mark("◆", _l("In question"), "care"),
    "expired": Mark("○", _l("Run out"), "soft"),
    "suspended": Mark("◆", _l("Suspended"), "care"),
    "withdrawn": Mark("▲", _l("Withdrawn"), "stop"),
}
LEVELS = {
    Level.NOT_SHOWN: ("✕", _l("not shown")),
    Level.PROMPTED: ("◆", _l("with prompting")),
    Level.UNAIDED: ("✓", _l("unaided")),
}


def verdict_of(key: str) -> Mark:
    """Return how a verdict is shown."""
    return VERDICTS[key]


def outcome_of(key: str) -> Mark:
    """Return how an outcome is shown."""
    return OUTCOMES[key]


def severity_of(key: str) -> Mark:
    """Return how grave a finding is, as it is shown."""
    return SEVERITIES[key]


def validity_of(key: str) -> Mark:
    """Return how the standing of a certificate is shown."""
    return VALIDITIES[key]
