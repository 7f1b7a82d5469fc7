"""The editor's pages: begin a draft, change it, save it as a version, bring and take files."""

from __future__ import annotations

from urllib.parse import quote, urlencode

from flask import Response, flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.files.blank_scenario import BLANK
from coursekit.files.reading import sent_text
from coursekit.problems import CoursekitError, Problems
from coursekit.services import drafting, preparing
from coursekit.services.drafting import Draft, Rewrite
from coursekit.web import clock
from coursekit.web.fields import Press
from coursekit.web.identity import actor, unit
from coursekit.web.prepare.editor_changes import (
    can_be_a_form,
    changed_as_text,
    changed_by_form,
    data_of,
    differences,
)
from coursekit.web.prepare.editor_forms import DraftForm, ImportForm, TextForm
from coursekit.web.prepare.editor_pages import TextPage, draft_head, draft_lines, edit_page
from coursekit.web.prepare.editor_result import result_of

YAML = "application/yaml"
SAVE = "save"
FOLLOW = "follow"


def version_file(version_id: int) -> ResponseReturnValue:
    """Give out the file of a version, byte for byte as it was saved."""
    version = preparing.scenario_version(unit(), actor(), version_id)
    return _file(version.source, version.scenario.id)


def draft_file(draft_id: int) -> ResponseReturnValue:
    """Give out a draft as a file."""
    draft = _draft(draft_id)
    return _file(draft.text, draft.slug or "draft")


def change(version_id: int) -> ResponseReturnValue:
    """Open the person's draft of a scenario, begun now if there is none."""
    return _to_draft(drafting.begin_from(unit(), actor(), version_id, clock.now()))


def copy(version_id: int) -> ResponseReturnValue:
    """Begin a new scenario that is like this one."""
    return _to_draft(drafting.begin_copy(unit(), actor(), version_id, clock.now()))


def new() -> ResponseReturnValue:
    """Show the person's drafts and the ways to begin another; begin a blank one."""
    form = Press()
    if form.validate_on_submit():
        return _to_draft(drafting.begin_with(unit(), actor(), BLANK, clock.now()))
    return _new_page(form, ImportForm(formdata=None))


def import_file() -> ResponseReturnValue:
    """Begin a new scenario from a file of the person's device, sound or not."""
    form = ImportForm()
    if form.validate_on_submit():
        try:
            name, data = form.read()
            text = sent_text(data, name or "file")
            return _to_draft(drafting.begin_with(unit(), actor(), text, clock.now()))
        except CoursekitError as error:
            form.show(error)
    return _new_page(Press(formdata=None), form)


def edit(draft_id: int) -> ResponseReturnValue:
    """Show a draft as controls; keep what was typed, add and remove, save when asked."""
    draft, form = _draft(draft_id), DraftForm()
    if not can_be_a_form(draft.text):
        flash(_("This text can't be shown as a form yet: mend it here first."), "error")
        return redirect(url_for("prepare.draft_text", draft_id=draft_id))
    changed = changed_by_form(draft.text, request.form)
    if form.is_submitted():
        is_stale = form.version != draft.revision
        if (
            form.validate_on_submit()
            and not changed.refused
            and (done := kept(draft, form, changed.text, changed.row))
        ):
            return done
        form.notices += differences(draft.text, request.form) if is_stale else ()
        form.notices += changed.refused
    form.stamp(draft.revision)
    opened = changed.row or request.args.get("open", "")
    page = edit_page(draft, data_of(changed.text), result_of(changed.text), opened)
    return render_template("prepare/edit.html", page=page, form=form), form.status


def try_out(draft_id: int) -> ResponseReturnValue:
    """Keep what a script sends as somebody types, and answer with what it comes to."""
    draft, form = _draft(draft_id), TextForm()
    is_text = "text" in request.form
    typed = form.typed if is_text else changed_by_form(draft.text, request.form).text
    seen = drafting.rewrite(unit(), actor(), Rewrite(draft_id, typed, form.version), clock.now())
    result = result_of(typed)
    placed = None if is_text else edit_page(draft, data_of(typed), result)
    links = placed.links if placed else {}
    return jsonify(
        seen=seen,
        title=draft_head(draft, result).title,
        summary=result.summary,
        beside=placed.beside if placed else {},
        result=render_template("prepare/_result.html", result=result, links=links),
    )


def text(draft_id: int) -> ResponseReturnValue:
    """Show a draft as text; keep what was typed, and save it as a version when asked."""
    draft, form = _draft(draft_id), TextForm()
    if not form.is_submitted():
        form.text.data = draft.text
    changed = changed_as_text(form.typed, request.form)
    form.notices += changed.refused
    may_keep = form.validate_on_submit() and not changed.refused
    if may_keep and (done := kept(draft, form, changed.text)):
        return done
    result = result_of(form.typed)
    form.stamp(draft.revision)
    page = TextPage(draft_head(draft, result), result)
    return render_template("prepare/edit_text.html", page=page, form=form), form.status


def discard(draft_id: int) -> ResponseReturnValue:
    """Ask once, then throw a draft away."""
    draft, form = _draft(draft_id), Press()
    if form.validate_on_submit():
        drafting.discard(unit(), actor(), draft_id)
        flash(_("The draft is gone. What was saved is still here."))
        return redirect(url_for("prepare.scenarios"))
    page = draft_head(draft, result_of(draft.text))
    return render_template("prepare/discard.html", page=page, form=form), form.status


def kept(draft: Draft, form: DraftForm, typed: str, row: str = "") -> ResponseReturnValue | None:
    """Keep a draft's new text and do what its button says; None where something is to be mended.

    `row` is the name of the entry to go on at.
    """
    act = request.form.get("act", "")
    try:
        change = Rewrite(draft.draft_id, typed, form.version)
        seen = drafting.rewrite(unit(), actor(), change, clock.now())
        form.stamp(seen, again=True)
        if act == FOLLOW:
            drafting.follow(unit(), actor(), draft.draft_id)
        if act in {SAVE, FOLLOW}:
            return _saved(draft.draft_id, seen)
    except Problems:
        form.notices.append(_("It is kept as a draft. Mend what is listed, then save it again."))
        return None
    except CoursekitError as error:
        form.show(error)
        form.stamp(_draft(draft.draft_id).revision, again=True)
        return None
    return redirect(
        f"{request.path}?{urlencode({'open': row})}#{quote(row)}" if row else request.path
    )


def _saved(draft_id: int, seen: int) -> ResponseReturnValue:
    version_id = drafting.save_version(unit(), actor(), draft_id, seen, clock.now())
    number = preparing.scenario_version(unit(), actor(), version_id).number
    flash(_("Saved as version %(n)s. Classes that have begun keep theirs.", n=number))
    return redirect(url_for("prepare.scenario", version_id=version_id))


def _new_page(press: Press, form: ImportForm) -> ResponseReturnValue:
    lines = draft_lines(drafting.drafts(unit(), actor()))
    page = render_template("prepare/new.html", drafts=lines, press=press, form=form)
    return page, max(press.status, form.status)


def _draft(draft_id: int) -> Draft:
    return drafting.draft(unit(), actor(), draft_id)


def _to_draft(draft_id: int) -> ResponseReturnValue:
    return redirect(url_for("prepare.edit", draft_id=draft_id))


def _file(source: str, name: str) -> ResponseReturnValue:
    response = Response(source.encode(), mimetype=YAML)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.yaml"'
    return response
