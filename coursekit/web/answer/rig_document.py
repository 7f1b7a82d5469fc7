"""A filled rig form as the rig document of the formats, and each place of it back again.

Blank slots are left out; so the second entry of a list may stand in the third
row.  `Written.row_of` keeps where each part was typed, so that a problem of the
document lands beside the control that caused it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from coursekit.web.fields import QuantityField

Path = tuple[str | int, ...]

NEEDED = frozenset({"method", "from", "made_of", "at", "by"})


@dataclass
class Written:
    """A rig document, the path on the form of every path in it, and what was left blank."""

    document: dict[str, Any] = field(default_factory=dict)
    row_of: dict[Path, Path] = field(default_factory=dict)
    blanks: list[Path] = field(default_factory=list)

    def control(self, dotted: str) -> Path:
        """Return the path on the form for a problem's field, or for its nearest known parent.

        >>> Written(row_of={("lines", 0, "to"): ("pull", "to")}).control("lines.0.to.at")
        ('pull', 'to')
        """
        path = tuple(int(step) if step.isdigit() else step for step in dotted.split("."))
        while path and path not in self.row_of:
            path = path[:-1]
        return self.row_of.get(path, ())


def write(form: Any) -> Written:
    """Return the document of what stands on the form."""
    written = Written()
    document = written.document
    method = form.method.data or ""
    _put(written, document, ("method",), ("method",), method)
    lines = [_line(written, form, "pull", 0)]
    if is_used(form.hold.data):
        lines.append({"role": "hold"} | _line(written, form, "hold", 1))
    document["lines"] = lines
    written.row_of[("lines",)] = ("pull", "made_of")
    if method == "kinetic":
        _put(written, document, ("speed",), ("speed",), _quantity(form.speed))
        _put(written, document, ("drive",), ("drive",), _quantity(form.drive))
    return written


def _line(written: Written, form: Any, name: str, index: int) -> dict[str, Any]:
    line = getattr(form, name).form
    here: Path = ("lines", index)
    written.row_of[here] = (name, "start")
    document: dict[str, Any] = {}
    _put(written, document, (*here, "from"), (name, "start"), line.start.data)
    made_of = _filled(line.made_of.data)
    _put(written, document, (*here, "made_of"), (name, "made_of", 0), [part for _, part in made_of])
    for entry, (row, _part) in enumerate(made_of):
        written.row_of[(*here, "made_of", entry)] = (name, "made_of", row)
    pieces = _pieces(written, line.start_pieces, (*here, "with"), (name, "start_pieces"))
    _put(written, document, (*here, "with"), (name, "start_pieces"), pieces)
    pulleys = _pulleys(written, line.pulleys, here, name)
    _put(written, document, (*here, "pulleys"), (name, "pulleys"), pulleys)
    document["to"] = _end(written, line, here, name)
    _put(written, document, (*here, "dampers"), (name, "dampers"), line.dampers.data)
    return document


def _end(written: Written, line: Any, here: Path, name: str) -> dict[str, Any]:
    end: dict[str, Any] = {}
    written.row_of[(*here, "to")] = (name, "to")
    _put(written, end, (*here, "to", "at"), (name, "to"), line.to.data)
    pieces = _pieces(written, line.to_pieces, (*here, "to", "with"), (name, "to_pieces"))
    _put(written, end, (*here, "to", "with"), (name, "to_pieces"), pieces)
    return end


def _pulleys(written: Written, pulleys: Any, here: Path, name: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for row, entry in enumerate(pulleys.entries):
        if not is_used(entry.data):
            continue
        path, control = (*here, "pulleys", len(found)), (name, "pulleys", row)
        document: dict[str, Any] = {}
        written.row_of[path] = (*control, "at")
        _put(written, document, (*path, "at"), (*control, "at"), entry.form.at.data)
        _put(written, document, (*path, "by"), (*control, "by"), entry.form.by.data)
        pieces = _pieces(written, entry.form.pieces, (*path, "with"), (*control, "pieces"))
        _put(written, document, (*path, "with"), (*control, "pieces"), pieces)
        found.append(document)
    return found


def _pieces(written: Written, pieces: Any, path: Path, control: Path) -> list[Any]:
    found: list[Any] = []
    for row, entry in enumerate(pieces.entries):
        if not entry.form.item.data:
            continue
        here, there = (*path, len(found)), (*control, row)
        for key in ("item", "hitch", "angle"):
            written.row_of[(*here, key)] = (*there, key)
        written.row_of[here] = (*there, "item")
        found.append(_piece(entry.form))
    return found


def _piece(form: Any) -> Any:
    """Return a piece: its name alone where it hangs straight."""
    hitch = form.hitch.data or "straight"
    angle = _quantity(form.angle)
    if hitch == "straight" and not angle:
        return form.item.data
    return {"item": form.item.data, "hitch": hitch} | ({"angle": angle} if angle else {})


def _quantity(typed: QuantityField) -> str:
    """Return a quantity as documents write it: with a decimal point and its unit."""
    if typed.quantity is None:
        return ""
    return f"{typed.quantity.magnitude:f} {typed.quantity.unit}"


def _put(written: Written, document: dict[str, Any], path: Path, control: Path, value: Any) -> None:
    """Put a value that is not blank, and remember its control either way."""
    written.row_of[path] = control
    if value:
        document[str(path[-1])] = value
    elif path[-1] in NEEDED:
        written.blanks.append(control)


def _filled(values: Sequence[str | None]) -> list[tuple[int, str]]:
    return [(row, value) for row, value in enumerate(values) if value]


def is_used(data: Any) -> bool:
    """Whether anything but a preset hitch was chosen in a part of the form."""
    if isinstance(data, Mapping):
        return any(is_used(value) for key, value in data.items() if key != "hitch")
    if isinstance(data, list):
        return any(is_used(value) for value in data)
    return bool(data)
