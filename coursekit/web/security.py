"""What guards every request: who may open a page, forged posts, headers, cookies.

The policies are data at the top; the hooks below only carry them out.
"""

from __future__ import annotations

from flask import Flask, Response, current_app, g, request
from flask.sessions import SecureCookieSessionInterface
from flask_wtf.csrf import CSRFError, CSRFProtect
from werkzeug.exceptions import Forbidden, RequestEntityTooLarge, Unauthorized

from coursekit.web import identity
from coursekit.web.errors import wants_json
from coursekit.web.routes import Rule, rules

CONTENT_SECURITY_POLICY = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self'",
    "font-src": "'self'",
    "connect-src": "'self'",
    "manifest-src": "'self'",
    "worker-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
}
HEADERS = {
    "Content-Security-Policy": "; ".join(f"{k} {v}" for k, v in CONTENT_SECURITY_POLICY.items()),
    "X-Content-Type-Options": "nosniff",
    # The check of forged posts on https reads the referrer of our own pages.
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Resource-Policy": "same-origin",
}
WITH_CAMERA = HEADERS["Permissions-Policy"].replace("camera=()", "camera=(self)")
# No Strict-Transport-Security: on a field network without https it would lock the class out.
LIMITS = {
    "MAX_CONTENT_LENGTH": 1024 * 1024,
    "MAX_FORM_MEMORY_SIZE": 256 * 1024,
    "MAX_FORM_PARTS": 1000,
}
TEACHING_DAY = 12 * 3600
SETTINGS = {
    **LIMITS,
    "SESSION_COOKIE_NAME": "coursekit",
    "SESSION_COOKIE_HTTPONLY": True,
    "SESSION_COOKIE_SAMESITE": "Lax",
    "SESSION_REFRESH_EACH_REQUEST": False,
    "PERMANENT_SESSION_LIFETIME": 30 * 24 * 3600,
    "WTF_CSRF_TIME_LIMIT": TEACHING_DAY,
    # Our own hook checks, after the rule of the route, and keeps what was typed.
    "WTF_CSRF_CHECK_DEFAULT": False,
}
UNSAFE_METHODS = frozenset({"POST", "PUT", "PATCH", "DELETE"})

csrf = CSRFProtect()


class SignInNeeded(Unauthorized):
    """A page for signed-in people was asked for by somebody who is not, or is no more."""

    def __init__(self, rule: Rule) -> None:
        self.rule = rule
        super().__init__()


class SchemeCookies(SecureCookieSessionInterface):
    """Session cookies that are Secure exactly when the page came over https."""

    def get_cookie_secure(self, app: Flask) -> bool:  # noqa: ARG002 - flask calls it so
        """Return whether the cookie may travel over https only."""
        return request.is_secure


def guard(app: Flask) -> None:
    """Put the hooks on the app, in the order in which they must run."""
    app.session_interface = SchemeCookies()
    csrf.init_app(app)
    app.before_request(_check_rule)
    app.before_request(_allow_file)
    app.before_request(_check_token)
    app.after_request(_add_headers)


def token_is_stale() -> bool:
    """Whether this request's forms must not be acted upon, only shown again."""
    return bool(g.get("token_is_stale", False))


def is_too_large() -> bool:
    """Whether more was sent than is read, so that its form can only be shown again."""
    return bool(g.get("is_too_large", False))


def _check_rule() -> None:
    rule = _rule()
    if rule is None or rule.route.roles is None:
        return
    person = identity.person()
    if person is None:
        raise SignInNeeded(rule)
    if not rule.admits(person.actor.roles):
        raise Forbidden


def _allow_file() -> None:
    """Let those who may open the page send it a file; nobody else gets that far."""
    rule = _rule()
    if rule is not None and rule.route.largest is not None:
        request.max_content_length = rule.route.largest


def _check_token() -> None:
    rule = _rule()
    if rule is None or request.method not in UNSAFE_METHODS:
        return
    try:
        csrf.protect()
    except RequestEntityTooLarge:
        if rule.route.largest is None:
            raise
        g.is_too_large = True
    except CSRFError:
        if not rule.route.keeps_typed or wants_json():
            raise
        g.token_is_stale = True


def _rule() -> Rule | None:
    """Return the rule of the request; None for unknown routes and static files."""
    return rules(current_app).get(request.endpoint or "")


def _add_headers(response: Response) -> Response:
    rule = _rule()
    if rule is not None and rule.route.camera:
        response.headers["Permissions-Policy"] = WITH_CAMERA
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if request.endpoint != "static":
        # Pages hold names and answers: no shared cache and no disk keeps them.  Pictures say
        # themselves that a browser may keep them for its person, and ask each time.
        response.headers.setdefault("Cache-Control", "no-store")
    return response
