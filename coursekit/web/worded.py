"""A message of the core as a person reads it: gear by name, amounts in the scenario's units."""

from __future__ import annotations

from flask_babel import gettext as _

from coursekit.problems import Message
from coursekit.quantities.voice import shower, units_of
from coursekit.scenario.model import Scenario
from coursekit.web.plan import names_of


def worded(scenario: Scenario, message: Message) -> str:
    """Return a message in the person's language, as the scenario's pages name things."""
    show = shower(units_of(scenario))
    return message.named(names_of(scenario)).shown(show).text(_)
