"""The storekeeper's area: what may go out, each item's life, what was retired."""

from coursekit.web.kit.urls import blueprint

__all__ = ["blueprint"]
