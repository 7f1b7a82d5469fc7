"""Routes as tables: each names its rule, so a page without a rule cannot exist.

An area keeps one `ROUTES` tuple in its `urls.py`; `area` makes a blueprint of
it.  A route with a `nav` text stands in the navigation of those who may open
it; the first of these is where a person lands after signing in.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from flask import Blueprint, Flask
from flask.blueprints import BlueprintSetupState
from flask.sansio.app import App
from flask.typing import ResponseReturnValue
from flask_babel.speaklater import LazyString

from coursekit.problems import CoursekitError
from coursekit.services.actor import Role

EXTENSION = "coursekit-rules"

ANYONE: frozenset[Role] | None = None
SIGNED_IN = frozenset(Role)
STAFF = frozenset({Role.INSTRUCTOR, Role.STOREKEEPER})
INSTRUCTOR = frozenset({Role.INSTRUCTOR})
STOREKEEPER = frozenset({Role.STOREKEEPER})
HEAD = frozenset({Role.HEAD})
STUDENT = frozenset({Role.STUDENT})

GET = ("GET",)
POST = ("POST",)
FORM = ("GET", "POST")


class RouteWithoutRule(CoursekitError):
    """The program has a page for which nobody said who may open it."""

    def __init__(self, endpoint: str) -> None:
        self.endpoint = endpoint
        super().__init__(endpoint)

    def __str__(self) -> str:
        return f"The route {self.endpoint} has no rule. Put it into the table of an area's urls.py."


@dataclass(frozen=True)
class Route:
    """One line of an area's table: path, name, view, and who may open it.

    `keeps_typed` is for a form whose view writes only when the form validates:
    with a stale token it is shown again with what was typed.  Any other route
    refuses a stale token before its view runs.  Only the page of a `camera` route may
    ask for the camera.  `largest` is how many bytes may be sent where a file comes along;
    its form says so where there are more.
    """

    path: str
    name: str
    view: Callable[..., ResponseReturnValue]
    roles: frozenset[Role] | None
    methods: tuple[str, ...] = GET
    keeps_typed: bool = False
    nav: LazyString | None = None
    camera: bool = False
    largest: int | None = None


@dataclass(frozen=True)
class Rule:
    """A route as registered, under its full endpoint."""

    endpoint: str
    route: Route

    def admits(self, roles: frozenset[Role]) -> bool:
        """Whether a person with these roles may open it."""
        return self.route.roles is None or bool(roles & self.route.roles)


def area(name: str, routes: Sequence[Route], prefix: str = "") -> Blueprint:
    """Return the blueprint of an area, its rules recorded with its routes."""
    blueprint = Blueprint(name, f"coursekit.web.{name}", url_prefix=prefix or None)
    for route in routes:
        blueprint.add_url_rule(route.path, route.name, route.view, methods=route.methods)
        blueprint.record(_recorder(f"{name}.{route.name}", route))
    return blueprint


def rules(app: App) -> dict[str, Rule]:
    """Return the rule of each endpoint, in the order of the tables."""
    found: dict[str, Rule] = app.extensions.setdefault(EXTENSION, {})
    return found


def require_rules(app: Flask) -> None:
    """Raise for the first route of the whole app that has no rule."""
    for url in app.url_map.iter_rules():
        if url.endpoint != "static" and url.endpoint not in rules(app):
            raise RouteWithoutRule(url.endpoint)


def _recorder(endpoint: str, route: Route) -> Callable[[BlueprintSetupState], None]:
    def record(state: BlueprintSetupState) -> None:
        rules(state.app)[endpoint] = Rule(endpoint, route)

    return record
