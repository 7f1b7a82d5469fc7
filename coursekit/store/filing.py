"""Files that people hand in, kept on disk by what they hold, school by school.

The name of a file is the SHA-256 of its bytes, so nothing that a person typed becomes a
path, and the same bytes are kept once.  A file is there before the row that tells of it
is committed: what is left over by a transaction that fails harms nobody.
"""

from __future__ import annotations

import hashlib
import os
import secrets
from pathlib import Path

FOLDER = "files"
_OWN_FOLDER, _OWN_FILE = 0o700, 0o600


class Filing:
    """The folder of all schools' files; it is made when the first one comes."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def keep(self, school_id: int, data: bytes) -> str:
        """Write bytes whole or not at all, and return their digest."""
        digest = hashlib.sha256(data).hexdigest()
        if self.read(school_id, digest) is None:
            path = self._path(school_id, digest)
            path.parent.mkdir(mode=_OWN_FOLDER, parents=True, exist_ok=True)
            _publish(path, data)
        return digest

    def read(self, school_id: int, digest: str) -> bytes | None:
        """Return the bytes of a digest, None where they are gone or are others by now."""
        try:
            data = self._path(school_id, digest).read_bytes()
        except FileNotFoundError:
            return None
        return data if hashlib.sha256(data).hexdigest() == digest else None

    def forget(self, school_id: int, digest: str) -> None:
        """Delete the bytes of a digest, if they are there."""
        self._path(school_id, digest).unlink(missing_ok=True)

    def _path(self, school_id: int, digest: str) -> Path:
        return self._folder / str(school_id) / digest[:2] / digest


def _publish(path: Path, data: bytes) -> None:
    """Put a whole file in its place and see that it outlives a power cut."""
    draft = path.with_name(f".{path.name}-{secrets.token_hex(8)}")
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, _OWN_FILE)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":  # elsewhere a folder can't be opened, and needs no such call
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
