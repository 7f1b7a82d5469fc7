"""A form that says what it was made from, so that nothing newer is overwritten unseen."""

from __future__ import annotations

from wtforms import HiddenField

from coursekit.web.fields import Form
from coursekit.web.ids import id_of

# Nothing ever has this version: a form that doesn't say what it saw always conflicts.
NEVER_SEEN = -1


class StampedForm(Form):
    """A form with the version of what its page showed."""

    seen = HiddenField()

    @property
    def version(self) -> int:
        """The version that the person saw."""
        seen = id_of(self.seen.data or "")
        return NEVER_SEEN if seen is None else seen

    def stamp(self, version: int, *, again: bool = False) -> None:
        """Note which version is on the page; `again` after a conflict has been shown."""
        if again or not self.seen.data:
            self.seen.data = str(version)
