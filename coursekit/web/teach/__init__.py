"""The instructor's area: classes, class now, papers, hold points, pulls."""

from coursekit.web.teach.urls import blueprint

__all__ = ["blueprint"]
