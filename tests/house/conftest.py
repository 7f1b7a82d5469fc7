"""One app for all the tests that read its templates and routes."""

import pytest
from flask import Flask

from coursekit.web.app import create_app


@pytest.fixture(scope="session")
def app(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    return create_app({"INSTANCE": tmp_path_factory.mktemp("instance"), "DATABASE_URL": None})
