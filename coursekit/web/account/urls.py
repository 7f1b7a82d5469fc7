"""The pages of the account area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.account import views
from coursekit.web.routes import ANYONE, FORM, HEAD, POST, SIGNED_IN, STAFF, Route, area
from coursekit.web.security import SignInNeeded

ROUTES = (
    Route("/", "first", views.first, ANYONE),
    Route("/set-up", "set_up", views.set_up, ANYONE, FORM, keeps_typed=True),
    Route("/join", "join", views.join, ANYONE, FORM, keeps_typed=True),
    # Upper case, so that a QR code of the whole address stays small.
    Route("/J/<code>", "join_by_code", views.join_by_code, ANYONE),
    Route("/return", "return_to_class", views.return_to_class, ANYONE, FORM, keeps_typed=True),
    Route("/sign-in", "sign_in", views.sign_in, ANYONE, FORM, keeps_typed=True),
    Route("/me", "me", views.me, SIGNED_IN, nav=_l("Me")),
    Route("/me/data.zip", "my_data", views.my_data, SIGNED_IN),
    Route("/me/password", "password", views.password, STAFF | HEAD, FORM, keeps_typed=True),
    Route("/me/sign-out", "sign_out", views.sign_out, SIGNED_IN, POST),
    Route(
        "/me/sign-out-everywhere", "sign_out_everywhere", views.sign_out_everywhere, SIGNED_IN, POST
    ),
)


def blueprint() -> Blueprint:
    """Return the area; it also answers for everybody whose sign-in has ended."""
    account = area("account", ROUTES)
    account.app_errorhandler(SignInNeeded)(views.sign_in_needed)
    return account
