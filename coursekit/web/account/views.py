"""Signing in and out, joining a class, setting up the school."""

from __future__ import annotations

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.files.personal_archive import ARCHIVE_TYPE
from coursekit.problems import CoursekitError, Problems
from coursekit.services import accounts, answering, personal_data, preparing, schools
from coursekit.services.accounts import Credentials, PasswordChange
from coursekit.services.actor import Actor, Role
from coursekit.services.answering import Join, Return
from coursekit.services.schools import NewSchool
from coursekit.web import clock, identity, navigation, words
from coursekit.web.account.forms import (
    Carrying,
    JoinForm,
    PasswordForm,
    ReturnForm,
    SetUpForm,
    SignInForm,
)
from coursekit.web.account.pages import FirstPage, JoinPage, MePage, SignInPage
from coursekit.web.errors import signed_out_json, wants_json
from coursekit.web.fields import Press
from coursekit.web.given_out import attached
from coursekit.web.identity import unit
from coursekit.web.routes import STUDENT
from coursekit.web.security import UNSAFE_METHODS, SignInNeeded

REPEAT_THE_POST = 307


def first() -> ResponseReturnValue:
    """Show what this is; take people who are known on to their own start."""
    if identity.person():
        return redirect(navigation.home())
    if not schools.is_set_up(unit()):
        return redirect(url_for("account.set_up"))
    there = schools.schools(unit())
    page = FirstPage(there[0].name if len(there) == 1 else None)
    return render_template("account/first.html", page=page, form=JoinForm())


def set_up() -> ResponseReturnValue:
    """Make the school and its first instructor, once."""
    if schools.is_set_up(unit()):
        return redirect(url_for("account.first"))
    form = SetUpForm()
    if form.validate_on_submit():
        try:
            return _set_up(form)
        except CoursekitError as error:
            form.show(error)
    return render_template("account/set_up.html", form=form), form.status


