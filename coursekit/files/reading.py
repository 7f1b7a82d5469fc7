"""The text of a file that a person names: bounded, and UTF-8 or refused."""

from __future__ import annotations

from pathlib import Path

from coursekit.problems import Problem, Problems, Where

LARGEST = 256 * 1024
"""Bytes of a file; a long scenario has a tenth of it."""

WHOLE_FILE = "file"
"""The field of a problem that concerns no single field."""


class Unreadable(Problems):
    """A file that can't be read at all, so that nothing can be said of its fields."""


def unreadable(file: str, what: str, mend: str, line: int | None = None) -> Unreadable:
    """Return the error of a file that can't be read."""
    return Unreadable([Problem(Where(WHOLE_FILE, line, file), what, mend)])


def read_text(path: Path) -> str:
    """Return the text of a file, or raise why it can't be read."""
    return text_of(read_bytes(path, LARGEST), str(path))


def read_bytes(path: Path, largest: int) -> bytes:
    """Return the bytes of a file that has `largest` of them at most, or raise why not."""
    name = str(path)
    try:
        with path.open("rb") as file:
            data = file.read(largest + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "this is no name of a file"
        raise unreadable(name, f"It can't be read: {reason}", "Look at the path") from None
    return bounded(data, largest=largest, name=name)


def sent_text(data: bytes, name: str) -> str:
    """Return the text of a file that a browser sent, or raise why it can't be read."""
    return text_of(bounded(data, largest=LARGEST, name=name), name)


def bounded(data: bytes, *, largest: int, name: str) -> bytes:
    """Return bytes that are `largest` at most, or raise that the file is larger."""
    if len(data) > largest:
        raise unreadable(
            name, f"It is larger than {largest // 1024} kB", "Name a file of the format, no other"
        )
    return data


def text_of(data: bytes, name: str) -> str:
    """Return bytes as UTF-8 text, or raise why they are none; `name` is that of their file."""
    if b"\x00" in data:
        raise unreadable(name, "It is a binary file", "Name a text file")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise unreadable(
            name, "It is not UTF-8 text", "Save it as UTF-8 in your editor", line
        ) from None
