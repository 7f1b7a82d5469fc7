"""Headers, cookies, limits and the secret key."""

import stat
from pathlib import Path

import pytest
from flask import Flask

from coursekit.store.unit import Unit
from coursekit.web.app import create_app
from coursekit.web.instance import secret_key
from coursekit.web.security import CONTENT_SECURITY_POLICY
from tests.web.visitor import Visitor


def test_nothing_inline_and_nothing_from_elsewhere_may_run(visitor: Visitor) -> None:
    policy = visitor.open("/").response.headers["Content-Security-Policy"]

    assert policy.startswith("default-src 'none'; script-src 'self'; style-src 'self'")
    assert "unsafe" not in policy
    assert set(CONTENT_SECURITY_POLICY.values()) == {"'self'", "'none'"}


@pytest.mark.parametrize("path", ["/", "/join", "/nowhere", "/my-class"])
def test_every_answer_carries_the_guarding_headers(visitor: Visitor, path: str) -> None:
    headers = visitor.client.get(path).headers

    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert "camera=()" in headers["Permissions-Policy"]
    assert headers["Cache-Control"] == "no-store"


def test_a_field_network_without_https_is_never_locked_out(visitor: Visitor) -> None:
    assert "Strict-Transport-Security" not in visitor.open("/").response.headers


@pytest.mark.parametrize(("scheme", "is_secure"), [("http", False), ("https", True)])
def test_the_cookie_is_secure_exactly_where_the_page_is(
    visitor: Visitor, scheme: str, *, is_secure: bool
) -> None:
    answer = visitor.client.get("/join", base_url=f"{scheme}://school.test")
    cookie = answer.headers["Set-Cookie"]

    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert ("Secure" in cookie) is is_secure


def test_static_files_may_be_kept(visitor: Visitor) -> None:
    with visitor.client.get("/static/css/site.css") as answer:
        assert "no-store" not in answer.headers["Cache-Control"]


def test_too_much_at_once_is_refused_with_a_page(student: Visitor, attempt: str) -> None:
    student.response = student.client.post(
        f"{attempt}/tasks/total", data={"answer": "9" * 2_000_000}
    )

    assert student.status == 413
    assert student.heading == "That is too much at once"


def test_the_first_start_makes_a_key_for_its_owner_alone(tmp_path: Path) -> None:
    folder = tmp_path / "instance"
    made = secret_key(folder)

    assert len(bytes.fromhex(made)) == 32
    assert stat.S_IMODE((folder / "secret-key").stat().st_mode) == 0o600
    assert secret_key(folder) == made
    assert [path.name for path in folder.iterdir()] == ["secret-key"]


def test_the_key_of_the_instance_signs_the_cookies(unit: Unit, tmp_path: Path) -> None:
    one, other = (create_app({"UNIT": unit, "INSTANCE": tmp_path}) for _ in range(2))

    assert one.secret_key == other.secret_key == secret_key(tmp_path)


def test_forms_have_bounds(app: Flask) -> None:
    assert app.config["MAX_CONTENT_LENGTH"] == 1024 * 1024
    assert app.config["MAX_FORM_MEMORY_SIZE"] == 256 * 1024
    assert app.config["MAX_FORM_PARTS"] == 1000
