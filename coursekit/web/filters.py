"""How templates show numbers and times: they call these, and compute nothing."""

from __future__ import annotations

from datetime import date, datetime

from flask import Flask
from flask_babel import format_date, format_datetime, get_locale

from coursekit.quantities.display import show_capacity, show_load
from coursekit.web.verdicts import outcome_of, severity_of, validity_of, verdict_of


def percent(share: float) -> str:
    """Return a share of a limit in whole percent, rounded up: it is a load.

    >>> percent(0.3561), percent(1.0), percent(1.0001)
    ('36 %', '100 %', '101 %')
    """
    whole = -int(-(share * 100 - 1e-9) // 1)
    return f"{whole} %"


def marks(value: float) -> str:
    """Return marks without a needless decimal.

    >>> marks(3.0), marks(1.5)
    ('3', '1.5')
    """
    return f"{value:g}"


def day(value: date) -> str:
    """Return a date as the person's locale writes it."""
    return str(format_date(value, "medium"))


def moment(value: datetime) -> str:
    """Return a moment in the school's own time zone."""
    return str(format_datetime(value, "d MMM y HH:mm"))


def language() -> str:
    """Return the language of the page, for its `lang` attribute."""
    return str(get_locale() or "en").replace("_", "-")


def register(app: Flask) -> None:
    """Make the filters known to the templates."""
    app.jinja_env.filters.update(
        load=show_load, capacity=show_capacity, percent=percent, marks=marks, day=day, moment=moment
    )
    app.jinja_env.globals.update(
        language=language,
        verdict_of=verdict_of,
        outcome_of=outcome_of,
        severity_of=severity_of,
        validity_of=validity_of,
    )
