"""What a student does: read the brief, answer task by task, hand in, read the marks."""

from coursekit.web.answer.urls import blueprint

__all__ = ["blueprint"]
