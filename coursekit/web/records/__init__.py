"""Records of assessment and certificates, and the page where anybody checks a code."""

from coursekit.web.records.urls import blueprint

__all__ = ["blueprint"]
