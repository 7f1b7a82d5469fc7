"""What all parts of a document share: known keys only, and no value that is no number."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Spec(BaseModel):
    """A mapping of a document, key by key."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, allow_inf_nan=False, arbitrary_types_allowed=True
    )
