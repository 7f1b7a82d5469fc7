"""Templates are strict, titled, free of inline code and speak through gettext."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from flask import Flask
from jinja2 import StrictUndefined, nodes

from tests.house.tree import TEMPLATES, name_of, template_files

PAGES = [
    path
    for path in template_files()
    if path.suffix == ".html"
    and not any(part.startswith("_") for part in path.relative_to(TEMPLATES).parts)
    and path.parent.name != "layout"
]
INLINE = re.compile(r"\sstyle\s*=|\son[a-z]+\s*=|<style|<script(?![^>]*\ssrc=)|\|\s*safe\b")
COMMENT = re.compile(r"\{#.*?#\}", re.DOTALL)
TRANSLATED = re.compile(r"\{%-?\s*trans\b.*?%\}.*?\{%-?\s*endtrans\s*-?%\}", re.DOTALL)
WIDTH = re.compile(r"\{% block width %\}\w*\{% endblock %\}")
EXPRESSION = re.compile(r"\{\{.*?\}\}|\{%.*?%\}", re.DOTALL)
WORD = re.compile(r"[^\W\d_]{2,}")
READ_ALOUD = {"alt", "aria-label", "aria-description", "placeholder", "title", "content"}
# Names, not words: they read the same in every language.
NOT_TRANSLATED = {"coursekit"}


class Texts(HTMLParser):
    """Collects what a person would read: text, and attributes that are read aloud."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.silent = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.silent = tag in {"script", "style"}
        if tag != "meta":
            self.found += [value or "" for name, value in attrs if name in READ_ALOUD]

    def handle_endtag(self, _tag: str) -> None:
        self.silent = False

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.found.append(data)


def _bare_texts(source: str) -> list[str]:
    """Return the texts that stand in a template outside gettext."""
    for pattern in (COMMENT, TRANSLATED, WIDTH, EXPRESSION):
        source = pattern.sub(" ", source)
    texts = Texts()
    texts.feed(source)
    words = [WORD.findall(text) for text in texts.found]
    return [" ".join(found) for found in words if set(found) - NOT_TRANSLATED]


@pytest.mark.parametrize("path", template_files(), ids=name_of)
class TestEachTemplate:
    def test_compiles(self, app: Flask, path: Path) -> None:
        name = path.relative_to(TEMPLATES).as_posix()

        assert app.jinja_env.get_template(name).name == name

    def test_has_no_inline_script_or_style_and_trusts_no_text(self, path: Path) -> None:
        assert INLINE.findall(COMMENT.sub("", path.read_text("utf-8"))) == []

    def test_links_only_to_endpoints_that_exist(self, app: Flask, path: Path) -> None:
        tree = app.jinja_env.parse(path.read_text("utf-8"))
        calls = [
            call.args[0].value
            for call in tree.find_all(nodes.Call)
            if isinstance(call.node, nodes.Name)
            and call.node.name == "url_for"
            and isinstance(call.args[0], nodes.Const)
        ]

        assert set(calls) - set(app.view_functions) == set()

    def test_says_everything_through_gettext(self, path: Path) -> None:
        assert _bare_texts(path.read_text("utf-8")) == []


@pytest.mark.parametrize("path", PAGES, ids=name_of)
def test_each_page_names_the_question_that_it_answers(app: Flask, path: Path) -> None:
    tree = app.jinja_env.parse(path.read_text("utf-8"))

    assert "title" in {block.name for block in tree.find_all(nodes.Block)}


def test_an_undefined_name_in_a_template_is_an_error(app: Flask) -> None:
    assert app.jinja_env.undefined is StrictUndefined


def test_finds_a_text_that_is_not_translated() -> None:
    assert _bare_texts("<p>{{ _('Kit') }} is due</p>") == ["is due"]
    assert _bare_texts('<img alt="Plan" src="plan.svg">') == ["Plan"]
    assert _bare_texts("<p>{% trans %}Kit{% endtrans %}: {{ n }} <b>x</b></p>") == []
