"""The area of the school's head: its people, and the rules that it sets."""

from coursekit.web.school.urls import blueprint

__all__ = ["blueprint"]
