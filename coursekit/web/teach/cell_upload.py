"""What stays of an uploaded cell file between its dry run and the log, signed by the server.

The page carries it in a hidden field, so that nobody has to choose the file twice and
nothing is kept here of a pull that is never logged.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields, replace
from typing import Any

import numpy as np
from flask import current_app
from itsdangerous import BadSignature, URLSafeSerializer

from coursekit.files.load_cell import CellFile
from coursekit.mechanics.trace import ForceTrace
from coursekit.services.measuring import reading_of
from coursekit.wear.measured import CellReading

# So many points of the chart look like all of them on a page.
POINTS = 240


@dataclass(frozen=True)
class CellUpload:
    """A file that was read: its reading, the shape for its chart, what is to be told of it.

    `read_as` is the unit and the zero that were chosen for it, `seen` a mark of the pull
    whose dry run was shown.
    """

    reading: CellReading
    times: tuple[float, ...]
    forces: tuple[float, ...]
    rest: float | None
    drifts: bool
    gaps: int
    longest_gap: float
    gap_line: int
    read_as: tuple[str, str]
    seen: str = ""

    @property
    def trace(self) -> ForceTrace:
        """The force over time, thinned."""
        return ForceTrace(np.array(self.times), np.array(self.forces))

    def sealed(self, seen: str) -> str:
        """Return it as a text that only this server can have made."""
        return str(_serializer().dumps(asdict(replace(self, seen=seen))))


def upload_of(file: CellFile, read_as: tuple[str, str]) -> CellUpload:
    """Return what stays of a file that was read with a unit and a zero of one's choice."""
    thin = file.trace.thinned(POINTS)
    longest = max(file.gaps, key=lambda gap: gap.lasted, default=None)
    return CellUpload(
        reading=reading_of(file),
        times=tuple(round(float(time), 5) for time in thin.times),
        forces=tuple(round(float(force), 1) for force in thin.forces),
        rest=file.rest,
        drifts=file.has_drift,
        gaps=len(file.gaps),
        longest_gap=longest.lasted if longest else 0.0,
        gap_line=longest.line if longest else 0,
        read_as=read_as,
    )


def opened(sealed: str) -> CellUpload | None:
    """Return what a page carried, None for nothing and for what this server did not make.

    What an earlier version of the app sealed, in another shape, is no file either.
    """
    try:
        kept = _serializer().loads(sealed)
    except BadSignature:
        return None
    rows = {name: tuple(kept[name]) for name in ("times", "forces", "read_as")}
    return CellUpload(**{**kept, **rows, "reading": CellReading(**kept["reading"])})


def mark_of(choices: Mapping[str, Any]) -> str:
    """Return a mark of what was chosen, to tell whether it is what the dry run showed."""
    text = json.dumps(choices, sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def _serializer() -> URLSafeSerializer:
    return URLSafeSerializer(str(current_app.secret_key), SALT)


def _salt() -> str:
    """Return a salt that names what is sealed, so that a page of another shape opens nothing."""
    kept = (field.name for of in (CellUpload, CellReading) for field in fields(of))
    return f"load-cell {' '.join(kept)}"


SALT = _salt()
