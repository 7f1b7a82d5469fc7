"""Usual cautions, each with its published source, by the method whose risk it is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString

from coursekit.rigging.rig import RIG_METHODS
from coursekit.rigging.site import Situation


@dataclass(frozen=True)
class Caution:
    """A caution: what to do, why or how, and who publishes it."""

    title: LazyString
    text: LazyString
    source: LazyString | str
    methods: frozenset[str] = frozenset(RIG_METHODS)


_KINETIC = frozenset({"kinetic"})
_WINCH = frozenset({"winch"})
_TOW = frozenset({"tow"})

_ARMY_RECOVERY = _l(
    "US Army recovery text, safety precautions, as reproduced by an off-road safety site"
)
_ARMY_DRIVER = _l("US Army driver text, winch recovery, as reproduced by an off-road safety site")
_STRAP_STANDARD = _l(
    "Australian consumer-safety material on motor vehicle recovery straps, safety standard of 2017"
)

CAUTIONS = (
    Caution(
        _l("Everybody else stays away."),
        _l(
            "People outside the vehicles stand at least one and a half times the slack length "
            "of the strap away, and never in the line of the pull."
        ),
        _STRAP_STANDARD,
        _KINETIC,
    ),
    Caution(
        _l("Stand clear of the line."),
        _l(
            "At least a line's length away and outside the angle that it forms; twice the line "
            "paid out where it is wire. A turned line sweeps the inside of its angle."
        ),
        _ARMY_RECOVERY,
        _WINCH | _TOW,
    ),
    Caution(
        _l("Only rated recovery points."),
        _l(
            "Never a tow ball, never a tie-down point: the strap or a part of the vehicle "
            "can come off and kill."
        ),
        _STRAP_STANDARD,
    ),
    Caution(
        _l("A damper on every line."),
        _l("Lay a damper, a heavy bag or a blanket over the strap or line."),
        _STRAP_STANDARD,
        _KINETIC | _WINCH,
    ),
    Caution(
        _l("Match the strap to the lighter vehicle."),
        _l(
            "Its strength is two to three times that vehicle's gross mass; a stronger one does "
            "not stretch and overloads the points. Another published rule asks for five times."
        ),
        _l(
            "Australian consumer-safety material on motor vehicle recovery straps, safety standard "
            "of 2017; five times: a US state's off-highway education text"
        ),
        _KINETIC,
    ),
    Caution(
        _l("A wet or damaged strap is weaker."),
        _l("Wet, it also stretches less. A damaged one stays out of use; none is for lifting."),
        _STRAP_STANDARD,
        _KINETIC,
    ),
    Caution(
        _l("No jerks on a winch rig."),
        _l("Take up slack slowly, stop, walk the line with your eyes, then pull."),
        _l("TM 9-2320-364-10; US Army accident-investigation article"),
        _WINCH,
    ),
    Caution(
        _l("Everybody clear while the slack goes."),
        _l("The moment when a line comes taut is the critical one: tell everybody first."),
        "TM 9-2320-260-10",
        _WINCH | _TOW,
    ),
    Caution(
        _l("At least five wraps stay on the drum."),
        _l("Gloves on; never let a line run through your hands."),
        "TM 5-3990-263-13&P",
        _WINCH,
    ),
    Caution(
        _l("Never step over a loaded line."),
        _l("Walk round, or wait until it is slack."),
        _l("Trade press and operator manuals; no government text found"),
    ),
    Caution(
        _l("Stop means stop, from anybody."),
        _l("One spotter speaks to the driver. A signal that is not clear is a stop signal."),
        _l("HSE (UK), winches in tree work"),
    ),
)


def cautions_for(methods: Iterable[str]) -> tuple[Caution, ...]:
    """Return the cautions for the methods at hand, the most grave first."""
    wanted = frozenset(methods)
    return tuple(caution for caution in CAUTIONS if caution.methods & wanted)


def methods_at_hand(situation: Situation) -> Iterator[str]:
    """Yield the methods that the vehicles and the gear allow."""
    if any(vehicle.winch for _name, vehicle in situation.vehicles()):
        yield "winch"
    if situation.recovery and any(item.is_elastic for item in situation.gear.values()):
        yield "kinetic"
    if situation.recovery and situation.recovery.points:
        yield "tow"
