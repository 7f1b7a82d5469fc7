"""What the store can't see by itself: an item was lost, is found again, or was repaired."""

from __future__ import annotations

from flask.typing import ResponseReturnValue

from coursekit.services import repairing
from coursekit.services.repairing import Repair
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.kit.forms import FindForm, LoseForm, RepairForm
from coursekit.web.kit.views import change_of, changed


def lose(item_id: int) -> ResponseReturnValue:
    """Record that an item is lost."""
    form = LoseForm()

    def act() -> None:
        repairing.lose(unit(), actor(), change_of(item_id, form), clock.now())

    return changed(item_id, form, "lose", act)


def find(item_id: int) -> ResponseReturnValue:
    """Record that a lost item is back."""
    form = FindForm()

    def act() -> None:
        repairing.find(unit(), actor(), change_of(item_id, form), clock.now())

    return changed(item_id, form, "find", act)


def repair(item_id: int) -> ResponseReturnValue:
    """Record a repair."""
    form = RepairForm()

    def act() -> None:
        new = Repair(
            item_id,
            form.version,
            form.reason.data or "",
            form.key.data or "",
            form.length.data or "",
            form.certificate.data or "",
        )
        repairing.repair(unit(), actor(), new, clock.now())

    return changed(item_id, form, "repair", act)
