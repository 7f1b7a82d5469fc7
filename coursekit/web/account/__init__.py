"""Who somebody is: setting up, joining, signing in and out, the own password."""

from coursekit.web.account.urls import blueprint

__all__ = ["blueprint"]
