"""A school's wear policy as JSON and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from coursekit.wear.policy import ClassesPolicy, Counting, InspectionOnly, Policy, PowerPolicy

_RULES: Mapping[str, type[Counting]] = {
    "classes": ClassesPolicy,
    "power": PowerPolicy,
    "none": InspectionOnly,
}
_NAMES = {rule: name for name, rule in _RULES.items()}


def policy_json(policy: Policy) -> dict[str, Any]:
    """Return a policy as it is stored.

    >>> policy_json(Policy(InspectionOnly()))["counting"]
    {'rule': 'none', 'heavy_from': 0.25}
    """
    counting = {"rule": _NAMES[type(policy.counting)], **asdict(policy.counting)}
    return {**asdict(policy), "counting": counting}


def policy_of(stored: Mapping[str, Any]) -> Policy:
    """Return a stored policy.

    >>> policy_of(policy_json(Policy(ClassesPolicy(limit=12.0)))).counting.limit
    12.0
    """
    counting = dict(stored["counting"])
    rule = _RULES[counting.pop("rule")]
    return Policy(**{**stored, "counting": rule(**counting)})