def join() -> ResponseReturnValue:
    """Let a student into a class by its code."""
    form = JoinForm(code=request.args.get("code", ""))
    if form.validate_on_submit():
        try:
            join = Join(form.code.data, form.name.data, identity.client())
            joined = answering.join_class(unit(), join, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            identity.begin(joined.token, (form.code.data, joined.return_code))
            return redirect(url_for("answer.card"))
    return render_template("account/join.html", form=form, page=JoinPage(None)), form.status


def join_by_code(code: str) -> ResponseReturnValue:
    """Show the join page behind the QR code, its code filled in."""
    form = JoinForm(code=code)
    brief = None
    try:
        brief = answering.class_of_code(unit(), code, clock.now(), identity.client()).title
    except CoursekitError as error:
        form.show(error)
    return render_template("account/join.html", form=form, page=JoinPage(brief)), form.status


def return_to_class() -> ResponseReturnValue:
    """Let a student back in, from this device or another."""
    form = ReturnForm(next=request.args.get("next", ""))
    if form.validate_on_submit():
        again = Return(
            form.code.data or "", form.name.data, form.return_code.data, identity.client()
        )
        try:
            joined = answering.return_to_class(unit(), again, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            identity.begin(joined.token, (form.code.data or "", form.return_code.data))
            return _go_on(form)
    return _let_in("account/return.html", form), form.status


def sign_in() -> ResponseReturnValue:
    """Let staff in by name and password."""
    form = _sign_in_form()
    if form.validate_on_submit():
        credentials = Credentials(form.sign_in_name.data, form.password.data, form.chosen_school)
        try:
            signed_in = accounts.sign_in(unit(), credentials, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            identity.begin(signed_in.token)
            return _go_on(form)
    return _let_in("account/sign_in.html", form), form.status


def sign_in_needed(error: SignInNeeded) -> ResponseReturnValue:
    """Ask for a sign-in, keeping what was typed and where it was going."""
    if wants_json():
        return signed_out_json()
    is_student = error.rule.route.roles == STUDENT
    if request.method not in UNSAFE_METHODS:
        way_in = "account.return_to_class" if is_student else "account.sign_in"
        return redirect(url_for(way_in, next=request.full_path.rstrip("?")))
    form = ReturnForm(formdata=None) if is_student else _sign_in_form(fresh=True)
    form.next.data = request.full_path.rstrip("?")
    template = "account/return.html" if is_student else "account/sign_in.html"
    return _let_in(template, form, ended=True), 401


def me() -> ResponseReturnValue:
    """Show who one is here, and the ways out."""
    person = identity.someone()
    roles = tuple(str(words.ROLES[role]) for role in Role if role in person.actor.roles)
    may_change = not person.actor.has(Role.STUDENT)
    page = MePage(person.name, person.school.name, roles, may_change)
    return render_template("account/me.html", page=page, form=Press())


def my_data() -> Response:
    """Give a person all that the school keeps about them."""
    archive = personal_data.own_data(unit(), identity.actor(), clock.now())
    return attached(archive, ARCHIVE_TYPE, "my-data.zip")


def password() -> ResponseReturnValue:
    """Change one's own password; every other sign-in ends."""
    form = PasswordForm()
    if form.validate_on_submit():
        change = PasswordChange(identity.token(), form.old.data, form.new.data)
        try:
            accounts.change_password(unit(), identity.actor(), change, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Password changed. Everybody else who used it is signed out."))
            return redirect(url_for("account.me"))
    return render_template("account/password.html", form=form), form.status


def sign_out() -> ResponseReturnValue:
    """End this sign-in, on the server too."""
    accounts.sign_out(unit(), identity.token(), clock.now())
    identity.end()
    return redirect(url_for("account.first"))


def sign_out_everywhere() -> ResponseReturnValue:
    """End every sign-in of this person, this one too."""
    accounts.sign_out_everywhere(unit(), identity.actor(), clock.now())
    identity.end()
    flash(_("You are signed out everywhere."))
    return redirect(url_for("account.first"))


def _set_up(form: SetUpForm) -> ResponseReturnValue:
    new = NewSchool(
        form.name.data,
        form.timezone.data,
        form.locale.data,
        form.instructor_name.data,
        form.sign_in_name.data,
        form.password.data,
    )
    schools.set_up_school(unit(), new, clock.now())
    credentials = Credentials(new.sign_in_name, new.password)
    signed_in = accounts.sign_in(unit(), credentials, clock.now())
    identity.begin(signed_in.token)
    _load_scenarios(signed_in.person.actor)
    return redirect(navigation.home())


def _load_scenarios(head: Actor) -> None:
    """Give a new school the scenarios that are there; a bad file must not keep it from starting."""
    try:
        preparing.load_folder(unit(), head, clock.now())
    except Problems:
        flash(_("The scenario files hold mistakes: load them from Scenarios to see which."))


def _sign_in_form(*, fresh: bool = False) -> SignInForm:
    kwargs = {"formdata": None} if fresh else {}
    form = SignInForm(next=request.args.get("next", ""), **kwargs)
    form.offer([(school.id, school.name) for school in schools.schools(unit())])
    return form


def _let_in(template: str, form: Carrying, *, ended: bool = False) -> str:
    kept = form.carried
    page = SignInPage(ended or bool(form.next.data), kept)
    return render_template(template, form=form, page=page)


def _go_on(form: Carrying) -> ResponseReturnValue:
    """Go where the person was going; a form that was cut off is sent on with its text.

    Its token is of the old sign-in, so it is shown again and nothing is written unseen.
    """
    target = _own_address(form.next.data or "")
    if target is None:
        return redirect(navigation.home())
    return redirect(target, REPEAT_THE_POST if form.carried else 303)


def _own_address(text: str) -> str | None:
    r"""Return the address if it is one of this site's own, else None.

    >>> _own_address("/my-class?x=1"), _own_address("//elsewhere"), _own_address("/\\elsewhere")
    ('/my-class?x=1', None, None)
    """
    is_path = text.startswith("/") and not text.startswith(("//", "/\\"))
    return text if is_path and text.isprintable() else None
