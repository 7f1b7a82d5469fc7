"""The code of a certificate: long enough not to be guessed, and told when it is mistyped.

Fifteen signs of five bits each from an alphabet without look-alikes, and a check sign.
The alphabet is that of Crockford's Base32 (no I, L, O, U); the check sign is that of
ISO/IEC 7064, MOD 37,36, which finds every single wrong sign and nearly every swap.
"""

from __future__ import annotations

import re

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
SIGNS, BITS = 15, 75
"""Signs of a code without its check, and the bits of chance that they hold."""
GROUP = 4

_VALUES = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_SMALLER, _LARGER = 36, 37
_READ_AS = str.maketrans({"O": "0", "I": "1", "L": "1"})
_BETWEEN = re.compile(r"[\s\-.]+")


def code_of(chance: int) -> str | None:
    """Return the code of 75 bits of chance; None where its check sign is a look-alike.

    Whoever makes one draws again then: one in nine is lost.

    Examples
    --------
    >>> code_of(0), code_of(1)
    ('000000000000000N', None)
    """
    signs = "".join(ALPHABET[chance >> 5 * place & 31] for place in reversed(range(SIGNS)))
    check = check_sign(signs)
    return f"{signs}{check}" if check in ALPHABET else None


def check_sign(signs: str) -> str:
    """Return the check sign of ISO/IEC 7064, MOD 37,36.

    Examples
    --------
    >>> check_sign("A12425GABC1234002")
    'M'
    """
    rest = _SMALLER
    for sign in signs:
        rest = (rest + _VALUES.index(sign)) % _SMALLER or _SMALLER
        rest = rest * 2 % _LARGER
    return _VALUES[(_LARGER - rest) % _SMALLER]


def read_code(typed: str) -> str | None:
    """Return a code as it was typed or read aloud, None if it can be none.

    Case, spaces and dashes do not count; O is read as 0, I and L as 1.

    Examples
    --------
    >>> read_code("oooo-oooo oooo-ooon"), read_code("0000 0000 0000 0003")
    ('000000000000000N', None)
    """
    signs = _BETWEEN.sub("", typed.upper()).translate(_READ_AS)
    if len(signs) != SIGNS + 1 or set(signs) - set(ALPHABET):
        return None
    return signs if check_sign(signs[:-1]) == signs[-1] else None


def grouped(code: str) -> str:
    """Return a code as it is printed, in groups of four.

    >>> grouped("000000000000000N")
    '0000-0000-0000-000N'
    """
    return "-".join(code[place : place + GROUP] for place in range(0, len(code), GROUP))
