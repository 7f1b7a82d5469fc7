"""Every failure becomes a page (or JSON for a script) in this one place.

A page names what happened and how to go on, with a short reference that also
stands in the log.  No traceback and no text of an unknown exception is shown.
"""

from __future__ import annotations

import logging
import secrets
from dataclasses import dataclass
from http import HTTPStatus

from flask import Flask, Response, jsonify, make_response, render_template, request
from flask.typing import ResponseReturnValue
from flask_babel import lazy_gettext as _l
from flask_babel.speaklater import LazyString
from flask_wtf.csrf import CSRFError, generate_csrf
from werkzeug.exceptions import HTTPException

from coursekit.problems import CoursekitError
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded, TooManyTries

log = logging.getLogger(__name__)

SERVER_ERROR = 500


@dataclass(frozen=True)
class Wording:
    """What an error page says: its title, and what the person can do."""

    title: LazyString
    mend: LazyString


WORDINGS = {
    400: Wording(
        _l("That could not be read"),
        _l("Go back and send it again. If you had typed something, it is still in the form."),
    ),
    401: Wording(_l("You are signed out"), _l("Sign in again, then go on where you were.")),
    403: Wording(
        _l("This page is not for your role"),
        _l("Ask your instructor, or sign in as somebody who may open it."),
    ),
    404: Wording(
        _l("There is no such page here"),
        _l("Look at the address, or start again from the first page."),
    ),
    405: Wording(
        _l("That page can't be used in this way"), _l("Open it from its link or its form.")
    ),
    409: Wording(
        _l("Somebody changed this in the meantime"),
        _l("Go back, load the page again and look at what is there now."),
    ),
    413: Wording(
        _l("That is too much at once"),
        _l("Send less: shorter texts, fewer fields, a smaller file."),
    ),
    429: Wording(_l("Too many tries"), _l("Wait a little, then try again.")),
    500: Wording(
        _l("Something broke on our side"),
        _l("Nothing that was saved is lost. Try again; if it stays, tell the reference below."),
    ),
}
STATUS_OF: tuple[tuple[type[CoursekitError], int], ...] = (
    (NotFound, 404),
    (RoleNeeded, 403),
    (Conflict, 409),
    (TooManyTries, 429),
    (Refused, 400),
    (CoursekitError, 400),
)


@dataclass(frozen=True)
class ErrorPage:
    """The view model of an error page; `said` is what the program itself can say of it."""

    status: int
    title: LazyString
    mend: LazyString
    said: str
    reference: str


def register(app: Flask) -> None:
    """Let every failure of the app end here."""
    app.register_error_handler(CSRFError, _stale)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(CoursekitError, _ours)
    app.register_error_handler(Exception, _unknown)


def wants_json() -> bool:
    """Whether a script of ours asked, not a person's browser."""
    best = request.accept_mimetypes.best_match(["text/html", "application/json"])
    return best == "application/json"


def signed_out_json() -> ResponseReturnValue:
    """Tell a script that its person's sign-in has ended; what it keeps stays kept."""
    return jsonify(error="signed-out"), HTTPStatus.UNAUTHORIZED


def _stale(_error: CSRFError) -> ResponseReturnValue:
    if wants_json():
        # Only a page of our own origin can read this answer, so it may carry a fresh token.
        return jsonify(error="stale", csrf=generate_csrf()), HTTPStatus.BAD_REQUEST
    return _page(400, str(_l("The page stood open too long, or was opened in two ways.")))


def _http(error: HTTPException) -> ResponseReturnValue:
    if error.response is not None or (error.code or SERVER_ERROR) < HTTPStatus.BAD_REQUEST:
        return error.get_response()  # a redirect, such as a missing slash
    response = _page(error.code or SERVER_ERROR)
    for name, value in error.get_headers():
        if name not in ("Content-Type", "Content-Length"):
            response.headers[name] = value
    return response


def _ours(error: CoursekitError) -> ResponseReturnValue:
    status = next(code for kind, code in STATUS_OF if isinstance(error, kind))
    response = _page(status, "" if status in (403, 404) else str(error))
    if isinstance(error, TooManyTries):
        response.headers["Retry-After"] = str(max(1, round(error.wait.total_seconds())))
    return response


def _unknown(error: Exception) -> ResponseReturnValue:
    reference = _reference()
    log.error("unexpected error %s on %s", reference, request.path, exc_info=error)
    return _page(SERVER_ERROR, reference=reference)


def _page(status: int, said: str = "", reference: str = "") -> Response:
    wording = WORDINGS.get(status) or WORDINGS[400 if status < SERVER_ERROR else SERVER_ERROR]
    page = ErrorPage(status, wording.title, wording.mend, said, reference or _reference())
    if status < SERVER_ERROR:
        log.info("answered %s %s with %d, %s", request.method, request.path, status, page.reference)
    if wants_json():
        response = jsonify(error=said or str(page.title), reference=page.reference)
    else:
        response = make_response(render_template(_template(status), page=page))
    response.status_code = status
    return response


def _template(status: int) -> str:
    return f"errors/{status if status in WORDINGS else 400}.html"


def _reference() -> str:
    return secrets.token_hex(3).upper()
