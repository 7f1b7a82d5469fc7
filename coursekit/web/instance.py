"""The secret key, kept in the instance folder."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

KEY_FILE = "secret-key"
KEY_BYTES = 32


def secret_key(folder: Path) -> str:
    """Return the key that signs cookies; the first start makes it, for its owner's eyes only."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / KEY_FILE
    if not path.exists():
        _publish(path, secrets.token_hex(KEY_BYTES))
    return path.read_text(encoding="ascii").strip()


def _publish(path: Path, key: str) -> None:
    """Write the key whole or not at all: several workers may start at once."""
    draft = path.with_name(f".{path.name}-{secrets.token_hex(8)}")
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        file.write(key)
    try:
        os.link(draft, path)
    except FileExistsError:
        pass  # another worker was first, and its key counts
    finally:
        draft.unlink()
