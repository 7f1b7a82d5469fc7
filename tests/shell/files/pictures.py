"""Pictures made for tests, some of them meant ill."""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image
from PIL.ExifTags import GPS, IFD, Base

PDF = b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog >>\nendobj\nstartxref\n0\n%%EOF\n"
SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
HTML = b"<!doctype html><script>alert(document.cookie)</script>"
GIF = b"GIF89a" + bytes([1, 0, 1, 0, 128, 0, 0, 0, 0, 0, 255, 255, 255, 44]) + bytes(20)


def picture(
    form: str = "JPEG", size: tuple[int, int] = (64, 48), mode: str = "RGB", **saved: object
) -> bytes:
    """A picture whose left half is red and whose right half is blue."""
    image = Image.new(mode, size, "blue")
    image.paste(Image.new(mode, (size[0] // 2, size[1]), "red"), (0, 0))
    buffer = io.BytesIO()
    image.save(buffer, form, **saved)
    return buffer.getvalue()


def located(orientation: int = 1, size: tuple[int, int] = (64, 48)) -> bytes:
    """A photo that tells where and with what it was taken, and in a comment by whom."""
    exif = Image.Exif()
    exif[Base.Orientation] = orientation
    exif[Base.Make] = "Invented Camera Works"
    exif.get_ifd(IFD.GPSInfo)[GPS.GPSLatitudeRef] = "N"
    exif.get_ifd(IFD.GPSInfo)[GPS.GPSLatitude] = (51.0, 30.0, 26.0)
    return picture(size=size, exif=exif, comment=b"taken by Ana Lim", quality=95)


def giant(width: int, height: int) -> bytes:
    """A PNG of a few bytes that claims to be so large."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    row = zlib.compress(bytes(1000))
    chunks = ((b"IHDR", head), (b"IDAT", row), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in chunks
    )


def opened(data: bytes) -> Image.Image:
    """Return the picture of some bytes, its pixels read."""
    image = Image.open(io.BytesIO(data))
    image.load()
    return image
