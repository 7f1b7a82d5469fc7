"""The page of what will be due, and its chart."""

from __future__ import annotations

from flask import Response, render_template, request
from flask.typing import ResponseReturnValue

from coursekit.drawing.wear_chart import retirement_chart
from coursekit.services import forecasting
from coursekit.services.forecasting import StoreAhead
from coursekit.web import clock
from coursekit.web.identity import actor, timezone, unit
from coursekit.web.kit.ahead_page import ahead_for_chart, ahead_page
from coursekit.web.kit.views import SVG


def ahead() -> ResponseReturnValue:
    """Show what will be due, what to buy, and what classes cost."""
    page = ahead_page(_store(), clock.today(timezone()), request.args.get("kind", ""))
    return render_template("kit/ahead.html", page=page)


def ahead_chart() -> ResponseReturnValue:
    """Serve the chart of items that will retire."""
    rows, words = ahead_for_chart(_store(), clock.today(timezone()))
    return Response(retirement_chart(rows, words), mimetype=SVG)


def _store() -> StoreAhead:
    return forecasting.ahead(unit(), actor(), clock.today(timezone()))
