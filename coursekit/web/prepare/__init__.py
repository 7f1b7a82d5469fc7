"""The instructor's scenarios: what each asks, whether it holds, how it is worked out."""

from coursekit.web.prepare.urls import blueprint

__all__ = ["blueprint"]
