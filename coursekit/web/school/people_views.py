"""The head's pages of people: who works here, and what each of them may do."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import accounts, staffing
from coursekit.services.staffing import FirstPassword, Roles
from coursekit.web import clock, identity
from coursekit.web.fields import Press
from coursekit.web.identity import actor, unit
from coursekit.web.school.forms import FirstPasswordForm, NewPersonForm, RolesForm
from coursekit.web.school.people_page import PersonPage, people_page, person_page


def people() -> ResponseReturnValue:
    """Show everybody who works at the school."""
    page = people_page(accounts.people(unit(), actor()), identity.someone().school.name)
    return render_template("school/people.html", page=page)


def add_person() -> ResponseReturnValue:
    """Add somebody who signs in with a name and a first password."""
    form = NewPersonForm()
    if form.validate_on_submit():
        try:
            person_id = accounts.add_person(unit(), actor(), form.new, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Added. Give them the first password; they change it under Me."))
            return _to(person_id)
    return render_template("school/add_person.html", form=form), form.status


def person(person_id: int) -> ResponseReturnValue:
    """Show one of the staff, and the ways to change what they may do."""
    return render_template("school/person.html", page=_page(person_id))


def roles(person_id: int) -> ResponseReturnValue:
    """Give somebody other roles."""
    page = _page(person_id)
    row = staffing.one_of_staff(unit(), actor(), person_id)
    form = RolesForm(roles=list(row.roles))
    if form.validate_on_submit():
        try:
            staffing.change_roles(unit(), actor(), Roles(person_id, form.chosen))
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("The roles are changed."))
            return _to(person_id)
    return render_template("school/roles.html", page=page, form=form), form.status


def password(person_id: int) -> ResponseReturnValue:
    """Give somebody a new first password; who had left is let in again."""
    page = _page(person_id)
    form = FirstPasswordForm()
    if form.validate_on_submit():
        first = FirstPassword(person_id, form.password.data)
        try:
            staffing.give_password(unit(), actor(), first, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("The new password holds, and every older sign-in is ended."))
            return _to(person_id)
    return render_template("school/first_password.html", page=page, form=form), form.status


def end_person(person_id: int) -> ResponseReturnValue:
    """Let somebody sign in no more; a page asks before it is done."""
    page = _page(person_id)
    form = Press()
    if form.validate_on_submit():
        try:
            staffing.end_person(unit(), actor(), person_id, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Signed out and let in no more. What they recorded stays."))
            return redirect(url_for("school.people"), HTTPStatus.SEE_OTHER)
    return render_template("school/end_person.html", page=page, form=form), form.status


def _page(person_id: int) -> PersonPage:
    row = staffing.one_of_staff(unit(), actor(), person_id)
    return person_page(row, staffing.only_head(accounts.people(unit(), actor())))


def _to(person_id: int) -> ResponseReturnValue:
    return redirect(url_for("school.person", person_id=person_id), HTTPStatus.SEE_OTHER)
