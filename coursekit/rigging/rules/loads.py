"""Rules on loads against limits: over the limit, near it, and over it at a stall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coursekit.problems import Amount
from coursekit.rigging.chains.build import Layout
from coursekit.rigging.rules.finding import Finding, finding
from coursekit.rigging.steps import Chain, Values

LOW_MARGIN = 0.8
_STALL = "stall-over-limit"


def load_findings(layout: Layout, chain: Chain, values: Values) -> Iterator[Finding]:
    """Yield what loads show against limits."""
    yield from over_limit_findings(layout, values)
    for name, at in _mounted(layout).items():
        use = values[f"item.{name}.use"]
        if use is not None and use <= 1.0:
            yield from _margin(use, name, at, name)
    for at in layout.places:
        use = values.get(f"place.{at}.use")
        if use is not None and use <= 1.0:
            yield from _margin(use, at, at, None)
    yield from stall_findings(layout, chain, values)


def over_limit_findings(layout: Layout, values: Values) -> Iterator[Finding]:
    """Yield the items that are loaded beyond their limit."""
    for name, at in _mounted(layout).items():
        use = values[f"item.{name}.use"]
        if use is not None and use > 1.0:
            yield finding(
                "over-limit",
                "{item} is loaded with {load}, and it may carry {limit}.",
                at=at,
                item=name,
                **_held(values, name),
            )


def _held(values: Values, name: str) -> dict[str, object]:
    """Return the load on an item and its limit, to be worded."""
    return {
        "load": Amount(values[f"item.{name}.load"], "N", "up"),
        "limit": Amount(values[f"item.{name}.limit"], "N", "down"),
    }


def _mounted(layout: Layout) -> dict[str, str | None]:
    return {mount.item.id: mount.at for mount in layout.mounts}


def _margin(use: float | None, name: str, at: str | None, item: str | None) -> Iterator[Finding]:
    if use is not None and use > LOW_MARGIN:
        text = "{name} uses {use:.0f} % of its limit."
        yield finding("low-margin", text, at=at, item=item, name=name, use=use * 100.0)


def stall_findings(layout: Layout, chain: Chain, values: Values) -> Iterator[Finding]:
    """Yield what the winch can load beyond its limit before it stalls."""
    stall, pull = values.get("pull.stall"), values["pull"]
    if stall is None or pull is None or stall <= pull:
        return
    at_stall = chain.fold({"pull": stall})
    seen: set[str] = set()
    for mount in layout.mounts:
        name = mount.item.id
        if name not in seen and _passes(values, at_stall, f"item.{name}.use"):
            seen.add(name)
            yield finding(
                _STALL,
                "Should the vehicle hang up, the winch can load {item} with {load} before it "
                "stalls, and it may carry {limit}.",
                at=mount.at,
                item=name,
                **_held(at_stall, name),
            )
    for at in layout.places:
        if _passes(values, at_stall, f"place.{at}.use"):
            yield finding(
                _STALL,
                "Should the vehicle hang up, the winch can load {at} beyond its limit before it "
                "stalls.",
                at=at,
            )


def _passes(values: Values, at_stall: Values, key: str) -> bool:
    use, stalled = values.get(key), at_stall.get(key)
    return use is not None and stalled is not None and use <= 1.0 < stalled


def stalls_as_one(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return findings with those of a stall told in one sentence where there are several."""
    stalled = [found for found in findings if found.rule == _STALL]
    if len(stalled) <= 1:
        return tuple(findings)
    one = finding(
        _STALL,
        "Should the vehicle hang up, the winch can load all of these beyond their limits before "
        "it stalls: {names}.",
        names=", ".join(str(found.item or found.at) for found in stalled),
    )
    told = (one if found is stalled[0] else found for found in findings)
    return tuple(found for found in told if found is one or found.rule != _STALL)
