"""An item of gear as its label reads: the file's own text, nothing worked out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import format_date
from flask_babel import gettext as _

from coursekit.rigging.gear import Item
from coursekit.scenario.model import Scenario
from coursekit.web import words


@dataclass(frozen=True)
class Label:
    """A rating label: name, kind, what is sewn or stamped on it, and what an eye sees."""

    name: str
    kind: str
    rows: tuple[tuple[str, str], ...]
    seen: tuple[str, ...]


def labels(scenario: Scenario) -> tuple[Label, ...]:
    """Return the label of each item at hand."""
    return tuple(
        Label(
            words.item_name(name),
            str(words.KINDS[item.kind]),
            (*ratings(scenario, f"gear.{name}"), *_curve(item), *_made(item)),
            tuple(seen(item)),
        )
        for name, item in scenario.situation.gear.items()
    )


def limits_marked(scenario: Scenario, path: str) -> Iterator[tuple[str, str]]:
    """Yield the strength that is marked on the item at a path of the file."""
    for key, word in (("wll", _("WLL")), ("mbs", _("MBS"))):
        if f"{path}.{key}" in scenario.shown:
            yield word, scenario.shown[f"{path}.{key}"]


def ratings(scenario: Scenario, path: str) -> Iterator[tuple[str, str]]:
    """Yield what is marked on the item at a path of the file, word and text."""
    yield from limits_marked(scenario, path)
    for key, word in _measures():
        if f"{path}.{key}" in scenario.shown:
            yield word, scenario.shown[f"{path}.{key}"]
    strain = scenario.shown.get(f"{path}.stretch.strain")
    if strain:
        at = scenario.shown.get(f"{path}.stretch.at", "100 %")
        yield _("stretch"), _("%(strain)s at %(at)s of MBS", strain=strain, at=at)
    exponent = scenario.shown.get(f"{path}.stretch.exponent")
    if exponent:
        yield _("its pull grows"), _("with the stretch to the power of %(n)s", n=exponent)


def _curve(item: Item) -> Iterator[tuple[str, str]]:
    if item.stretch is not None and item.stretch.curve:
        points = [
            _("%(strain)s at %(at)s", strain=_percent(strain), at=_percent(share))
            for strain, share in item.stretch.curve
        ]
        yield _("stretch, in shares of MBS"), ", ".join(points)


def _percent(share: float) -> str:
    return f"{100 * share:.6g} %"


def _measures() -> Iterator[tuple[str, str]]:
    yield "length", _("length")
    yield "diameter", _("diameter")
    yield "sheave", _("sheave")
    yield "efficiency", _("efficiency")


def _made(item: Item) -> Iterator[tuple[str, str]]:
    if item.made is not None:
        yield _("made"), str(format_date(item.made, "MMM y"))


def seen(item: Item) -> Iterator[str]:
    """Yield what an eye sees of the item: its state in sentences, never a verdict."""
    yield from (words.condition_seen(item, condition) for condition in item.condition)
    if item.is_wire:
        yield _("wire rope") if item.is_surely_wire else _("nobody knows what it is made of")
    if item.stretch is not None and item.stretch.strain is None:
        yield _("low stretch")
    if item.wet:
        yield _("soaking wet")
    if item.worked:
        yield _("used for many pulls before")
    if item.edge == "sharp":
        yield _("its edge is sharp to the thumb")
    if item.kind == "hook":
        yield _("with a latch") if item.latch else _("no latch on it")
    if item.bearing == "plain":
        yield _("plain bearing")
