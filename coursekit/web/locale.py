"""Which language and which way of writing numbers a person gets."""

from __future__ import annotations

from flask import request

from coursekit.web.identity import person

LANGUAGES = ("en",)


def choose() -> str | None:
    """Return the school's locale for the signed-in, else the browser's best known one."""
    found = person()
    if found is not None:
        return found.school.locale
    return request.accept_languages.best_match(LANGUAGES)
