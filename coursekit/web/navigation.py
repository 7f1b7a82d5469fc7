"""The navigation: what a person may open, taken from the tables of the areas."""

from __future__ import annotations

from dataclasses import dataclass

from flask import Flask, current_app, request, url_for
from flask_babel.speaklater import LazyString

from coursekit.web.identity import person
from coursekit.web.routes import Rule, rules

FIRST_PAGE = "account.first"


@dataclass(frozen=True)
class Link:
    """One entry of the navigation."""

    text: LazyString
    url: str
    here: bool


def links() -> tuple[Link, ...]:
    """Return the entries for the person who is signed in, none for a visitor."""
    return tuple(
        Link(rule.route.nav, url_for(rule.endpoint), request.endpoint == rule.endpoint)
        for rule in _open_rules()
        if rule.route.nav is not None
    )


def home() -> str:
    """Return the address where a person starts: the first entry that is theirs."""
    first = next(iter(_open_rules()), None)
    return url_for(first.endpoint if first else FIRST_PAGE)


def register(app: Flask) -> None:
    """Let every template reach the navigation and the person's name."""
    app.jinja_env.globals.update(nav_links=links, signed_in=person, home_url=home)


def _open_rules() -> list[Rule]:
    found = person()
    if found is None:
        return []
    roles = found.actor.roles
    return [r for r in rules(current_app).values() if r.route.nav is not None and r.admits(roles)]
