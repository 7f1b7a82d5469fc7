"""The application factory: settings, guards, areas, and nothing else."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from flask import Flask
from flask_babel import Babel
from jinja2 import StrictUndefined
from werkzeug.middleware.proxy_fix import ProxyFix

from coursekit.files.resources import instance_folder, resource_dir
from coursekit.store.filing import FOLDER, Filing
from coursekit.store.unit import open_unit
from coursekit.web import (
    account,
    answer,
    errors,
    filters,
    identity,
    kit,
    locale,
    navigation,
    prepare,
    records,
    school,
    security,
    teach,
)
from coursekit.web.ids import IdConverter
from coursekit.web.instance import secret_key
from coursekit.web.routes import require_rules

AREAS = (
    answer.blueprint,
    teach.blueprint,
    prepare.blueprint,
    kit.blueprint,
    records.blueprint,
    school.blueprint,
    account.blueprint,
)


def create_app(config: Mapping[str, Any] | None = None) -> Flask:
    """Return the whole app, its database migrated and every route under a rule.

    `config` goes before the environment: `INSTANCE` (a folder), `DATABASE_URL`,
    `UNIT` (an open unit of work), and any setting of Flask's own.
    """
    given = dict(config or {})
    folder = Path(given.pop("INSTANCE", None) or instance_folder())
    app = Flask(
        "coursekit.web",
        instance_path=str(folder),
        template_folder=str(resource_dir("templates")),
    )
    _configure(app, given)
    app.extensions[identity.UNIT] = given.get("UNIT") or open_unit(_database_url(app), folder)
    app.extensions[identity.FILING] = Filing(folder / FOLDER)
    _install(app)
    return app


def _configure(app: Flask, given: Mapping[str, Any]) -> None:
    app.config.from_mapping(security.SETTINGS)
    app.config["BABEL_TRANSLATION_DIRECTORIES"] = str(Path(__file__).parent / "translations")
    app.config["DATABASE_URL"] = os.environ.get("COURSEKIT_DATABASE_URL")
    app.config.from_mapping(given)
    if not app.config["SECRET_KEY"]:
        app.config["SECRET_KEY"] = secret_key(Path(app.instance_path))
    proxies = int(os.environ.get("COURSEKIT_PROXIES", "0"))
    if proxies:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=proxies, x_proto=proxies, x_host=proxies)  # type: ignore[method-assign]  # as Flask documents it


def _database_url(app: Flask) -> str | None:
    url: str | None = app.config["DATABASE_URL"]
    return url


def _install(app: Flask) -> None:
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    Babel(app, locale_selector=locale.choose, timezone_selector=identity.timezone)
    security.guard(app)
    errors.register(app)
    filters.register(app)
    app.url_map.converters["int"] = IdConverter
    navigation.register(app)
    for blueprint in AREAS:
        app.register_blueprint(blueprint())
    require_rules(app)
