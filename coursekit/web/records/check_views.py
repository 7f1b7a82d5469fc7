"""The page where anybody checks the code of a certificate."""

from __future__ import annotations

from http import HTTPStatus

from flask import render_template, request
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.services import records
from coursekit.web import clock, identity
from coursekit.web.identity import unit
from coursekit.web.records.record_page import certificate_page

LONGEST = 60


def check() -> ResponseReturnValue:
    """Ask for a code, or show what it stands for."""
    typed = request.args.get("code", "")[:LONGEST]
    return _answer(typed) if typed.strip() else _asked()


def check_code(code: str) -> ResponseReturnValue:
    """Show what the code of a picture stands for."""
    return _answer(code[:LONGEST])


def _answer(typed: str) -> ResponseReturnValue:
    try:
        view = records.checked(unit(), typed, identity.client(), clock.now())
    except records.Mistyped:
        problem = _("These signs are no code of ours. A code has 16: compare it with the paper.")
        return _asked(typed, problem), HTTPStatus.UNPROCESSABLE_ENTITY
    page = None if view is None else certificate_page(view)
    if page is None:
        return _asked(typed, missing=True), HTTPStatus.NOT_FOUND
    return render_template("records/check.html", page=page)


def _asked(typed: str = "", problem: str = "", *, missing: bool = False) -> str:
    return render_template("records/check_form.html", typed=typed, problem=problem, missing=missing)
