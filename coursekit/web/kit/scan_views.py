"""Scanning labels: with the camera where a browser gives it, else mark by mark."""

from __future__ import annotations

from flask import redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from coursekit.services import scanning
from coursekit.web import clock
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.kit.issue_views import chosen_class, scanned_ids
from coursekit.web.kit.scan_page import ACTS, ISSUE, OPEN, ScanAsked, scan_page
from coursekit.web.kit.store_page import LONGEST_SEARCH


def scan() -> ResponseReturnValue:
    """Find an item by its label, or gather several to be issued or taken back."""
    mark = request.args.get("mark", "")[:LONGEST_SEARCH].strip()
    found = scanning.item_of_mark(unit(), actor(), mark) if mark else None
    act = request.args.get("act", "")
    asked = ScanAsked(
        act=act if act in ACTS else OPEN,
        class_id=chosen_class(request.args.get("class_id", type=int)),
        item_ids=_each_once([*scanned_ids(), *([found] if found else [])]),
        mark=mark,
    )
    if asked.act == OPEN and found is not None:
        return redirect(url_for("kit.item", item_id=found))
    planning_class = asked.class_id if asked.act == ISSUE else None
    today = clock.today(timezone())
    desk = scanning.scan_desk(unit(), actor(), asked.item_ids, planning_class, today)
    page = scan_page(desk, asked, is_unknown=bool(mark) and found is None)
    return render_template("kit/scan.html", page=page)


def _each_once(item_ids: list[int]) -> tuple[int, ...]:
    """Return each item once, one that was scanned again as the last."""
    return tuple(reversed(dict.fromkeys(reversed(item_ids))))
