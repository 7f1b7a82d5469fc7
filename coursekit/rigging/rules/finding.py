"""One finding, and the closed table of rules with their severity."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from coursekit.problems import Message

CRITICAL, MAJOR, NOTE = "critical", "major", "note"

RULES = {
    "over-limit": CRITICAL,
    "unrated": CRITICAL,
    "no-wll": CRITICAL,
    "unfit": CRITICAL,
    "tow-ball": CRITICAL,
    "tie-down-point": CRITICAL,
    "towing-eye": CRITICAL,
    "static-in-kinetic": CRITICAL,
    "metal-joiner": CRITICAL,
    "snatch-sunk": CRITICAL,
    "kinetic-as-winch-line": CRITICAL,
    "line-too-short": CRITICAL,
    "line-too-long": CRITICAL,
    "winch-overloaded": CRITICAL,
    "anchor-overloaded": CRITICAL,
    "vehicle-drags": CRITICAL,
    "wrong-direction": CRITICAL,
    "wide-angle": CRITICAL,
    "sharp-edge": CRITICAL,
    "hitch-unstated": CRITICAL,
    "ring-misrigged": CRITICAL,
    "no-joiner": CRITICAL,
    "used-twice": CRITICAL,
    "runs-away": CRITICAL,
    "stall-over-limit": MAJOR,
    "no-breakout": MAJOR,
    "off-line-pull": MAJOR,
    "off-line-kinetic": MAJOR,
    "strap-mismatch": MAJOR,
    "bare-tree": MAJOR,
    "damper-required": MAJOR,
    "rolls-back": MAJOR,
    "hook-open": MAJOR,
    "joint-at-pulley": MAJOR,
    "winch-fades": MAJOR,
    "stretch-unknown": MAJOR,
    "kinetic-as-hold-line": MAJOR,
    "kinetic-on-lying": MAJOR,
    "drops-on-wheels": MAJOR,
    "low-margin": NOTE,
    "no-damper": NOTE,
    "metal-in-kinetic": NOTE,
    "optimistic": NOTE,
    "thin-ice": NOTE,
}

# With one of these the vehicle stays where it is, however strong the gear, or nobody
# can tell whether it moves.
_LEAVES_STUCK = frozenset(
    {
        "line-too-short",
        "line-too-long",
        "winch-overloaded",
        "winch-fades",
        "vehicle-drags",
        "wrong-direction",
        "no-breakout",
        "stretch-unknown",
        "static-in-kinetic",
        "no-joiner",
        "joint-at-pulley",
    }
)


@dataclass(frozen=True)
class Finding:
    """One thing that a solved rig shows, worded for the person who built it."""

    rule: str
    message: Message
    at: str | None = None
    item: str | None = None

    @property
    def severity(self) -> str:
        """How grave it is: critical, major or note."""
        return RULES[self.rule]

    def stops(self, also: Collection[str]) -> bool:
        """Whether it makes an outcome unsafe: critical, or one of the school's own rules."""
        return self.severity == CRITICAL or self.rule in also

    @property
    def leaves_stuck(self) -> bool:
        """Whether the rig would not bring the vehicle out."""
        return self.rule in _LEAVES_STUCK


def finding(
    rule: str, template: str, *, at: str | None = None, item: str | None = None, **values: object
) -> Finding:
    """Return a finding; `{at}` and `{item}` in its text are filled in."""
    return Finding(rule, Message(template, {"at": at, "item": item, **values}), at, item)
