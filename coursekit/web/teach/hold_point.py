"""The hold point: what must be true before a line is loaded, one tick each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString
from wtforms import BooleanField
from wtforms.validators import InputRequired

from coursekit.rigging.rig import RIG_METHODS
from coursekit.web.fields import Form

NOT_HELD = _l("Not confirmed: do not pull.")
_EVERY = frozenset(RIG_METHODS)
_WINCH = frozenset({"winch"})


@dataclass(frozen=True)
class Check:
    """One thing that must be true, and for which methods."""

    name: str
    text: LazyString
    hint: LazyString
    methods: frozenset[str] = _EVERY


CHECKS = (
    Check(
        "people",
        _l("Everybody is out of the hatched area."),
        _l("No phone is in anybody's hand inside it, yours included."),
    ),
    Check(
        "points",
        _l("Every point is rated, and none is a tow ball or a tie-down point."),
        _l("Read the rating on each; what can't be read isn't used."),
    ),
    Check(
        "pins",
        _l("Pins are home, and backed off as their maker says."),
        _l("Hooks are closed, soft shackles drawn tight."),
    ),
    Check(
        "edges",
        _l("Hitches are as planned, and nothing runs over an edge."),
        _l("Slings lie flat, lines don't cross, the tree is wrapped."),
    ),
    Check(
        "damper",
        _l("A damper lies on the line."),
        _l("A heavy bag or blanket serves too."),
    ),
    Check(
        "wraps",
        _l("At least five wraps stay on the drum."),
        _l("At the start and at the end of the pull, laid side by side."),
        _WINCH,
    ),
    Check(
        "chocks",
        _l("Wheels are chocked or braked as planned."),
        _l("What could roll is held before slack is taken or given."),
    ),
    Check(
        "stop",
        _l("The stop word is agreed, and everybody may call it."),
        _l("Snug the line, stop, walk it with your eyes, then pull. An unclear signal is a stop."),
    ),
)


def checks_for(method: str) -> tuple[Check, ...]:
    """Return what must be true before a pull of a method."""
    return tuple(check for check in CHECKS if method in check.methods)


class HoldPointForm(Form):
    """One tick for each check; nothing is stored, the pull waits until all are set."""

    def held(self) -> Iterator[tuple[BooleanField, LazyString]]:
        """Yield each tick with its hint."""
        hints = {check.name: check.hint for check in CHECKS}
        for name, field in self._fields.items():
            if name in hints:
                yield field, hints[name]


def hold_point_form(method: str) -> HoldPointForm:
    """Return the form of a method."""
    ticks = {
        check.name: BooleanField(check.text, validators=[InputRequired(NOT_HELD)])
        for check in checks_for(method)
    }
    form: HoldPointForm = type("HoldPointFormOfMethod", (HoldPointForm,), ticks)()
    return form
