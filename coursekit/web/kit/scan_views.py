"""Scanning labels: with the camera where a browser gives it, else mark by mark."""

from __future__ import annotations

from flask import redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from coursekit.services import scanning
from coursekit.services.checks import LONGEST_LINE
from coursekit.web import clock
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.kit.issue_views import chosen_class, scanned_ids
from coursekit.web.kit.scan_page import ACTS, ISSUE, MOST_SCANNED, OPEN, ScanAsked, scan_page


def scan() -> ResponseReturnValue:
    """Find an item by its label, or gather several to be issued or taken back."""
    mark = request.args.get("mark", "")[:LONGEST_LINE].strip()
    found = scanning.items_of_mark(unit(), actor(), mark) if mark else ()
    item_ids = _each_once([*scanned_ids(), *(found if len(found) == 1 else ())])
    act = request.args.get("act", "")
    asked = ScanAsked(
        act=act if act in ACTS else OPEN,
        class_id=chosen_class(request.args.get("class_id", type=int)),
        item_ids=item_ids[:MOST_SCANNED],
        one_too_many=len(item_ids) > MOST_SCANNED,
        mark=mark,
        marked=len(found),
    )
    if asked.act == OPEN and asked.is_found:
        return redirect(url_for("kit.item", item_id=found[0]))
    planning_class = asked.class_id if asked.act == ISSUE else None
    today = clock.today(timezone())
    desk = scanning.scan_desk(unit(), actor(), asked.item_ids, planning_class, today)
    return render_template("kit/scan.html", page=scan_page(desk, asked))


def _each_once(item_ids: list[int]) -> tuple[int, ...]:
    """Return each item once, one that was scanned again as the last."""
    return tuple(reversed(dict.fromkeys(reversed(item_ids))))
