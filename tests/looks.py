"""Examinations as a test needs them: every line looked at, and one found or none."""

from coursekit.services.inspecting import Inspection
from coursekit.wear.inspection import Looked, Seen
from coursekit.wear.lists import list_for


def examined(
    kind: str, item_id: int, seen: int, key: str, *, material: str = "", found: str = ""
) -> Inspection:
    """Return an examination of an item of a kind; `found` is what makes it doubtful."""
    listed = list_for(kind, material)
    lines = {each.key: Looked(Seen.FINE) for each in listed.criteria}
    if found:
        lines["doubt"] = Looked(Seen.FOUND)
    return Inspection(item_id, seen, listed.name, lines, found, key)
