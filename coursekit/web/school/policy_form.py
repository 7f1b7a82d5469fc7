"""The form of the school's policy: shares are typed in percent, everything else as it is told."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from flask_babel import lazy_gettext as _l
from wtforms import BooleanField, DecimalField, Field, IntegerField, TextAreaField
from wtforms.validators import InputRequired, NumberRange, Optional

from coursekit.assessment.school_policy import LIMITS, SchoolPolicy
from coursekit.scenario.strands import STRANDS
from coursekit.services.policies import PolicyChange, PolicyVersion
from coursekit.web import words
from coursekit.web.fields import NEEDED, required
from coursekit.web.stamped import StampedForm

LONGEST_REASON = 500
PERCENT = 100
_SHARES = ("pass_share", "review_share")
_COUNTS = ("retry_wait_hours", "certificate_months", "warn_days", "records_months", "names_months")


def _allowed(name: str) -> NumberRange:
    """Return what a number may be, in the unit in which it is typed."""
    by = PERCENT if name in _SHARES else 1
    lowest, highest = (round(by * end) for end in LIMITS[name])
    told = str(_l("A number from %(lowest)s to %(highest)s."))
    return NumberRange(lowest, highest, told % {"lowest": lowest, "highest": highest})


def _number(label: Any, name: str) -> IntegerField:
    return IntegerField(label, validators=[InputRequired(NEEDED), _allowed(name)])


class PolicyForm(StampedForm):
    """A whole policy, filled in as it stands."""

    pass_share = _number(_l("Pass mark where a scenario names none, in percent"), "pass_share")
    retry_wait_hours = _number(_l("Hours before another try"), "retry_wait_hours")
    retry_other_numbers = BooleanField(_l("Another try has other numbers"))
    review_sems = DecimalField(
        _l("Standard errors around the pass mark"),
        validators=[InputRequired(NEEDED), _allowed("review_sems")],
        places=1,
    )
    review_share = _number(_l("Percent of all marks, while papers are few"), "review_share")
    certificate_months = _number(_l("Months that a certificate holds"), "certificate_months")
    warn_days = _number(_l("Days before its end to warn"), "warn_days")
    names_months = _number(_l("Months to keep names"), "names_months")
    records_months = _number(_l("Months to keep records"), "records_months")
    reason = TextAreaField(_l("Why does it change?"), validators=required(LONGEST_REASON))

    @property
    def minimums(self) -> Iterator[Field]:
        """The controls of the strands' minimums."""
        return (self[f"minimum_{strand}"] for strand in STRANDS)

    def begin(self, version: PolicyVersion) -> None:
        """Fill in the policy as it stands, unless something was typed."""
        self.stamp(version.number)
        if self.is_submitted():
            return
        policy = version.policy
        for name in _SHARES:
            self[name].data = round(PERCENT * getattr(policy, name))
        for name in (*_COUNTS, "retry_other_numbers", "review_sems"):
            self[name].data = getattr(policy, name)
        for strand, share in policy.strand_minimums.items():
            self[f"minimum_{strand}"].data = round(PERCENT * share)

    @property
    def change(self) -> PolicyChange:
        """What the service is to put in force."""
        typed = {strand: self[f"minimum_{strand}"].data for strand in STRANDS}
        policy = SchoolPolicy(
            **{name: self[name].data / PERCENT for name in _SHARES},
            **{name: self[name].data for name in _COUNTS},
            strand_minimums={one: n / PERCENT for one, n in typed.items() if n},
            retry_other_numbers=bool(self.retry_other_numbers.data),
            review_sems=float(self.review_sems.data),
        )
        return PolicyChange(policy, self.reason.data, self.version)


for _strand in STRANDS:
    _share = NumberRange(1, PERCENT, str(_l("A number from 1 to 100, or nothing.")))
    setattr(
        PolicyForm,
        f"minimum_{_strand}",
        IntegerField(words.STRANDS[_strand], validators=[Optional(), _share]),
    )
