"""The demo school's own rules: its policy, and a pass mark that a panel of two set."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from coursekit.assessment.school_policy import USUAL
from coursekit.services import policies, standards
from coursekit.services.actor import Actor
from coursekit.services.demo.year import Yard
from coursekit.services.policies import PolicyChange
from coursekit.services.standards import Adoption, Chances

POLICY = PolicyChange(
    replace(USUAL, certificate_months=24),
    "Two winters without a pull, and people are out of practice",
    seen=0,
)
JUDGED = "ford-exit"
# What each judge expects of every task, in percent, blind and then with the other in sight.
WREN_EXPECTS = (55, 60)
TAMSIN_EXPECTS = (75, 65)
# The first tasks are easier than the later ones, by so much from one to the next.
HARDER = 2


def set_rules(yard: Yard, tamsin: Actor) -> None:
    """Change the policy in the first months, and let a panel judge one scenario."""
    at = yard.at(300)
    policies.change_policy(yard.unit, yard.wren, POLICY, at)
    sheet_id = standards.open_sheet(yard.unit, yard.wren, yard.versions[JUDGED], at)
    for number in range(2):
        for judge, expects in ((yard.wren, WREN_EXPECTS), (tamsin, TAMSIN_EXPECTS)):
            at += timedelta(minutes=20)
            sheet = standards.sheet_of(yard.unit, judge, sheet_id)
            chances = {
                task.id: (expects[number] - HARDER * place) / 100
                for place, task in enumerate(sheet.scenario.tasks)
            }
            standards.rate(yard.unit, judge, Chances(sheet_id, sheet.round, chances), at)
        if number == 0:
            standards.next_round(yard.unit, yard.wren, sheet_id)
    adoption = Adoption(sheet_id, "Both of us came to it from either side")
    standards.adopt(yard.unit, yard.wren, adoption, at + timedelta(hours=1))
