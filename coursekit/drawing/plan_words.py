"""The words of the plan, with numbers and names left open, to be translated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


def _anchor_words() -> Mapping[str, str]:
    return {
        "tree": "tree",
        "rock": "rock",
        "ground-anchor": "ground anchor",
        "vehicle": "anchor vehicle",
        "structure": "structure",
    }


@dataclass(frozen=True)
class PlanWords:
    """Every word of the plan and of its description."""

    title: str = "Site plan"
    north: str = "N"
    exit: str = "way out"
    level: str = "level ground"
    slope: str = "{slope} down"
    contours: str = "contours every {height}"
    keep_out: str = "keep out within {distance} of the rig"
    keep_out_hidden: str = "keep out of the hatched area"
    farther: str = "(farther than this plan shows)"
    never: str = "never inside an angle or in line"
    load: str = "load {load}"
    asked: str = "load ?"
    weakest: str = "weakest link"
    hold: str = "hold line"
    hold_load: str = "hold {load}"
    design: str = "design {load}"
    anchors: Mapping[str, str] = field(default_factory=_anchor_words)

    described: str = "North is up."
    described_stuck: str = "{vehicle} is to leave toward {bearing}, {slope}."
    described_level: str = "the ground is level"
    described_slope: str = "the ground falls {slope} toward {bearing}"
    described_other: str = "{vehicle} stands {distance} away toward {bearing}."
    described_anchor: str = "{name}, {kind}, stands {distance} away toward {bearing}."
    described_line: str = "The line runs from {start} {legs}."
    described_hold: str = "A hold line runs from {start} {legs}."
    described_leg: str = "to {station}"
    described_tension: str = "with {load} to {station}"
    described_load: str = "{name} carries {load} toward {bearing}."
    described_weakest: str = "The weakest link is {item}."
    described_area: str = "Nobody stands within {distance} of any part of the rig."
