"""What removes the gear that stays on a vehicle from use, each line with its source.

It is registered and examined like the rest, and stands in no rig of a scenario by itself.
The maker's instructions, local codes and a competent person go before every list.
"""

from __future__ import annotations

from coursekit.wear.inspection import Criterion, Measure, Way
from coursekit.wear.policy import COMMON_PRACTICE

_WINCH = "SAE J706, second-hand"
_LIKE_SHACKLE = "common practice, after the tenth of ASME B30.26, 26-1.8.4"
_BOLTS = "Bolts loose, missing or not of the grade that its maker names"
_RUST = Criterion("corrosion", "Deeply pitted or corroded", COMMON_PRACTICE)
_CHANGED = Criterion("changed", "Welded on, ground or changed in any way", COMMON_PRACTICE)

WINCH = (
    Criterion("label", "The plate with its rated pull can't be read", _WINCH, each_use=True),
    Criterion("mount", _BOLTS, COMMON_PRACTICE, each_use=True),
    Criterion("brake", "The brake lets the load run back, or slips", _WINCH, each_use=True),
    Criterion(
        "clutch", "The clutch doesn't go in all the way, or jumps out", _WINCH, each_use=True
    ),
    Criterion(
        "control",
        "It doesn't stop as soon as the control is let go, or the control is damaged",
        COMMON_PRACTICE,
        each_use=True,
    ),
    Criterion("drum", "Drum or flange cracked, bent or sharp", COMMON_PRACTICE),
    Criterion("anchorage", "The line isn't held on the drum as its maker says", COMMON_PRACTICE),
    Criterion("cracked", "Housing, tie bars or mount cracked", COMMON_PRACTICE),
    Criterion("leads", "Leads chafed or loose, or a hose leaks", COMMON_PRACTICE),
    Criterion("gears", "It grinds, jerks or leaks oil", COMMON_PRACTICE),
    _RUST,
)
FAIRLEAD = (
    Criterion("mount", _BOLTS, COMMON_PRACTICE, each_use=True),
    Criterion("cracked", "Cracked anywhere", COMMON_PRACTICE, each_use=True),
    Criterion("edge", "Rough, nicked or sharp where the line runs", COMMON_PRACTICE, each_use=True),
    Criterion("rollers", "A roller doesn't turn, or is bent", COMMON_PRACTICE, each_use=True),
    Criterion(
        "mixed",
        "Wire has run through it and its burrs are left for a synthetic line",
        COMMON_PRACTICE,
    ),
    Criterion(
        "worn",
        "A tenth or more of an original dimension gone where the line runs",
        _LIKE_SHACKLE,
        measure=Measure(Way.LOST, 0.10),
    ),
    _RUST,
)
PIN = (
    Criterion("shape", "Bent or mushroomed", COMMON_PRACTICE, each_use=True),
    Criterion("cracked", "Cracked anywhere", COMMON_PRACTICE, each_use=True),
    Criterion(
        "keeper", "Its keeper is missing, bent or doesn't lock", COMMON_PRACTICE, each_use=True
    ),
    Criterion("own", "It isn't the pin of this hole: too thin or too short", COMMON_PRACTICE,
              each_use=True),
    Criterion(
        "worn",
        "A tenth or more of its diameter gone anywhere",
        _LIKE_SHACKLE,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("heat", "Signs of heat: blue or straw colours, weld spatter", COMMON_PRACTICE),
    _RUST,
    _CHANGED,
)  # fmt: skip
VEHICLE_POINT = (
    Criterion("label", "Nobody knows what it is rated for", COMMON_PRACTICE, each_use=True),
    Criterion("cracked", "A weld or the metal is cracked, there or in the frame beside it",
              COMMON_PRACTICE, each_use=True),
    Criterion("shape", "Bent, spread or pulled out of line", COMMON_PRACTICE, each_use=True),
    Criterion("mount", _BOLTS, COMMON_PRACTICE, each_use=True),
    Criterion("edge", "An edge would cut a soft shackle or a strap", COMMON_PRACTICE,
              each_use=True),
    Criterion(
        "worn",
        "A tenth or more of an original dimension gone where a shackle bears",
        _LIKE_SHACKLE,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("rust", "Rusted through, there or in the frame beside it", COMMON_PRACTICE),
    _CHANGED,
)  # fmt: skip
