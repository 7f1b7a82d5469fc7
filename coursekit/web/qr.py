"""An address as a code that the camera of a phone opens."""

from __future__ import annotations

from io import BytesIO

import segno

QUIET = 4
"""Modules left white around the code, as ISO/IEC 18004 asks."""


def qr_svg(address: str) -> bytes:
    """Return the code as an SVG file, dark on white in any colour scheme.

    >>> qr_svg("http://192.0.2.7:8000/join/ABCD2345").startswith(b"<svg ")
    True
    """
    file = BytesIO()
    _code(address).save(
        file, kind="svg", xmldecl=False, border=QUIET, dark="#000", light="#fff", omitsize=True
    )
    return file.getvalue()


def qr_png(address: str) -> bytes:
    r"""Return the code as a PNG file, for a sheet that is printed.

    >>> qr_png("http://192.0.2.7:8000/C/0")[:4]
    b'\x89PNG'
    """
    file = BytesIO()
    _code(address).save(file, kind="png", border=QUIET, scale=8)
    return file.getvalue()


def _code(address: str) -> segno.QRCode:
    return segno.make(address, error="m", micro=False)
