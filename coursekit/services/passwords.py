"""Hashes of passwords and codes, and the tokens of signed-in devices."""

from __future__ import annotations

import hashlib
import secrets

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerifyMismatchError

# OWASP Password Storage Cheat Sheet: Argon2id with 19 MiB, two passes, one lane.
# The library's default takes 64 MiB: thirty sign-ins at once would take 2 GB.
_HASHER = PasswordHasher(time_cost=2, memory_cost=19_456, parallelism=1)
# What an unknown name is checked against, so that it takes as long as a known one.
_NOBODY = _HASHER.hash(secrets.token_hex())
# No I, L, O or U: nothing to misread on a board or a phone.
CODE_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_MISREAD = str.maketrans("ILO", "110")


def hashed(secret: str) -> str:
    """Return the salted hash of a password or code."""
    return _HASHER.hash(secret)


def matches(secret: str, kept: str | None) -> bool:
    """Whether a password or code is the one kept; as slow where nothing is kept."""
    try:
        _HASHER.verify(kept or _NOBODY, secret)
    except (VerifyMismatchError, InvalidHashError):
        return False
    return kept is not None


def new_token() -> str:
    """Return a token of 256 random bits."""
    return secrets.token_urlsafe(32)


def token_hash(token: str) -> str:
    """Return what is kept of a token; it is random enough to need no salt."""
    return hashlib.sha256(token.encode()).hexdigest()


def new_code(length: int = 8) -> str:
    """Return a code to be read aloud and typed, five random bits a letter."""
    return "".join(secrets.choice(CODE_LETTERS) for _ in range(length))


def code_as_typed(text: str) -> str:
    """Return a code as it was meant: no spaces or hyphens, upper case, I as 1, O as 0.

    >>> code_as_typed(" k7td-4wqm ")
    'K7TD4WQM'
    >>> code_as_typed("KLTD 4WOM")
    'K1TD4W0M'
    """
    kept = "".join(text.split()).replace("-", "").upper()
    return kept.translate(_MISREAD)
